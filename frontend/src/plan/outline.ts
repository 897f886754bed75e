/** A room's outline, corner by corner; what would be no outline is refused with a sentence. */

import { add, along, areaOf, crossing, distance, neat, scaled, type Point } from "../maths/geometry";
import type { Units } from "../maths/lengths";
import type { Change, Room } from "../job/types";
import { snapped } from "./snap";
import type { OnStorey } from "./storey";

const TOUCH_M = 0.01;
const LEAST_M2 = 0.01;

/** Corners, or why they are no outline. */
export type Outline = Point[] | string;

export function middleOf(polygon: readonly Point[], edge: number): Point {
  return neat(scaled(add(polygon[edge]!, polygon[(edge + 1) % polygon.length]!), 0.5));
}

export function movedCorner(polygon: readonly Point[], corner: number, to: Point): Outline {
  return checked(polygon.map((p, i) => (i === corner ? neat(to) : p)));
}

/** One more corner on an edge, at its middle or elsewhere. */
export function addedCorner(polygon: readonly Point[], edge: number, at: Point = middleOf(polygon, edge)): Outline {
  return checked([...polygon.slice(0, edge + 1), neat(at), ...polygon.slice(edge + 1)]);
}

export function withoutCorner(polygon: readonly Point[], corner: number): Outline {
  if (polygon.length <= 3) return "A room has three corners at least. Delete the room itself, or move the corner.";
  return checked(polygon.filter((_, i) => i !== corner));
}

/** The outline while a corner, or the middle of an edge, is dragged: it snaps to walls and to other rooms. */
export function draggedOutline(
  on: OnStorey,
  room: Room,
  hit: { vertex?: number; edge?: number },
  p: Point,
  reach_m: number,
  units: Units,
): Outline {
  const others = on.rooms.filter((one) => one.id !== room.id).flatMap((one) => edgesOf(one.polygon));
  const at = snapped(p, [...on.walls, ...others], reach_m, units).point;
  return hit.vertex === undefined
    ? addedCorner(room.polygon, hit.edge!, at)
    : movedCorner(room.polygon, hit.vertex, at);
}

export function outlined(room: Room, polygon: Point[]): Change[] {
  return [{ do: "set", kind: "room", id: room.id, fields: { polygon } }];
}

const edgesOf = (polygon: readonly Point[]) =>
  polygon.map((start, i) => ({ start, end: polygon[(i + 1) % polygon.length]! }));

function checked(polygon: Point[]): Outline {
  const edges = edgesOf(polygon);
  const n = polygon.length;
  if (edges.some(({ start, end }) => distance(start, end) < TOUCH_M)) return "Two corners cannot be in one place.";
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      if (j === i || j === (i + n - 1) % n) continue; // the edges that end at corner i
      if (along(edges[j]!, polygon[i]!).off_m < TOUCH_M) return "The outline would touch itself there.";
      const apart = (j + 1) % n !== i && (i + 1) % n !== j;
      if (apart && crossing(edges[i]!, edges[j]!)) return "The outline would cross itself there.";
    }
  }
  return Math.abs(areaOf(polygon)) < LEAST_M2 ? "The room would have no area." : polygon;
}
