/** A plan sheet while somebody works on it: what is in hand, what is half drawn, and what a press does. */

import { applied } from "../job/apply";
import type { Change, Job } from "../job/types";
import type { Ramp } from "../maths/colour";
import { add, direction, distance, neat, scaled, sub, type Point } from "../maths/geometry";
import type { Units } from "../maths/lengths";
import type { FieldLink, Move } from "../net/field";
import type { Session } from "../net/session.svelte";
import { Chosen } from "./chosen";
import type { MapWish } from "./mapLayer";
import { drawnWall, shiftedStorey } from "./moves";
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
  typing?(first: string): void; // the length of the wall that is being drawn
  routed?(): void;
  tried?(move: Move): void; // a planned access point elsewhere
};

export class Sheet {
  readonly view = new View();
  readonly chosen: Chosen;
  picked = $state.raw<Picked | null>(null);
  wish = $state.raw<MapWish | null>(null);
  construction = $state("unknown"); // of the walls that are drawn
  draft = $state.raw<Change[]>([]); // what a drag would change
  moves = $state.raw<Move[]>([]);
  from = $state.raw<Point | null>(null); // first point of what takes two
  cursor = $state.raw<Snap | null>(null);
  crosshair = $state.raw<Point | null>(null);
  spot = $state.raw<Point | null>(null);
  dragging = $state(false);
  frozen = false; // a length is being typed: the direction stays
  paper: SVGSVGElement | null = null;
  #tool = $state<Tool>("select");
  #on: { of: unknown[]; on: OnStorey | null } | null = null;

  constructor(
    readonly laid: Laid,
    readonly heard: Heard,
    tool: Tool = "select",
  ) {
    this.#tool = tool;
    this.chosen = new Chosen(this);
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
  /** Access points of the plan on this storey, where they are tried. */
  get planned(): Planned[] {
    const tried = (id: string) => this.moves.find((move) => move.id === id)?.position;
    const here = (this.laid.planned ?? []).filter((one) => one.storey === this.laid.storey);
    return here.map((one) => ({ ...one, position: tried(one.id) ?? one.position }));
  }

  get tool(): Tool {
    return this.#tool;
  }
  set tool(next: Tool) {
    if (next === this.#tool) return;
    this.#tool = next;
    this.from = null;
    this.cursor = null;
  }

  tell(words: string): void {
    this.heard.tell(words);
  }
  focus(): void {
    this.paper?.focus();
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
    return snapped(p, walls, reach_m, this.units, tool === "wall" ? this.from : null);
  }
  hover(p: Point, reach_m: number): void {
    if (this.frozen) return;
    this.cursor = ["wall", "scale", "align", "route"].includes(this.tool) ? this.snapAt(p, reach_m) : null;
  }

  /** The end of the wall that is being drawn, by its length along the present direction. */
  typedLength(metres: number): void {
    const { from, cursor } = this;
    if (!from || !cursor) return;
    this.frozen = false;
    const way: Point = distance(from, cursor.point) > 1e-6 ? direction({ start: from, end: cursor.point }) : [1, 0];
    this.press({ point: neat(add(from, scaled(way, metres))), to: "step", guides: [] });
  }

  /** A press with the tool in hand. */
  press(at: Snap, reach_m = 16 / this.view.scale): void {
    const { tool, on } = this;
    if (!on) return;
    this.frozen = false;
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
      const ground = { job: this.session.job!, on, mark, known, alone: this.session.alone, reach_m };
      this.#took(placed(tool, ground, p));
    } else if (tool === "select") this.chosen.pick(under(on, p, reach_m, this.laid.known, this.picked));
  }

  #wall(at: Snap): void {
    const { from } = this;
    this.from = at.point;
    if (!from) return;
    const changes = drawnWall(this.session.job!, this.laid.storey, from, at.point, this.construction, this.laid.mark);
    if (!changes.length) return;
    this.session.submit(say("page_plan.draw_a_wall"), changes);
    if (at.to === "corner") this.from = null;
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

  #took(made: Placed): void {
    if (typeof made === "string") return this.tell(made);
    this.session.submit(made.label, made.changes);
    this.picked = made.picked;
    if (made.done) this.tool = "select";
  }
}
