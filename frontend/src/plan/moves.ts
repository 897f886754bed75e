/** What a drag comes to, as changes of one edit. */

import {
  add,
  along,
  cross,
  crossing,
  direction,
  distance,
  dot,
  lengthOf,
  neat,
  same,
  scaled,
  sub,
  type Point,
  type Segment,
} from "../maths/geometry";
import { freshIds } from "../job/ids";
import type { Change, Job, Opening, Point3, Wall } from "../job/types";
import { storeyAt } from "./storey";

/** Walls, rooms and openings when corners move: everything that meets there follows. */
export function movedCorners(job: Job, storey: string, moves: readonly (readonly [Point, Point])[]): Change[] {
  const to = (p: Point): Point => {
    for (const [from, target] of moves) if (same(p, from)) return neat(target);
    return p;
  };
  const changes: Change[] = [];
  for (const wall of job.house.walls) {
    if (wall.storey !== storey) continue;
    const [start, end] = [to(wall.start), to(wall.end)];
    if (start === wall.start && end === wall.end) continue;
    if (distance(start, end) < 0.05) return [];
    changes.push({ do: "set", kind: "wall", id: wall.id, fields: { start, end } });
    changes.push(...keptOn(job, wall, { start, end }));
  }
  for (const room of job.house.rooms) {
    if (room.storey !== storey || !room.polygon.some((p) => to(p) !== p)) continue;
    changes.push({ do: "set", kind: "room", id: room.id, fields: { polygon: room.polygon.map(to) } });
  }
  return changes;
}

/** Openings of a wall that changes its length stay on it, and where they were on the sheet if they can. */
function keptOn(job: Job, before: Wall, after: { start: Point; end: Point }): Change[] {
  const long = lengthOf(after);
  const changes: Change[] = [];
  for (const opening of job.house.openings) {
    if (opening.wall !== before.id) continue;
    const was = add(before.start, scaled(direction(before), opening.offset_m));
    const wide = Math.min(opening.width_m, Math.floor(long * 1000) / 1000);
    const offset = Math.round(Math.max(0, Math.min(along(after, was).at_m, long - wide)) * 1000) / 1000;
    const fields = {
      ...(wide < opening.width_m ? { width_m: wide } : {}),
      ...(offset !== opening.offset_m ? { offset_m: offset } : {}),
    };
    if (Object.keys(fields).length) changes.push({ do: "set", kind: "opening", id: opening.id, fields });
  }
  return changes;
}

/** A wall moved sideways, with the corners and the walls that end on it. */
export function movedWall(job: Job, wall: Wall, by: Point): Change[] {
  const d = direction(wall);
  const side: Point = [-d[1], d[0]];
  const joined = job.house.walls.some(
    (other) =>
      other.id !== wall.id &&
      other.storey === wall.storey &&
      [other.start, other.end].some((p) => along(wall, p).off_m < 0.02),
  );
  const shift = joined ? scaled(side, dot(by, side)) : by;
  const moves: [Point, Point][] = [];
  const note = (p: Point) => {
    if (!moves.some(([from]) => same(from, p))) moves.push([p, add(p, shift)]);
  };
  [wall.start, wall.end].forEach(note);
  for (const other of job.house.walls) {
    if (other.storey !== wall.storey || other.id === wall.id) continue;
    for (const end of [other.start, other.end]) if (along(wall, end).off_m < 0.02) note(end);
  }
  for (const room of job.house.rooms) {
    if (room.storey === wall.storey) for (const p of room.polygon) if (along(wall, p).off_m < 0.02) note(p);
  }
  return movedCorners(job, wall.storey, moves);
}

