/** A cable's route while it is drawn, press by press, over one storey or several. */

import { distance, neat, type Point } from "../maths/geometry";
import type { Units } from "../maths/lengths";
import type { Point3 } from "../job/types";
import { snapped, type Snap } from "./snap";
import type { OnStorey } from "./storey";

/** Where it was pressed, how high the cable comes there, and how high the plate is where it surfaces. */
export type Press = { at: Point; storey: string; level_m: number; end_m: number | null };

/** The way through the presses: level from one to the next, straight up or down where the height changes. */
export function wayThrough(presses: readonly Press[]): Point3[] {
  const way: Point3[] = [];
  const go = (at: Point, z_m: number) => {
    const last = way.at(-1);
    const next: Point3 = [...neat(at), Math.round(z_m * 1000) / 1000];
    if (!last || last.some((value, axis) => value !== next[axis])) way.push(next);
  };
  for (const { at, level_m, end_m } of presses) {
    const last = way.at(-1);
    if (last) go([last[0], last[1]], level_m);
    if (last || end_m === null) go(at, level_m);
    if (end_m !== null) go(at, end_m);
  }
  return way;
}

export function wayLength(way: readonly Point3[]): number {
  return way
    .slice(1)
    .reduce((sum, b, i) => sum + Math.hypot(b[0] - way[i]![0], b[1] - way[i]![1], b[2] - way[i]![2]), 0);
}

export class Trail {
  run = $state<string | null>(null);
  height_m = $state(0.3); // of the cable above the floor, between its ends
  presses = $state.raw<Press[]>([]);

  get way(): Point3[] {
    return wayThrough(this.presses);
  }

  /** Where a press would put the next point: at a plate or closet, else along the walls. */
  snap(on: OnStorey, p: Point, reach_m: number, units: Units): Snap {
    const end = endNear(on, p, reach_m);
    if (end) return { point: end.at, to: "corner", guides: [] };
    return snapped(p, on.walls, reach_m, units, this.lastOn(on.storey.id));
  }

  /** One more point; false where the last one was pressed again, which ends the route. */
  press(on: OnStorey, p: Point): boolean {
    const last = this.lastOn(on.storey.id);
    if (last && distance(last, p) < 0.02) return false;
    const end = endNear(on, p, 0.02);
    const { id: storey, elevation_m } = on.storey;
    const press = {
      at: p,
      storey,
      level_m: elevation_m + this.height_m,
      end_m: end ? elevation_m + end.height_m : null,
    };
    this.presses = [...this.presses, press];
    return true;
  }

  back(): void {
    this.presses = this.presses.slice(0, -1);
  }

  clear(): void {
    this.presses = [];
  }

  lastOn(storey: string): Point | null {
    const last = this.presses.at(-1);
    return last?.storey === storey ? last.at : null;
  }
}

function endNear(on: OnStorey, p: Point, reach_m: number): { at: Point; height_m: number } | null {
  const ends = [...on.outlets, ...on.meetings].flatMap((one) =>
    one.position ? [{ at: one.position, height_m: one.height_m }] : [],
  );
  const near = ends.filter((one) => distance(one.at, p) <= reach_m);
  return near.sort((a, b) => distance(a.at, p) - distance(b.at, p))[0] ?? null;
}
