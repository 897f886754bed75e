/** A plan sheet while somebody works on it: what is in hand, what is half drawn, and what a press does. */

import { applied } from "../job/apply";
import type { Change, Job, Wall } from "../job/types";
import type { Ramp } from "../maths/colour";
import { direction, distance, sub, type Point } from "../maths/geometry";
import { formatLength, type Units } from "../maths/lengths";
import type { FieldLink, Move, Raster } from "../net/field";
import type { Session } from "../net/session.svelte";
import { Chain, startAt, startOf, type Ground, type Step } from "./chain";
import { Choices } from "./choices.svelte";
import { Chosen } from "./chosen";
import { figuresOf, needsOf, ratesOf, type Figures } from "./figures";
import type { MapWish } from "./mapLayer";
import { shiftedStorey } from "./moves";
import { under } from "./picking";
import { isPlacing, placed, type Placed } from "./placing";
import { snapped, type Snap } from "./snap";
import { boundsOfStorey, onStorey, withMoved } from "./storey";
import type { Constructions, Moved, OnStorey, Picked } from "./storey";
import type { Tool } from "./tools";
import type { Trail } from "./trail.svelte";
import { View } from "./view.svelte";
import { say } from "../words/say";

export type Planned = { id: string; name: string; storey: string; position: Point };
export type Underlay = {
  url: string;
  x_m: number;
  y_m: number;
  width_m: number;
  height_m: number;
  turn_deg: number;
};

/** What the page lays on a sheet. Getters, so that a sheet follows what they read. */
export type Laid = {
  readonly session: Session;
  readonly mark: string; // of this device, in the ids of new things
  readonly storey: string;
  readonly known: Constructions;
  readonly keys: string; // of the tools that may be taken up
  readonly field: FieldLink;
  readonly ramp: Ramp | null;
  readonly trail?: Trail; // of a cable's route
  readonly below?: string | null; // the storey to show faintly
  readonly choices?: Choices; // how somebody draws
  readonly underlay?: Underlay | null;
  readonly planned?: readonly Planned[];
  readonly moved?: Moved | null;
  readonly cables?: boolean;
};

/** What a page is told. */
export type Heard = {
  tell(words: string): void;
  spot(at: Point, moves: Move[]): void;
  measured?(a: Point, b: Point): void;
  shifted?(by: Point, done: boolean): void; // the picture under the sheet
  routed?(): void;
  tried?(move: Move): void; // a planned access point elsewhere
};

/** What is typed at a place of the sheet: how long the wall is that is drawn or chosen, or where the first one starts. */
export type Typing = { what: "length" | "start" | "chosen"; first: string };

const STILL_PX = 12; // from the last corner: the pointer has not said yet which way

export class Sheet {
  readonly view = new View();
  readonly chosen: Chosen;
  readonly chain = new Chain();
  readonly choices: Choices;
  #picked = $state.raw<Picked | null>(null);
  group = $state.raw<readonly Picked[]>([]); // where several things are chosen; `picked` is none of them
  frame = $state.raw<[Point, Point] | null>(null); // drawn around what is to be chosen
  wish = $state.raw<MapWish | null>(null);
  construction = $state("unknown"); // of the walls that are drawn
  draft = $state.raw<Change[]>([]); // what a drag would change
  moves = $state.raw<Move[]>([]);
  from = $state.raw<Point | null>(null); // first point of what takes two
  cursor = $state.raw<Snap | null>(null);
  crosshair = $state.raw<Point | null>(null);
  spot = $state.raw<Point | null>(null);
  rooms = $state.raw<Raster["rooms"] | null>(null); // what the map on the sheet says of them
  typing = $state.raw<Typing | null>(null); // while it is, the direction stays
  naming = $state.raw<{ room: string; at: Point } | null>(null); // the room that is named where it was pressed
  #dragging = $state(false);
  #stood: ReadonlyMap<string, number> | null = null; // what they got before something was dragged
  #paper: SVGSVGElement | null = null;
  #awaited = false; // the focus, until there is paper
  #tool = $state<Tool>("select");
  #on: { of: unknown[]; on: OnStorey | null } | null = null;

  constructor(
    readonly laid: Laid,
    readonly heard: Heard,
    tool: Tool = "select",
  ) {
    this.#tool = tool;
    this.chosen = new Chosen(this);
    this.choices = laid.choices ?? new Choices();
  }

