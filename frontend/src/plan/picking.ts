/** What lies under a pointer, nearest and smallest first. */

import { along, contains, distance, type Point } from "../maths/geometry";
import type { Wall } from "../job/types";
import { middleOf } from "./outline";
import { jambs, thicknessOf, type Constructions, type OnStorey, type Picked } from "./storey";

export type Under = Picked & { corner?: Point; edge?: number };

export function under(
  on: OnStorey,
  p: Point,
  reach_m: number,
  known: Constructions,
  picked: Picked | null,
): Under | null {
  const outline = picked?.kind === "room" ? on.rooms.find((room) => room.id === picked.id) : undefined;
  if (outline) {
    const vertex = nearest(outline.polygon, p, reach_m);
    if (vertex >= 0) return { kind: "room", id: outline.id, vertex };
    const edge = nearest(
      outline.polygon.map((_, i) => middleOf(outline.polygon, i)),
      p,
      reach_m,
    );
    if (edge >= 0) return { kind: "room", id: outline.id, edge };
  }
  const points: { kind: Picked["kind"]; id: string; at: Point }[] = [
    ...on.boxes.map((one) => ({ kind: "box" as const, id: one.id, at: one.position })),
    ...on.meetings.map((one) => ({ kind: "meeting_point" as const, id: one.id, at: one.position })),
    ...on.outlets.flatMap((one) => (one.position ? [{ kind: "outlet" as const, id: one.id, at: one.position }] : [])),
    ...on.readings.map((one) => ({ kind: "reading" as const, id: one.id, at: one.position! })),
  ];
  const near = points
    .filter((one) => distance(one.at, p) <= reach_m)
    .sort((a, b) => distance(a.at, p) - distance(b.at, p))[0];
  if (near) return { kind: near.kind, id: near.id };

  const chosen = picked?.kind === "wall" ? on.walls.find((wall) => wall.id === picked.id) : undefined;
  const corner = chosen && [chosen.start, chosen.end].find((end) => distance(end, p) <= reach_m);
  if (chosen && corner) return { kind: "wall", id: chosen.id, corner };

  const walls = new Map(on.walls.map((wall) => [wall.id, wall]));
  for (const opening of on.openings) {
    const wall = walls.get(opening.wall);
    if (!wall) continue;
    const { a, b } = jambs(opening, wall);
    if (along({ start: a, end: b }, p).off_m <= Math.max(reach_m / 2, thicknessOf(wall, known) / 2))
      return { kind: "opening", id: opening.id };
  }
  const offWall = (wall: Wall) => along(wall, p).off_m - thicknessOf(wall, known) / 2;
  const wall = on.walls.filter((one) => offWall(one) <= reach_m / 2).sort((a, b) => offWall(a) - offWall(b))[0];
  if (wall) return { kind: "wall", id: wall.id };
  const run = on.runs.find((one) =>
    one.lines.some((line) => line.slice(1).some((end, i) => along({ start: line[i]!, end }, p).off_m <= reach_m / 2)),
  );
  if (run) return { kind: "run", id: run.run.id };
  const body = on.bodies.find(
    (one) =>
      p[0] >= one.corner[0] &&
      p[0] <= one.corner[0] + one.width_m &&
      p[1] >= one.corner[1] &&
      p[1] <= one.corner[1] + one.depth_m,
  );
  if (body) return { kind: "body", id: body.id };
  const room = on.rooms.find((one) => contains(one.polygon, p));
  return room ? { kind: "room", id: room.id } : null;
}

function nearest(points: readonly Point[], p: Point, reach_m: number): number {
  let best = -1;
  points.forEach((one, i) => {
    if (distance(one, p) <= (best < 0 ? reach_m : distance(points[best]!, p))) best = i;
  });
  return best;
}
