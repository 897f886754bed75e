/** A chain of walls while it is drawn: where it goes on, how long the tape says the next one is, where it closes. */

import { add, cross, distance, dot, neat, scaled, sub, type Point } from "../maths/geometry";
import { applied } from "../job/apply";
import type { Change, Job } from "../job/types";
import type { Measure } from "./choices.svelte";
import { drawnWall, movedCorners } from "./moves";
import { startOn, halfAt, type Start } from "./tape";
import type { Constructions, OnStorey } from "./storey";

export const CLOSES_M = 0.05; // a typed length that ends this near a corner was meant to close there

export type Ground = {
  job: Job;
  on: OnStorey;
  known: Constructions;
  measure: Measure;
  construction: string;
  mark: string;
};

/** What one wall more comes to: the edit, and how far a typed end was from the corner it closes on. */
export type Step = { changes: Change[]; end: Point; closed: boolean; left_m: number };

export class Chain {
  /** It was just closed: Escape keeps the tool once. */
  closed = false;
  #before: Point | null = null; // the corner before the one it goes on from
  #turn = 0; // of its first corner: left is more than 0
  #typed = false; // the last length was: between inside faces its end was guessed

  /** It has drawn a wall, and goes on from there. */
  get going(): boolean {
    return this.#before !== null;
  }

  begin(): void {
    this.closed = false;
    this.#before = null;
    this.#turn = 0;
    this.#typed = false;
  }

  /** How much longer the centre line of a wall from `from` that way is than its inside length. */
  beyond_m(ground: Ground, from: Point, way: Point): number {
    if (ground.measure === "centre") return 0;
    const half = thickness(ground) / 2;
    const start = halfAt(ground.on.walls, from, way, ground.known) ?? half;
    return (this.#turnsBack(from, way) ? -start : start) + half;
  }

  /** A wall from `from` to a place on the sheet; null where there is none to draw. */
  pressed(ground: Ground, from: Point, end: Point): Step | null {
    return this.#drawn(ground, from, end, [], false, 0);
  }

  /** A wall from `from` so long that way, as measured; null where there is none to draw. */
  typed(ground: Ground, from: Point, way: Point, measured_m: number): Step | null {
    const beyond_m = this.beyond_m(ground, from, way);
    const mended = this.#mended(ground, from, way);
    const start = mended?.from ?? from;
    const end = neat(add(start, scaled(way, measured_m + beyond_m)));
    const corner = nearestCorner(ground.on, end, from);
    const job = mended ? applied(ground.job, mended.changes) : ground.job;
    const left_m = corner ? distance(corner, end) : 0;
    return this.#drawn({ ...ground, job }, start, corner ?? end, mended?.changes ?? [], true, left_m);
  }

  #drawn(ground: Ground, from: Point, end: Point, first: Change[], typed: boolean, left_m: number): Step | null {
    const { job, on, construction, mark } = ground;
    const closed = nearestCorner(on, end, from, 0.005) !== null;
    const made = drawnWall(job, on.storey.id, from, end, construction, mark);
    if (!made.length && distance(from, end) < CLOSES_M) return null;
    if (this.#before && !this.#turn) this.#turn = turnOf(sub(from, this.#before), sub(end, from));
    this.#before = from;
    this.#typed = typed;
    if (closed) this.begin();
    this.closed = closed;
    return { changes: [...first, ...made], end, closed, left_m };
  }

  /** Whether this corner turns the other way than the first one: the inside face runs on past it. */
  #turnsBack(from: Point, way: Point): boolean {
    const turn = this.#before ? turnOf(sub(from, this.#before), way) : 0;
    return turn * this.#turn < 0;
  }

  /** The last wall ends a whole thickness too far where the corner now turns back: its length was taken inside. */
  #mended({ job, on, measure, ...more }: Ground, from: Point, way: Point): { from: Point; changes: Change[] } | null {
    if (measure === "centre" || !this.#typed || !this.#before || !this.#turnsBack(from, way)) return null;
    const last = sub(from, this.#before);
    const back_m = thickness({ job, on, measure, ...more });
    const to = neat(add(from, scaled(last, -back_m / distance(from, this.#before))));
    const changes = movedCorners(job, on.storey.id, [[from, to]]);
    return changes.length ? { from: to, changes } : null;
  }
}

/** Where the first corner of a chain is, so far along the wall it lies on; null where that is off the wall. */
export function startAt(start: Start, measured_m: number): Point | null {
  const at = neat(add(start.corner, scaled(start.way, measured_m + start.beyond_m)));
  const far = [start.wall.start, start.wall.end].map((end) => dot(sub(end, start.corner), start.way));
  return measured_m + start.beyond_m > Math.max(...far) ? null : at;
}

/** The same for a place that was pressed: what a tape says from the nearest corner. */
export function startOf({ on, known, measure, ...more }: Ground, p: Point): (Start & { measured_m: number }) | null {
  const found = startOn(on, p, known, measure, thickness({ on, known, measure, ...more }));
  return found && { ...found, measured_m: Math.max(0, distance(found.corner, p) - found.beyond_m) };
}

const turnOf = (a: Point, b: Point): number => {
  const turn = cross(a, b);
  return Math.abs(turn) < 1e-6 ? 0 : Math.sign(turn);
};

const thickness = ({ known, construction }: Ground): number => known.get(construction)?.thickness_m || 0.1;

function nearestCorner(on: OnStorey, p: Point, not: Point, within_m = CLOSES_M): Point | null {
  const corners = on.walls
    .flatMap((wall) => [wall.start, wall.end])
    .filter((one) => distance(one, p) <= within_m && distance(one, not) > CLOSES_M);
  return corners.sort((a, b) => distance(a, p) - distance(b, p))[0] ?? null;
}
