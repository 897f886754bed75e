/** What lies on the desk while a house is drawn: which storey, which panel beside it, what was said. */

import { storeyId } from "../job/ids";
import type { Storey } from "../job/types";
import { distance, type Point } from "../maths/geometry";
import { Refusal, wordsOf } from "../net/api";
import { FieldLink, type Move, type SpotAnswer } from "../net/field";
import type { Session } from "../net/session.svelte";
import { factLists } from "../parts/Facts.svelte";
import { Sheet } from "../plan/sheet.svelte";
import { fullest, stacked, type Picked } from "../plan/storey";
import { ALL_KEYS, TOOLS, type Tool } from "../plan/tools";
import { Trail } from "../plan/trail.svelte";
import { Backing } from "./backing.svelte";
import { say } from "../words/say";

export const PANELS = [
  ["things", say("page_house.panel_things")],
  ["storey", say("page_common.storey")],
  ["underlay", say("page_house.picture")],
  ["from", say("page_house.by_tape_or_file")],
] as const;
export type Panel = (typeof PANELS)[number][0];

const GAP_M = 0.3; // of a storey to the one below it, until somebody knows better
const HINTS: Partial<Record<Tool, string>> = {
  align: say("page_house.press_a_corner_or_stair_of"),
  scale: say("page_house.press_one_end_of_a_length"),
  picture: say("page_house.drag_the_picture_to_where_it"),
};

export class Desk {
  readonly field: FieldLink;
  readonly sheet: Sheet;
  readonly trail = new Trail();
  readonly backing: Backing;
  wanted = $state<string | null>(null);
  panel = $state<Panel>("things");
  showBelow = $state(false);
  words = $state(""); // in place of the tool's hint
  fault = $state("");
  typed = $state(""); // length of the wall that is being drawn
  spot = $state.raw<SpotAnswer | null>(null);
  lengthInput: HTMLInputElement | undefined;

  constructor(
    readonly session: Session,
    readonly mark: string,
  ) {
    this.field = new FieldLink(session.key);
    this.backing = new Backing(session, () => this.storey);
    this.sheet = this.#sheet();
  }

  get storeys(): Storey[] {
    return stacked(this.session.job!);
  }
  get storey(): Storey | null {
    return this.storeys.find((one) => one.id === this.wanted) ?? fullest(this.session.job!);
  }
  get below(): Storey | null {
    const { storeys, storey } = this;
    return storey ? (storeys[storeys.indexOf(storey) + 1] ?? null) : null;
  }
  get hint(): string {
    const { tool } = this.sheet;
    return this.words || HINTS[tool] || TOOLS.find((one) => one.tool === tool)?.hint || "";
  }

  addStorey(): void {
    const { session, storeys, sheet } = this;
    const top = storeys[0];
    const id = storeyId(session.job!, this.mark, session.alone);
    const elevation_m = top ? Math.round((top.elevation_m + top.height_m + GAP_M) * 1000) / 1000 : 0;
    const name = top ? say("page_house.storey_4", { id }) : say("page_house.ground_floor");
    session.submit(say("page_house.add_a_storey"), [{ do: "put", kind: "storey", entity: { id, name, elevation_m } }]);
    this.wanted = id;
    this.panel = "storey";
    sheet.tool = "wall";
  }
  goTo(storey: Storey): void {
    this.wanted = storey.id;
    this.sheet.picked = null;
  }
  pick(thing: Picked, storey = this.wanted): void {
    this.wanted = storey;
    this.sheet.picked = thing;
    this.sheet.tool = "select";
  }
  /** Work with the tool on the sheet, by keys too. */
  takeUp(tool: Tool): void {
    this.sheet.tool = tool;
    this.sheet.focus();
  }

  /** Waits for work of the server, and says why it was refused. */
  async trying(work: Promise<void>): Promise<void> {
    this.fault = "";
    try {
      await work;
    } catch (refusal) {
      this.fault = refusal instanceof Refusal ? refusal.message : String(refusal);
    }
  }

  keepRoute(): void {
    const { session, trail } = this;
    const { run, way } = trail;
    if (!run || way.length < 2) {
      this.words = say("page_house.a_route_has_two_points_at");
      return;
    }
    session.submit(say("page_house.route_of", { run }), [{ do: "set", kind: "run", id: run, fields: { route: way } }]);
    this.sheet.picked = { kind: "run", id: run };
    this.sheet.tool = "select";
  }

  async #ask(at: Point, moves: Move[]): Promise<void> {
    const { storey, sheet } = this;
    if (!storey) return;
    const answer = await this.field.spot({ boxes: sheet.wish?.boxes ?? "today", moves }, storey.id, at);
    const told = "links" in answer;
    this.spot = told ? answer : null;
    this.words = told ? "" : wordsOf(answer);
  }

  #sheet(): Sheet {
    // eslint-disable-next-line @typescript-eslint/no-this-alias -- the getters below have a `this` of their own
    const desk = this;
    const laid = {
      session: this.session,
      mark: this.mark,
      keys: ALL_KEYS,
      field: this.field,
      trail: this.trail,
      get storey() {
        return desk.storey?.id ?? "";
      },
      get known() {
        return factLists.constructions;
      },
      get ramp() {
        return factLists.ramp;
      },
      get below() {
        return desk.showBelow || desk.sheet.tool === "align" ? (desk.below?.id ?? null) : null;
      },
      get underlay() {
        return desk.backing.underlay;
      },
    };
    return new Sheet(laid, {
      tell: (words) => (this.words = words),
      spot: (at, moves) => void this.#ask(at, moves),
      routed: () => this.keepRoute(),
      typing: (first) => {
        this.typed = first;
        this.lengthInput?.focus();
      },
      measured: (a, b) => {
        this.backing.measured = { a, drawn_m: distance(a, b) };
        this.panel = "underlay";
      },
      shifted: (by, done) => {
        if (!done) this.backing.shifting = by;
        else void this.trying(this.backing.shift(by));
      },
    });
  }
}
