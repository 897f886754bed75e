/** A room's outline, corner by corner; what would be no outline is refused with a sentence. */

import { add, along, areaOf, crossing, distance, neat, scaled, type Point } from "../maths/geometry";
import type { Units } from "../maths/lengths";
import type { Change, Room } from "../job/types";
import { snapped } from "./snap";
import type { OnStorey } from "./storey";
import { say } from "../words/say";

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
  if (polygon.length <= 3) return say("page_plan.a_room_has_three_corners_at");
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
  if (edges.some(({ start, end }) => distance(start, end) < TOUCH_M))
    return say("page_plan.two_corners_cannot_be_in_one");
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      if (j === i || j === (i + n - 1) % n) continue; // the edges that end at corner i
      if (along(edges[j]!, polygon[i]!).off_m < TOUCH_M) return say("page_plan.the_outline_would_touch_itself_there");
      const apart = (j + 1) % n !== i && (i + 1) % n !== j;
      if (apart && crossing(edges[i]!, edges[j]!)) return say("page_plan.the_outline_would_cross_itself_there");
    }
  }
  return Math.abs(areaOf(polygon)) < LEAST_M2 ? say("page_plan.the_room_would_have_no_area") : polygon;
}
