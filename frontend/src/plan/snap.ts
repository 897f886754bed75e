/** Where a drawn point wants to be: a corner, a wall, in line with either, or the next whole step. */

import {
  along,
  crossing,
  direction,
  distance,
  add,
  scaled,
  neat,
  sub,
  dot,
  type Point,
  type Segment,
} from "../maths/geometry";
import { INCH_M, type Units } from "../maths/lengths";
import type { Wall } from "../job/types";

export type Snap = { point: Point; to: "corner" | "wall" | "line" | "step"; guides: [Point, Point][] };

const ANGLES = 8; // directions of a wall that is being drawn: every 45 degrees

export function stepOf(units: Units): number {
  return units === "imperial" ? INCH_M : 0.05;
}

export function snapped(
  p: Point,
  walls: readonly Segment[],
  reach_m: number,
  units: Units,
  from: Point | null = null,
): Snap {
  const corners = walls.flatMap((wall) => [wall.start, wall.end]);
  let near: Point | null = null;
  for (const corner of corners)
    if (distance(corner, p) < Math.min(reach_m, near ? distance(near, p) : Infinity)) near = corner;
  if (near) return { point: near, to: "corner", guides: [] };

  if (from) {
    const ray = alongRay(from, p, reach_m);
    if (ray) {
      for (const wall of walls) {
        const hit = crossing({ start: from, end: add(from, scaled(ray.way, ray.long + reach_m)) }, wall);
        if (hit && distance(hit, ray.point) < reach_m && distance(hit, from) > 0.05)
          return { point: neat(hit), to: "wall", guides: [] };
      }
      for (const corner of corners) {
        const long = dot(sub(corner, from), ray.way);
        const inLine = add(from, scaled(ray.way, long));
        if (
          distance(inLine, ray.point) < reach_m / 2 &&
          (Math.abs(inLine[0] - corner[0]) < 1e-6 || Math.abs(inLine[1] - corner[1]) < 1e-6)
        )
          return { point: neat(inLine), to: "line", guides: [[corner, inLine]] };
      }
      const step = stepOf(units);
      const long = Math.round(ray.long / step) * step;
      return { point: neat(add(from, scaled(ray.way, long))), to: "step", guides: [] };
    }
  }
  for (const wall of walls) {
    const found = along(wall, p);
    if (found.off_m < reach_m) return { point: neat(found.point), to: "wall", guides: [] };
  }
  return inLineWith(p, corners, reach_m / 2, stepOf(units));
}

function alongRay(from: Point, p: Point, reach_m: number): { way: Point; long: number; point: Point } | null {
  const long = distance(from, p);
  if (long < 0.02) return null;
  const turn =
    (Math.round((Math.atan2(p[1] - from[1], p[0] - from[0]) / (2 * Math.PI)) * ANGLES) / ANGLES) * 2 * Math.PI;
  const way: Point = [Math.round(Math.cos(turn) * 1e9) / 1e9, Math.round(Math.sin(turn) * 1e9) / 1e9];
  const on = dot(sub(p, from), way);
  const point = add(from, scaled(way, on));
  return distance(point, p) < Math.max(reach_m, long * 0.12) ? { way, long: on, point } : null;
}

function inLineWith(p: Point, corners: readonly Point[], reach_m: number, step: number): Snap {
  const pick = (axis: 0 | 1) =>
    corners.filter((c) => Math.abs(c[axis] - p[axis]) < reach_m).sort((a, b) => distance(a, p) - distance(b, p))[0];
  const [inX, inY] = [pick(0), pick(1)];
  const round = (value: number) => Math.round(value / step) * step;
  const point = neat([inX ? inX[0] : round(p[0]), inY ? inY[1] : round(p[1])]);
  const guides: [Point, Point][] = [];
  if (inX) guides.push([inX, point]);
  if (inY) guides.push([inY, point]);
  return { point, to: guides.length ? "line" : "step", guides };
}

/** A place on a wall's face for a plate: nearest wall, a hand's breadth clear of its ends. */
export function onWallFace(p: Point, walls: readonly Wall[], half_m: (wall: Wall) => number, reach_m: number): Point {
  let best: { off: number; point: Point } | null = null;
  for (const wall of walls) {
    const found = along(wall, p);
    const half = half_m(wall);
    if (found.off_m > half + reach_m || (best && found.off_m >= best.off)) continue;
    const d = direction(wall);
    const side: Point = [-d[1], d[0]];
    const sign = dot(sub(p, wall.start), side) >= 0 ? 1 : -1;
    best = { off: found.off_m, point: neat(add(found.point, scaled(side, sign * (half + 0.02)))) };
  }
  return best?.point ?? neat(p);
}
