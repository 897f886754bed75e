/** The house as upright prisms and lines in metres, storey by storey: what a drawing in three dimensions shows. */

import type { Job, Opening, Storey, Wall } from "../job/types";
import { add, along, direction, dot, lengthOf, scaled, sub, type Point } from "../maths/geometry";
import { drawnLine, jambs, thicknessOf, type Constructions } from "../plan/storey";

export type Point3 = [number, number, number];
export type Upright = [low_m: number, high_m: number] | null;
/**
 * A footprint turning left, from a low to a high level above the storey's own floor. `uprights`: from where to where
 * its vertical edges are drawn, corner by corner; pieces of one wall show no seams.
 */
export type Prism = { corners: Point[]; low_m: number; high_m: number; solid: boolean; uprights: Upright[] };
export type Cable = { id: string; known: boolean; stops: { storey: string; at: Point3 }[] }; // heights over the storey's floor
export type Mark = { id: string; name: string; storey: string; at: Point3; planned: boolean };
export type Floor = {
  storey: Storey;
  prisms: Prism[];
  rooms: Point[][];
  voids: Point[][];
  bounds: [number, number, number, number];
};
export type Shape = { floors: Floor[]; cables: Cable[]; marks: Mark[] };
export type Planned = { id: string; name: string; storey: string; position: Point; height_m: number };

const OUTLET_M = 0.14;
const BOX_M = 0.3;
const TOUCH_M = 0.02;

/** Everything that stands, storeys from the lowest up; walls are cut at `cut_m` above each floor. */
export function shapeOf(job: Job, known: Constructions, cut_m: number, planned: readonly Planned[]): Shape {
  const storeys = [...job.house.storeys].sort((a, b) => a.elevation_m - b.elevation_m);
  const marks: Mark[] = [
    ...job.boxes.map((box) => ({
      id: box.id,
      name: box.name,
      storey: box.storey,
      at: [...box.position, box.height_m] as Point3,
      planned: false,
    })),
    ...job.house.meeting_points.map((one) => ({
      id: one.id,
      name: one.name,
      storey: one.storey,
      at: [...one.position, one.height_m] as Point3,
      planned: false,
    })),
    ...planned.map((one) => ({
      id: one.id,
      name: one.name,
      storey: one.storey,
      at: [...one.position, one.height_m] as Point3,
      planned: true,
    })),
  ];
  return {
    floors: storeys.flatMap((storey) => floorOf(job, storey, known, cut_m, marks) ?? []),
    cables: job.house.runs.flatMap((run) => cableOf(job, run.id, storeys) ?? []),
    marks,
  };
}

function floorOf(job: Job, storey: Storey, known: Constructions, cut_m: number, marks: readonly Mark[]): Floor | null {
  const walls = job.house.walls.filter((wall) => wall.storey === storey.id);
  const rooms = job.house.rooms.filter((room) => room.storey === storey.id).map((room) => room.polygon);
  const points = [...rooms.flat(), ...walls.flatMap((wall) => [wall.start, wall.end])];
  if (!points.length) return null;
  const prisms = walls.flatMap((wall) => wallPrisms(wall, walls, job.house.openings, storey, known));
  for (const body of job.house.bodies.filter((one) => one.storey === storey.id)) {
    const [x, y] = body.corner;
    const far: Point = [x + body.width_m, y + body.depth_m];
    const all: Upright = [0, body.height_m];
    prisms.push({
      corners: [[x, y], [far[0], y], far, [x, far[1]]],
      low_m: 0,
      high_m: body.height_m,
      solid: false,
      uprights: [all, all, all, all],
    });
  }
  const cut = prisms
    .filter((one) => one.low_m < cut_m)
    .map((one) => ({
      ...one,
      high_m: Math.min(one.high_m, cut_m),
      uprights: one.uprights.map((edge): Upright =>
        edge && edge[0] < cut_m ? [edge[0], Math.min(edge[1], cut_m)] : null,
      ),
    }));
  for (const outlet of job.house.outlets) {
    if (outlet.storey === storey.id && outlet.position)
      cut.push(block(outlet.position, outlet.height_m, OUTLET_M, false));
  }
  for (const mark of marks)
    if (mark.storey === storey.id) cut.push(block([mark.at[0], mark.at[1]], mark.at[2], BOX_M, mark.planned));
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const around = 0.3; // half a thick wall
  return {
    storey,
    prisms: cut,
    rooms,
    voids: storey.floor.voids,
    bounds: [Math.min(...xs) - around, Math.min(...ys) - around, Math.max(...xs) + around, Math.max(...ys) + around],
  };
}

