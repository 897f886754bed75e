/** The walls of one storey put on another: all of them, or those around the house. */

import {
  add,
  along,
  contains,
  cross,
  crossing,
  direction,
  distance,
  same,
  scaled,
  type Point,
} from "../maths/geometry";
import { facesOf } from "../maths/faces";
import { freshIds } from "../job/ids";
import type { Change, Job, Wall } from "../job/types";

export type Which = "outer" | "all";
type Piece = Pick<Wall, "start" | "end" | "construction" | "layers" | "thickness_m">;

const SIDE_M = 0.06; // off a centre line: on one side of it or the other
const MEETS_M = 0.02;

/** The changes; what stands there already is left out. */
export function copiedWalls(job: Job, from: string, to: string, which: Which, mark: string): Change[] {
  const walls = job.house.walls.filter((one) => one.storey === from);
  const there = job.house.walls.filter((one) => one.storey === to);
  const pieces = (which === "all" ? walls : outerWalls(walls)).filter(
    (piece) => !there.some((one) => [piece.start, piece.end].every((p) => along(one, p).off_m < 0.005)),
  );
  const ids = freshIds(job, "wall", mark, pieces.length);
  return pieces.map(({ start, end, construction, layers, thickness_m }, i) => ({
    do: "put",
    kind: "wall",
    entity: { id: ids[i]!, storey: to, start, end, construction, layers, thickness_m },
  }));
}

/** What has a room's space on one side alone, in pieces as long as they can be; all walls where they enclose nothing. */
export function outerWalls(walls: readonly Wall[]): Piece[] {
  const faces = facesOf(walls);
  if (!faces.length) return [...walls];
  const inside = (p: Point) => faces.some((face) => contains(face, p));
  const pieces: Piece[] = [];
  for (const wall of walls) {
    const stops = stopsOn(wall, walls);
    const [x, y] = direction(wall);
    for (let i = 0; i + 1 < stops.length; i++) {
      const [start, end] = [stops[i]!, stops[i + 1]!];
      const middle = scaled(add(start, end), 0.5);
      const [left, right] = [SIDE_M, -SIDE_M].map((off) => inside(add(middle, scaled([-y, x], off))));
      if (left !== right) joined(pieces, { ...wall, start, end });
    }
  }
  return pieces;
}

/** Both ends of a wall and where others meet it, in order. */
function stopsOn(wall: Wall, walls: readonly Wall[]): Point[] {
  const stops = [wall.start, wall.end];
  for (const other of walls) {
    if (other.id === wall.id) continue;
    const hit = crossing(wall, other);
    if (hit) stops.push(hit);
    stops.push(...[other.start, other.end].filter((p) => along(wall, p).off_m < MEETS_M));
  }
  const ordered = stops.map((p) => along(wall, p)).sort((a, b) => a.at_m - b.at_m);
  return ordered.filter((one, i) => !i || one.at_m - ordered[i - 1]!.at_m > MEETS_M).map((one) => one.point);
}

/** One more piece; grown onto those in one line that it meets and that are made alike. */
function joined(pieces: Piece[], piece: Piece): void {
  for (const other of pieces) {
    if (other.construction !== piece.construction || other.thickness_m !== piece.thickness_m) continue;
    if (Math.abs(cross(direction(other), direction(piece))) > 1e-3) continue;
    const meets = [piece.start, piece.end].find((p) => same(p, other.start) || same(p, other.end));
    if (!meets) continue;
    const ends = [piece, other].map((one) => (same(one.start, meets) ? one.end : one.start));
    if (distance(ends[0]!, ends[1]!) < distance(piece.start, piece.end)) continue; // one lies over the other
    pieces.splice(pieces.indexOf(other), 1);
    return joined(pieces, { ...other, start: ends[1]!, end: ends[0]! });
  }
  pieces.push(piece);
}