  get session(): Session {
    return this.laid.session;
  }
  get units(): Units {
    return this.session.job!.units;
  }
  /** The job with what is half dragged. */
  get job(): Job {
    return this.draft.length ? applied(this.session.job!, this.draft) : this.session.job!;
  }
  /** What stands on its storey: the same object while that stays, whatever else of the job is edited. */
  get on(): OnStorey | null {
    const { job } = this;
    const { moved, storey } = this.laid;
    const of = [job.house, job.boxes, job.readings, moved, storey];
    if (!this.#on || of.some((part, i) => part !== this.#on!.of[i]))
      this.#on = { of, on: onStorey(moved ? withMoved(job, moved) : job, storey) };
    return this.#on.on;
  }
  get dragging(): boolean {
    return this.#dragging;
  }
  set dragging(now: boolean) {
    if (now && !this.#dragging && !this.moves.length)
      this.#stood = this.rooms && new Map(Object.entries(this.rooms).map(([room, row]) => [room, row[1]]));
    this.#dragging = now;
  }
  /** What each room gets by the map on the sheet: while something is dragged or tried, beside what it got before. */
  get figures(): Figures | null {
    const { wish, rooms, session } = this;
    if (!wish || !rooms) return null;
    const up = wish.quantity.startsWith("up");
    const plan = session.result;
    const before = wish.boxes === "plan" && plan ? ratesOf(plan.before, up) : new Map<string, number>();
    const was = (this.#dragging || this.moves.length) && this.#stood ? this.#stood : before;
    return figuresOf(rooms, was, needsOf(plan?.before ?? [], up));
  }
  /** Access points of the plan on this storey, where they are tried. */
  get planned(): Planned[] {
    const tried = (id: string) => this.moves.find((move) => move.id === id)?.position;
    const here = (this.laid.planned ?? []).filter((one) => one.storey === this.laid.storey);
    return here.map((one) => ({ ...one, position: tried(one.id) ?? one.position }));
  }

  get picked(): Picked | null {
    return this.#picked;
  }
  set picked(one: Picked | null) {
    this.#picked = one;
    this.group = [];
  }

  get tool(): Tool {
    return this.#tool;
  }
  set tool(next: Tool) {
    if (next === this.#tool) return;
    this.#tool = next;
    this.leave();
  }
  /** What is half drawn or typed is let go. */
  leave(): void {
    this.from = null;
    this.cursor = null;
    this.typing = null;
    this.naming = null;
    this.chain.begin();
  }

  get paper(): SVGSVGElement | null {
    return this.#paper;
  }
  set paper(paper: SVGSVGElement | null) {
    this.#paper = paper;
    if (paper && this.#awaited) this.focus();
  }

  tell(words: string): void {
    this.heard.tell(words);
  }
  /** Keys go to the sheet, as soon as it is there. */
  focus(): void {
    this.#awaited = !this.#paper;
    this.#paper?.focus();
  }
  /** Show all of it. */
  fit(): void {
    const { on } = this;
    this.view.fit(on ? boundsOfStorey(on) : null);
  }
  /** Ask for the map of what stands and what is tried. */
  want(at_ms = performance.now(), changes: Change[] = this.draft, moves: Move[] = this.moves): void {
    const { field, storey } = this.laid;
    if (this.wish) field.map({ storey, ...this.wish, changes, moves }, at_ms);
  }
  /** Access points that were tried elsewhere stand again where the plan has them. */
  putBack(): void {
    this.moves = [];
    this.want();
  }

  /** Where a point wants to be, with the tool in hand. */
  snapAt(p: Point, reach_m: number): Snap {
    const { tool, on } = this;
    if (tool === "route" && this.laid.trail && on) return this.laid.trail.snap(on, p, reach_m, this.units);
    const walls = tool === "wall" || tool === "scale" ? (on?.walls ?? []) : [];
    const faint = tool === "wall" ? this.faint : [];
    return snapped(p, [...walls, ...faint], reach_m, this.units, tool === "wall" ? this.from : null);
  }
  /** Walls of the storey below, where they are shown. */
  get faint(): Wall[] {
    const { below } = this.laid;
    return below ? this.job.house.walls.filter((wall) => wall.storey === below) : [];
  }
  hover(p: Point, reach_m: number): void {
    if (this.typing) return;
    this.cursor = ["wall", "scale", "align", "route"].includes(this.tool) ? this.snapAt(p, reach_m) : null;
  }

  /** What a digit would type now. */
  get typable(): Typing["what"] | null {
    const { tool, from, cursor, picked } = this;
    if (tool === "select") return picked?.kind === "wall" ? "chosen" : null;
    if (tool !== "wall" || !cursor) return null;
    const still_m = this.crosshair ? 0.01 : STILL_PX / this.view.scale;
    if (from && distance(from, cursor.point) > still_m) return "length";
    return this.start ? "start" : this.way ? "length" : null;
  }
  /** Where along a wall the next chain starts, or the one that has just been begun there. */
  get start() {
    const at = this.from ?? this.cursor?.point;
    const began = this.tool === "wall" && !this.chain.going;
    return at && began && this.on ? startOf(this.#ground(), at) : null;
  }
  /** The way of the wall that is being drawn; null where nothing says it yet. */
  get way(): Point | null {
    const { from, cursor } = this;
    return from && cursor && distance(from, cursor.point) > 1e-6 ? direction({ start: from, end: cursor.point }) : null;
  }
  /** How long it is, as it is measured. */
  get drawn_m(): number {
    const { from, cursor, way } = this;
    if (!from || !cursor || !way || !this.on) return 0;
    const beyond_m = this.tool === "wall" ? this.chain.beyond_m(this.#ground(), from, way) : 0;
    return Math.max(0, distance(from, cursor.point) - beyond_m);
  }

  /** The end of the wall that is being drawn, by its length along the present direction. */
  typedLength(metres: number): void {
    const { from, way } = this;
    this.typing = null;
    if (!from) return;
    if (!way) return this.tell(say("page_plan.point_which_way_first"));
    this.#drew(this.chain.typed(this.#ground(), from, way, metres));
  }
  /** Where the chain starts, by how far it is from the nearest corner of that wall. */
  typedStart(metres: number): void {
    const { start } = this;
    this.typing = null;
    if (!start) return;
    const at = startAt(start, metres);
    if (at) this.#begin({ point: at, to: "wall", guides: [] });
    else this.tell(say("page_plan.the_wall_is_shorter_than_that"));
  }

  /** A press with the tool in hand. */
  press(at: Snap, reach_m = 16 / this.view.scale): void {
    const { tool, on } = this;
    if (!on) return;
    this.typing = null;
    this.naming = null;
    this.cursor = at;
    const p = at.point;
    if (tool === "wall") this.#wall(at);
    else if (tool === "scale" || tool === "align") this.#pair(tool, p);
    else if (tool === "probe") {
      this.spot = p;
      this.heard.spot(p, this.moves);
    } else if (tool === "route") this.#route(on, p);
    else if (isPlacing(tool)) {
      const { mark, known } = this.laid;
      const { choices } = this;
      const ground = { job: this.session.job!, on, mark, known, alone: this.session.alone, reach_m, choices };
      this.#took(placed(tool, ground, p), p);
    } else if (tool === "select") this.chosen.pick(under(on, p, reach_m, this.laid.known, this.picked));
  }

  #wall(at: Snap): void {
    if (this.from) this.#drew(this.chain.pressed(this.#ground(), this.from, at.point));
    else this.#begin(at);
  }

  #begin(at: Snap): void {
    this.chain.begin();
    this.from = at.point;
    this.cursor = at;
    this.#follow(at.point);
  }

  /** One wall more; at a corner that stands the chain ends. */
  #drew(step: Step | null): void {
    if (!step) return;
    const { changes, end, closed, left_m } = step;
    if (changes.length) this.session.submit(say("page_plan.draw_a_wall"), changes);
    else this.tell(say("page_plan.a_wall_stands_there_already"));
    if (left_m > 0.002) this.tell(say("page_plan.closed_with_left_over", { length: this.#small(left_m) }));
    this.from = closed ? null : end;
    this.cursor = { point: end, to: closed ? "corner" : "step", guides: [] };
    this.#follow(end);
  }

  /** The keyboard's mark goes along, where it is in use: the next arrow starts from there. */
  #follow(p: Point): void {
    if (this.crosshair) this.crosshair = p;
  }

  #small(metres: number): string {
    return this.units === "metric" ? `${Math.round(metres * 1000)} mm` : formatLength(metres, this.units);
  }

  #ground(): Ground {
    const { known, mark } = this.laid;
    const { construction, choices } = this;
    return { job: this.session.job!, on: this.on!, known, measure: choices.measure, construction, mark };
  }

  #pair(tool: "scale" | "align", p: Point): void {
    const { from } = this;
    if (!from) {
      this.from = p;
      this.tell(
        tool === "align" ? say("page_plan.now_press_the_same_corner_or") : say("page_plan.now_press_the_other_end_of"),
      );
      return;
    }
    this.from = null;
    if (tool === "scale") this.heard.measured?.(from, p);
    else {
      this.session.submit(
        say("page_plan.align_a_storey"),
        shiftedStorey(this.session.job!, this.laid.storey, sub(p, from)),
      );
      this.tool = "select";
    }
  }

  #route(on: OnStorey, p: Point): void {
    const { trail } = this.laid;
    if (!trail) return;
    if (!trail.run) this.tell(say("page_plan.choose_the_cable_first_beside_the"));
    else if (!trail.press(on, p)) this.heard.routed?.();
  }

  #took(made: Placed, at: Point): void {
    if (typeof made === "string") return this.tell(made);
    this.session.submit(made.label, made.changes);
    this.picked = made.picked;
    if (made.done) this.tool = "select";
    if (made.picked.kind === "room") this.naming = { room: made.picked.id, at };
  }
}