/** An opening slid along its wall, kept on it and clear of the others. */
export function slid(job: Job, opening: Opening, toOffset_m: number): Change[] {
  const wall = job.house.walls.find((one) => one.id === opening.wall);
  if (!wall) return [];
  const room = lengthOf(wall) - opening.width_m;
  const offset = Math.round(Math.max(0, Math.min(toOffset_m, room)) * 1000) / 1000;
  const clash = job.house.openings.some(
    (other) =>
      other.wall === opening.wall &&
      other.id !== opening.id &&
      offset < other.offset_m + other.width_m - 1e-6 &&
      other.offset_m < offset + opening.width_m - 1e-6,
  );
  return clash ? [] : [{ do: "set", kind: "opening", id: opening.id, fields: { offset_m: offset } }];
}

/** A new wall, and the walls it meets cut in two where it crosses them; none where one stands already. */
export function drawnWall(
  job: Job,
  storey: string,
  start: Point,
  end: Point,
  construction: string,
  mark: string,
): Change[] {
  if (distance(start, end) < 0.05) return [];
  const line = { start, end };
  const stops: Point[] = [start, end];
  const changes: Change[] = [];
  const alike: Wall[] = [];
  for (const other of job.house.walls) {
    if (other.storey !== storey) continue;
    if (inOneLine(line, other)) {
      alike.push(other);
      stops.push(...[other.start, other.end].filter((p) => along(line, p).off_m < STANDS_M));
    }
    const hit = crossing(line, other);
    if (!hit) continue;
    if (!same(hit, start) && !same(hit, end)) stops.push(neat(hit));
    if (!same(hit, other.start) && !same(hit, other.end)) {
      const cut = splitWall(job, other, along(other, hit).at_m, mark);
      changes.push(...cut);
    }
  }
  const ordered = stops.sort((a, b) => along(line, a).at_m - along(line, b).at_m);
  let drawn = false;
  for (let i = 0; i + 1 < ordered.length; i++) {
    const [a, b] = [ordered[i]!, ordered[i + 1]!];
    const middle = scaled(add(a, b), 0.5);
    if (same(a, b) || alike.some((other) => along(other, middle).off_m < STANDS_M)) continue;
    drawn = true;
    const [id] = freshIds(job, "wall", mark);
    changes.push({ do: "put", kind: "wall", entity: { id: id!, storey, start: a, end: b, construction } });
  }
  return drawn ? changes : [];
}

const STANDS_M = 0.005; // of a wall's centre line: what lies nearer stands there

function inOneLine(a: Segment, b: Segment): boolean {
  const way = direction(a);
  return [b.start, b.end].every((p) => Math.abs(cross(way, sub(p, a.start))) < STANDS_M);
}

/** One wall cut in two; its openings stay where they are. None where an opening is in the way. */
export function splitWall(job: Job, wall: Wall, at_m: number, mark: string): Change[] {
  const long = lengthOf(wall);
  if (at_m < 0.05 || at_m > long - 0.05) return [];
  const openings = job.house.openings.filter((one) => one.wall === wall.id);
  if (openings.some((one) => one.offset_m < at_m - 1e-6 && one.offset_m + one.width_m > at_m + 1e-6)) return [];
  const cut = neat(add(wall.start, scaled(direction(wall), at_m)));
  const [id] = freshIds(job, "wall", mark);
  const changes: Change[] = [{ do: "put", kind: "wall", entity: { ...wall, id: id!, start: cut, end: wall.end } }];
  for (const opening of openings) {
    if (opening.offset_m + 1e-6 < at_m) continue;
    const offset_m = Math.max(0, Math.round((opening.offset_m - at_m) * 1000) / 1000);
    changes.push({ do: "set", kind: "opening", id: opening.id, fields: { wall: id!, offset_m } });
  }
  changes.push({ do: "set", kind: "wall", id: wall.id, fields: { end: cut } });
  return changes;
}

