/** A wall made as long as was typed: its far end moves, and takes along what meets it. */

import {
  add,
  along,
  cross,
  direction,
  distance,
  dot,
  lengthOf,
  neat,
  same,
  scaled,
  sub,
  type Point,
} from "../maths/geometry";
import type { Change, Job, Wall } from "../job/types";
import { movedCorners } from "./moves";
import { say } from "../words/say";

const MEETS_M = 0.02;
const LEAST_M = 0.05;
const SAME_M = 5e-5;
const PLATE_M = 0.25; // a plate this near the line of a wall hangs on it

export type WallEnd = "start" | "end";

/** The changes, or why it cannot be. Walls that run across are moved whole, those that run along grow or shrink. */
export function stretched(job: Job, wall: Wall, length_m: number, far: WallEnd = "end"): Change[] | string {
  if (Math.abs(length_m - lengthOf(wall)) < SAME_M) return [];
  const near = far === "end" ? wall.start : wall.end;
  const way = direction({ start: near, end: wall[far] });
  const by = scaled(way, length_m - lengthOf(wall));
  const walls = job.house.walls.filter((one) => one.storey === wall.storey);
  const rooms = job.house.rooms.filter((one) => one.storey === wall.storey);
  const corners = [...walls.flatMap((one) => [one.start, one.end]), ...rooms.flatMap((room) => room.polygon)];
  const whole = takenAlong(wall, wall[far], way, walls, corners);
  const points = whole.some((p) => same(p, near)) ? [wall[far]] : whole;
  const to = (p: Point): Point => (points.some((one) => same(one, p)) ? add(p, by) : p);
  for (const one of walls) {
    const [start, end] = [to(one.start), to(one.end)];
    const turned = dot(sub(end, start), sub(one.end, one.start)) <= 0;
    if (turned || distance(start, end) < LEAST_M) return say("page_plan.no_wall_would_be_left_there");
  }
  const changes = movedCorners(
    job,
    wall.storey,
    points.map((p) => [p, add(p, by)] as const),
  );
  const moved = walls.filter((one) => one.id !== wall.id && to(one.start) !== one.start && to(one.end) !== one.end);
  for (const { id, storey, position } of job.house.outlets) {
    if (storey !== wall.storey || !position) continue;
    if (moved.some((one) => along(one, position).off_m <= PLATE_M))
      changes.push({ do: "set", kind: "outlet", id, fields: { position: neat(add(position, by)) } });
  }
  return changes;
}

/** Corners that go along with one: all those on the walls that run across there, and on what runs across those. */
function takenAlong(wall: Wall, from: Point, way: Point, walls: readonly Wall[], corners: readonly Point[]): Point[] {
  const points = [from];
  for (let i = 0; i < points.length; i++) {
    for (const one of walls) {
      if (one.id === wall.id || along(one, points[i]!).off_m > MEETS_M) continue;
      if (Math.abs(cross(way, direction(one))) < 0.02) continue;
      for (const p of corners)
        if (along(one, p).off_m <= MEETS_M && !points.some((known) => same(known, p))) points.push(p);
    }
  }
  return points;
}
