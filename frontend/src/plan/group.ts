/** Several things chosen at once: framed, moved, taken away, made of something, each as one edit. */

import { add, along, direction, dot, neat, type Point } from "../maths/geometry";
import type { Change, Job, Kind } from "../job/types";
import { movedCorners, slid } from "./moves";
import { jambs, type OnStorey, type Picked } from "./storey";

const MEETS_M = 0.02;

export const isIn = (group: readonly Picked[], { kind, id }: Picked): boolean =>
  group.some((one) => one.kind === kind && one.id === id);

/** Everything that lies wholly within a frame between two corners. Cables are chosen one by one. */
export function framed(on: OnStorey, a: Point, b: Point): Picked[] {
  const within = (p: Point | null): boolean =>
    p !== null && [0, 1].every((i) => p[i]! >= Math.min(a[i]!, b[i]!) && p[i]! <= Math.max(a[i]!, b[i]!));
  const found: Picked[] = [];
  const take = <T extends { id: string }>(
    kind: Picked["kind"],
    things: readonly T[],
    points: (one: T) => (Point | null)[],
  ) => found.push(...things.filter((one) => points(one).every(within)).map(({ id }) => ({ kind, id })));
  const walls = new Map(on.walls.map((wall) => [wall.id, wall]));
  take("wall", on.walls, (one) => [one.start, one.end]);
  take("opening", on.openings, (one) => Object.values(jambs(one, walls.get(one.wall)!)));
  take("room", on.rooms, (one) => one.polygon);
  take("body", on.bodies, (one) => [one.corner, add(one.corner, [one.width_m, one.depth_m])]);
  take("outlet", on.outlets, (one) => [one.position]);
  take("meeting_point", on.meetings, (one) => [one.position]);
  take("box", on.boxes, (one) => [one.position]);
  take("reading", on.readings, (one) => [one.position]);
  return found;
}

/** All of them moved by one step; what meets the walls follows, openings ride on theirs. */
export function movedGroup(job: Job, on: OnStorey, group: readonly Picked[], by: Point): Change[] {
  const rooms = on.rooms.filter((one) => isIn(group, { kind: "room", id: one.id }));
  const walls = on.walls.filter((one) => isIn(group, { kind: "wall", id: one.id }));
  const corners = [...on.walls.flatMap((one) => [one.start, one.end]), ...on.rooms.flatMap((one) => one.polygon)];
  const moving = corners.filter((p) => walls.some((wall) => along(wall, p).off_m < MEETS_M));
  const whole = new Set(rooms.map((one) => one.id));
  const changes = movedCorners(
    job,
    on.storey.id,
    moving.map((p) => [p, add(p, by)] as const),
  ).filter((change) => !(change.kind === "room" && change.do === "set" && whole.has(change.id)));
  if (walls.length && !changes.length) return [];
  const set = (kind: Kind, id: string, fields: Record<string, unknown>) =>
    changes.push({ do: "set", kind, id, fields });
  for (const one of rooms) set("room", one.id, { polygon: one.polygon.map((p) => neat(add(p, by))) });
  for (const one of group) {
    if (one.kind === "opening") {
      const opening = on.openings.find(({ id }) => id === one.id);
      const wall = on.walls.find(({ id }) => id === opening?.wall);
      if (opening && wall && !walls.includes(wall))
        changes.push(...slid(job, opening, opening.offset_m + dot(by, direction(wall))));
    } else if (one.kind === "body") {
      const body = on.bodies.find(({ id }) => id === one.id);
      if (body) set("body", one.id, { corner: neat(add(body.corner, by)) });
    } else {
      const placed = [...on.outlets, ...on.meetings, ...on.boxes, ...on.readings].find(({ id }) => id === one.id);
      if (placed?.position) set(one.kind as Kind, one.id, { position: neat(add(placed.position, by)) });
    }
  }
  return changes;
}

/** All of them off the sheet; of a cable only its route goes, and a wall takes its openings along. */
export function droppedGroup(on: OnStorey, group: readonly Picked[]): Change[] {
  const alone = group.filter(({ kind, id }) => {
    const wall = kind === "opening" ? on.openings.find((one) => one.id === id)?.wall : undefined;
    return wall === undefined || !isIn(group, { kind: "wall", id: wall });
  });
  return alone.map(({ kind, id }) =>
    kind === "run" ? { do: "set", kind, id, fields: { route: [] } } : { do: "drop", kind: kind as Kind, id },
  );
}

/** All chosen walls made of one thing. */
export function madeOf(group: readonly Picked[], construction: string): Change[] {
  return group
    .filter((one) => one.kind === "wall")
    .map(({ id }) => ({ do: "set", kind: "wall", id, fields: { construction } }));
}