/** Two walls in one line that meet end to end, made one; none where there is no such neighbour. */
export function joinedWall(job: Job, wall: Wall): Change[] {
  for (const other of job.house.walls) {
    if (other.id === wall.id || other.storey !== wall.storey || other.construction !== wall.construction) continue;
    const straight =
      Math.abs(direction(wall)[0] * direction(other)[1] - direction(wall)[1] * direction(other)[0]) < 1e-3;
    if (!straight) continue;
    const meets = [wall.start, wall.end].find((p) => same(p, other.start) || same(p, other.end));
    if (!meets) continue;
    const far = same(meets, other.start) ? other.end : other.start;
    const atStart = same(meets, wall.start);
    const line = atStart ? { start: far, end: wall.end } : { start: wall.start, end: far };
    const grown = atStart ? lengthOf(other) : 0;
    const changes: Change[] = [{ do: "set", kind: "wall", id: wall.id, fields: line }];
    for (const opening of job.house.openings) {
      const own = opening.wall === wall.id;
      if (!own && opening.wall !== other.id) continue;
      const holder = own ? wall : other;
      const d = direction(holder);
      const ends = [opening.offset_m, opening.offset_m + opening.width_m].map(
        (at) => along(line, add(holder.start, scaled(d, at))).at_m,
      );
      const offset_m = Math.round(Math.min(...ends) * 1000) / 1000;
      const hand = dot(d, direction(line)) < 0 ? handFromBehind(opening) : {};
      if (!own || grown)
        changes.push({ do: "set", kind: "opening", id: opening.id, fields: { wall: wall.id, offset_m, ...hand } });
    }
    changes.push({ do: "drop", kind: "wall", id: other.id });
    return changes;
  }
  return [];
}

const OTHER: Record<string, string> = { near: "far", far: "near", left: "right", right: "left", unknown: "unknown" };

/** How a door hangs and opens, said from the other end of its wall. */
function handFromBehind({ hinge, swing }: Opening): Record<string, string> {
  return hinge && swing ? { hinge: OTHER[hinge]!, swing: OTHER[swing]! } : {};
}

/** Everything on a storey moved by the same step, to stand over the storey below. */
export function shiftedStorey(job: Job, storey: string, by: Point): Change[] {
  const to = (p: Point): Point => neat(add(p, by));
  const changes: Change[] = [];
  for (const one of job.house.walls)
    if (one.storey === storey)
      changes.push({ do: "set", kind: "wall", id: one.id, fields: { start: to(one.start), end: to(one.end) } });
  for (const one of job.house.rooms)
    if (one.storey === storey)
      changes.push({ do: "set", kind: "room", id: one.id, fields: { polygon: one.polygon.map(to) } });
  for (const one of job.house.bodies)
    if (one.storey === storey)
      changes.push({ do: "set", kind: "body", id: one.id, fields: { corner: to(one.corner) } });
  for (const one of job.house.outlets)
    if (one.storey === storey && one.position)
      changes.push({ do: "set", kind: "outlet", id: one.id, fields: { position: to(one.position) } });
  for (const one of job.house.meeting_points)
    if (one.storey === storey)
      changes.push({ do: "set", kind: "meeting_point", id: one.id, fields: { position: to(one.position) } });
  for (const one of job.boxes)
    if (one.storey === storey)
      changes.push({ do: "set", kind: "box", id: one.id, fields: { position: to(one.position) } });
  for (const one of job.readings)
    if (one.storey === storey && one.position)
      changes.push({ do: "set", kind: "reading", id: one.id, fields: { position: to(one.position) } });
  for (const one of job.house.runs) {
    const route = one.route.map((stop): Point3 =>
      storeyAt(job, stop[2])?.id === storey ? [...to([stop[0], stop[1]]), stop[2]] : stop,
    );
    if (route.some((stop, i) => stop !== one.route[i]))
      changes.push({ do: "set", kind: "run", id: one.id, fields: { route } });
  }
  const below = job.house.storeys.find((one) => one.id === storey)?.floor;
  if (below && (below.voids.length || below.outlines.length)) {
    const [outlines, voids] = [below.outlines, below.voids].map((rings) => rings.map((ring) => ring.map(to)));
    changes.push({ do: "set", kind: "storey", id: storey, fields: { floor: { ...below, outlines, voids } } });
  }
  return changes;
}

export const shiftOf = sub;