/** A wall as pieces between its openings, below their sills and above their heads. */
export function wallPrisms(
  wall: Wall,
  walls: readonly Wall[],
  openings: readonly Opening[],
  storey: Storey,
  known: Constructions,
): Prism[] {
  const grown = drawnLine(wall, walls, known);
  const start = abuts(wall, wall.start, walls) ? wall.start : grown.start;
  const end = abuts(wall, wall.end, walls) ? wall.end : grown.end;
  const d = direction(wall);
  const half = scaled([-d[1], d[0]], thicknessOf(wall, known) / 2);
  const top_m = wall.base_m + (wall.height_m ?? storey.height_m - wall.base_m);
  const before_m = lengthOf({ start, end: wall.start });
  const full_m = lengthOf({ start, end });
  const all: Upright = [wall.base_m, top_m];
  const holes = openings
    .filter((one) => one.wall === wall.id)
    .map((one) => ({ one, from: lengthOf({ start: wall.start, end: jambs(one, wall).a }) + before_m }))
    .sort((a, b) => a.from - b.from);
  const pieces: Prism[] = [];
  const put = (from: number, to: number, low_m: number, high_m: number, left: Upright, right: Upright) => {
    if (to - from < 0.005 || high_m - low_m < 0.005) return;
    const [a, b] = [add(start, scaled(d, from)), add(start, scaled(d, to))];
    const corners = [sub(a, half), sub(b, half), add(b, half), add(a, half)];
    pieces.push({ corners, low_m, high_m, solid: true, uprights: [left, right, right, left] });
  };
  let at = 0;
  let left: Upright = all;
  for (const { one, from } of holes) {
    const to = Math.min(full_m, from + one.width_m);
    const jamb: Upright = [Math.max(wall.base_m, one.sill_m), Math.min(top_m, one.sill_m + one.height_m)];
    put(at, from, wall.base_m, top_m, left, jamb);
    put(Math.max(at, from), to, wall.base_m, jamb[0], null, null);
    put(Math.max(at, from), to, jamb[1], top_m, null, null);
    at = Math.max(at, to);
    left = jamb;
  }
  put(at, full_m, wall.base_m, top_m, left, all);
  return pieces;
}

/** Whether an end stops against a wall that goes on at both sides; at a corner it must fill the corner instead. */
function abuts(wall: Wall, end: Point, walls: readonly Wall[]): boolean {
  const away: Point[] = []; // directions in which others leave from here
  for (const other of walls) {
    if (other === wall) continue;
    const { at_m, off_m } = along(other, end);
    if (off_m > TOUCH_M) continue;
    const d = direction(other);
    if (at_m < lengthOf(other) - TOUCH_M) away.push(d);
    if (at_m > TOUCH_M) away.push(scaled(d, -1));
  }
  return away.some((a, i) => away.slice(i + 1).some((b) => dot(a, b) < -0.98));
}

function block(at: Point, middle_m: number, size_m: number, diamond: boolean): Prism {
  const r = size_m / 2;
  const corners: Point[] = diamond
    ? [
        [r, 0],
        [0, r],
        [-r, 0],
        [0, -r],
      ].map(([x, y]) => [at[0] + 1.3 * x!, at[1] + 1.3 * y!])
    : [
        [-r, -r],
        [r, -r],
        [r, r],
        [-r, r],
      ].map(([x, y]) => [at[0] + x!, at[1] + y!]);
  const [low_m, high_m] = [Math.max(0, middle_m - r), middle_m + r];
  return { corners, low_m, high_m, solid: true, uprights: corners.map((): Upright => [low_m, high_m]) };
}

/** Its noted route; else a straight line from end to end, which says only what belongs together. */
function cableOf(job: Job, id: string, storeys: readonly Storey[]): Cable | null {
  const run = job.house.runs.find((one) => one.id === id)!;
  if (run.route.length > 1) {
    const stops = run.route.map(([x, y, z]) => {
      const storey = [...storeys].reverse().find((one) => one.elevation_m <= z + 0.01) ?? storeys[0]!;
      return { storey: storey.id, at: [x, y, z - storey.elevation_m] as Point3 };
    });
    return { id, known: true, stops };
  }
  const stops = run.ends.flatMap((end) => {
    const at =
      job.house.outlets.find((one) => one.id === end) ?? job.house.meeting_points.find((one) => one.id === end);
    return at?.position ? [{ storey: at.storey, at: [...at.position, at.height_m] as Point3 }] : [];
  });
  return stops.length > 1 ? { id, known: false, stops } : null;
}
