/** Lengths as a tape takes them: along a wall's centre line, or between the inside faces of the walls at its ends. */

import { add, along, contains, cross, direction, distance, dot, lengthOf, scaled, sub } from "../maths/geometry";
import type { Point, Segment } from "../maths/geometry";
import type { Wall } from "../job/types";
import type { Measure } from "./choices.svelte";
import { thicknessOf, type Constructions, type OnStorey } from "./storey";

const MEETS_M = 0.02; // a wall this near an end meets it
const ALIKE = 0.2; // sine of the angle below which two walls run in one line

/** The walls that meet a point and do not run along `way`. */
function crossWalls(walls: readonly Wall[], at: Point, way: Point): Wall[] {
  return walls.filter((one) => along(one, at).off_m <= MEETS_M && Math.abs(cross(way, direction(one))) > ALIKE);
}

/** Half the thickness of the thickest wall that one along `way` meets at a point; null where it meets none. */
export function halfAt(walls: readonly Wall[], at: Point, way: Point, known: Constructions): number | null {
  const met = crossWalls(walls, at, way);
  return met.length ? Math.max(...met.map((one) => thicknessOf(one, known))) / 2 : null;
}

/** What one face of a wall loses at one end: half of the wall that turns off on its side, or less than nothing
 *  where the only one turns off on the other side and the face runs on past the corner. */
function lostAt(wall: Wall, at: Point, walls: readonly Wall[], known: Constructions, side: Point): number {
  const others = walls.filter((one) => one.id !== wall.id);
  const met = crossWalls(others, at, direction(wall));
  const here = met.filter((one) => [one.start, one.end].some((end) => dot(sub(end, at), side) > MEETS_M));
  const half = (some: Wall[]) => Math.max(0, ...some.map((one) => thicknessOf(one, known))) / 2;
  if (here.length) return half(here);
  const goesOn = others.some((one) => along(one, at).off_m <= MEETS_M && !met.includes(one));
  return goesOn ? 0 : -half(met);
}

/** Sides of a wall that a room lies on, as directions across it; both where none does. */
function sidesOf(wall: Wall, on: OnStorey, known: Constructions): Point[] {
  const [x, y] = direction(wall);
  const middle = scaled(add(wall.start, wall.end), 0.5);
  const off_m = thicknessOf(wall, known) / 2 + 0.05;
  const sides: Point[] = [
    [-y, x],
    [y, -x],
  ];
  const roomy = sides.filter((side) =>
    on.rooms.some((room) => !room.outside && contains(room.polygon, add(middle, scaled(side, off_m)))),
  );
  return roomy.length ? roomy : sides;
}

/** How much longer the centre line of a standing wall is than what is measured of it, in metres. */
export function beyond(wall: Wall, on: OnStorey, known: Constructions, measure: Measure): number {
  if (measure === "centre") return 0;
  const lost = sidesOf(wall, on, known).map(
    (side) => lostAt(wall, wall.start, on.walls, known, side) + lostAt(wall, wall.end, on.walls, known, side),
  );
  return Math.max(...lost);
}

/** The length of a standing wall as it is measured; between inside faces, the shorter one where they differ. */
export function measured(wall: Wall, on: OnStorey, known: Constructions, measure: Measure): number {
  return lengthOf(wall) - beyond(wall, on, known, measure);
}

/** A corner along a wall: an end of it, or where another one ends on it. */
export function cornersOn(wall: Segment, walls: readonly Segment[]): Point[] {
  const ends = walls.flatMap((one) => [one.start, one.end]).filter((end) => along(wall, end).off_m <= MEETS_M);
  return [wall.start, wall.end, ...ends];
}

export type Start = { wall: Wall; corner: Point; way: Point; beyond_m: number };

/** From which corner a place on a wall is measured, which way, and how much of that a tape does not see; null where
 *  it lies on no wall, or in a corner. `made_m` is the thickness of the wall that starts there. */
export function startOn(on: OnStorey, p: Point, known: Constructions, measure: Measure, made_m: number): Start | null {
  const wall = on.walls.find((one) => along(one, p).off_m <= MEETS_M);
  if (!wall) return null;
  const corner = cornersOn(wall, on.walls).sort((a, b) => distance(a, p) - distance(b, p))[0]!;
  if (distance(corner, p) < MEETS_M) return null;
  const way = direction({ start: corner, end: p });
  const half = halfAt(on.walls, corner, way, known) ?? 0;
  return { wall, corner, way, beyond_m: measure === "inside" ? half + made_m / 2 : 0 };
}
