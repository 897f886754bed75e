/** What moving the thing under a pointer, or the chosen one by a key, comes to. */

import { add, direction, neat, sub, type Point } from "../maths/geometry";
import type { Change, Job, Kind } from "../job/types";
import { movedCorners, movedWall, slid } from "./moves";
import { draggedOutline, movedCorner, outlined } from "./outline";
import type { Under } from "./picking";
import { onWallFace, snapped, stepOf } from "./snap";
import { thicknessOf, type Constructions, type OnStorey, type Picked } from "./storey";

/** A thing dragged from where it was pressed to `p`. */
export function dragged(
  job: Job,
  on: OnStorey,
  hit: Under,
  start: Point,
  p: Point,
  reach_m: number,
  known: Constructions,
): Change[] {
  const step = stepOf(job.units);
  const by = sub(p, start);
  if (hit.kind === "wall") {
    const wall = on.walls.find((one) => one.id === hit.id)!;
    if (hit.corner) {
      const others = on.walls.filter((one) => one.id !== hit.id);
      return movedCorners(job, on.storey.id, [[hit.corner, snapped(p, others, reach_m, job.units).point]]);
    }
    return movedWall(job, wall, [Math.round(by[0] / step) * step, Math.round(by[1] / step) * step]);
  }
  if (hit.kind === "opening") {
    const opening = on.openings.find((one) => one.id === hit.id)!;
    const d = direction(on.walls.find((one) => one.id === opening.wall)!);
    return slid(job, opening, Math.round((opening.offset_m + by[0] * d[0] + by[1] * d[1]) / step) * step);
  }
  if (hit.kind === "body") {
    const body = on.bodies.find((one) => one.id === hit.id)!;
    return [{ do: "set", kind: "body", id: hit.id, fields: { corner: neat(add(body.corner, by)) } }];
  }
  if (hit.kind === "room") {
    const room = on.rooms.find((one) => one.id === hit.id)!;
    const next = draggedOutline(on, room, hit, p, reach_m, job.units);
    return typeof next === "string" ? [] : outlined(room, next);
  }
  const position =
    hit.kind === "outlet" ? onWallFace(p, on.walls, (wall) => thicknessOf(wall, known) / 2, reach_m) : neat(p);
  return [{ do: "set", kind: hit.kind as Kind, id: hit.id, fields: { position } }];
}

/** The chosen thing moved by a small step. */
export function nudged(job: Job, on: OnStorey, picked: Picked, by: Point): Change[] {
  if (picked.kind === "wall") {
    const wall = on.walls.find((one) => one.id === picked.id);
    return wall ? movedWall(job, wall, by) : [];
  }
  if (picked.kind === "opening") {
    const opening = on.openings.find((one) => one.id === picked.id);
    const wall = opening && on.walls.find((one) => one.id === opening.wall);
    if (!opening || !wall) return [];
    const d = direction(wall);
    return slid(job, opening, opening.offset_m + by[0] * d[0] + by[1] * d[1]);
  }
  if (picked.kind === "body") {
    const body = on.bodies.find((one) => one.id === picked.id);
    return body ? [{ do: "set", kind: "body", id: body.id, fields: { corner: neat(add(body.corner, by)) } }] : [];
  }
  if (picked.kind === "room") {
    const room = on.rooms.find((one) => one.id === picked.id);
    const corner = picked.vertex === undefined ? undefined : room?.polygon[picked.vertex];
    const next = corner ? movedCorner(room!.polygon, picked.vertex!, add(corner, by)) : "";
    return typeof next === "string" ? [] : outlined(room!, next);
  }
  const placed = [...on.outlets, ...on.meetings, ...on.boxes, ...on.readings].find((one) => one.id === picked.id);
  if (!placed?.position) return [];
  return [
    { do: "set", kind: picked.kind as Kind, id: picked.id, fields: { position: neat(add(placed.position, by)) } },
  ];
}
