/** What lies on the desk while a house is drawn: which storey, which panel beside it, what was said. */

import { storeyId } from "../job/ids";
import type { Storey } from "../job/types";
import { distance, type Point } from "../maths/geometry";
import { Refusal, wordsOf } from "../net/api";
import { FieldLink, type Move, type SpotAnswer } from "../net/field";
import type { Session } from "../net/session.svelte";
import { factLists } from "../parts/Facts.svelte";
import { Choices } from "../plan/choices.svelte";
import { copiedWalls, type Which } from "../plan/copies";
import { droppedStorey } from "../plan/dropStorey";
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
const SIZES = ["width_m", "height_m", "sill_m", "construction"];
const PLATE = ["kind", "height_m"];
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
  words = $state(""); // in place of the tool's hint
  fault = $state("");
  spot = $state.raw<SpotAnswer | null>(null);
  readonly choices: Choices;

  constructor(
    readonly session: Session,
    readonly mark: string,
    storey: string | null = null, // to begin with; the fullest where there is none of that id
  ) {
    this.wanted = storey;
    this.field = new FieldLink(session.key);
    this.choices = new Choices(session.key);
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
    this.words = "";
    this.panel = "storey";
    sheet.tool = "wall";
    sheet.leave();
    sheet.focus();
  }
  /** The walls of the storey below on this one too. */
  copyWalls(which: Which): void {
    const { session, storey, below } = this;
    if (!storey || !below) return;
    const changes = copiedWalls(session.job!, below.id, storey.id, which, this.mark);
    const { name } = below;
    if (changes.length) session.submit(say("page_house.copy_the_walls_of", { name }), changes);
    else this.words = say("page_house.they_stand_here_already");
    this.sheet.focus();
  }
  /** A storey with all that stands on it, as one edit. */
  dropStorey(storey: Storey): void {
    const { changes, things } = droppedStorey(this.session.job!, storey.id);
    this.sheet.chosen.none();
    this.sheet.leave();
    this.session.submit(say("page_house.delete_storey", { name: storey.name }), changes);
    this.wanted = null;
    this.words = say("page_house.storey_is_gone_undo_brings_it_back", { name: storey.name, n: things });
  }
  goTo(storey: Storey): void {
    this.wanted = storey.id;
    this.words = "";
    this.sheet.chosen.none();
    this.sheet.leave();
  }
  /** What somebody changed of an opening or plate is what the next one will be. */
  remember(thing: Picked, fields: Record<string, unknown>): void {
    const { house } = this.session.job!;
    const opening = thing.kind === "opening" && house.openings.find((one) => one.id === thing.id);
    const plate = thing.kind === "outlet" && house.outlets.find((one) => one.id === thing.id);
    if (opening && SIZES.some((name) => name in fields)) this.choices.rememberOpening({ ...opening, ...fields });
    if (plate && PLATE.some((name) => name in fields)) this.choices.rememberPlate({ ...plate, ...fields });
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
      choices: this.choices,
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
        return desk.choices.below || desk.sheet.tool === "align" ? (desk.below?.id ?? null) : null;
      },
      get underlay() {
        return desk.backing.underlay;
      },
    };
    return new Sheet(laid, {
      tell: (words) => (this.words = words),
      spot: (at, moves) => void this.#ask(at, moves),
      routed: () => this.keepRoute(),
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
