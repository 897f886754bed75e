/** What a press with a tool in hand puts on a sheet, as one edit; or the sentence why it cannot be there. */

import { contains, lengthOf, neat, type Point } from "../maths/geometry";
import { faceAround } from "../maths/faces";
import { freshIds, outletId } from "../job/ids";
import type { Change, Job, Kind } from "../job/types";
import { Choices } from "./choices.svelte";
import { onWallFace, stepOf } from "./snap";
import { nearestWall, thicknessOf, type Constructions, type OnStorey, type Picked } from "./storey";
import type { Tool } from "./tools";
import { say, term } from "../words/say";
import { kindWord } from "./kinds";

const PLACING = ["room", "outside", "door", "window", "gap", "outlet", "meeting", "box", "body", "reading"] as const;
type PlacingTool = (typeof PLACING)[number];

export const isPlacing = (tool: Tool): tool is PlacingTool => (PLACING as readonly Tool[]).includes(tool);

/** `done`: the tool is laid down again. */
export type Placed = { label: string; changes: Change[]; picked: Picked; done: boolean } | string;
export type Ground = {
  job: Job;
  on: OnStorey;
  mark: string;
  known: Constructions;
  alone: boolean;
  reach_m: number;
  choices?: Choices; // sizes of the last ones
};

export function placed(tool: PlacingTool, ground: Ground, p: Point): Placed {
  if (tool === "room") return room(ground, p);
  if (tool === "outside") return outside(ground, p);
  if (tool === "door" || tool === "window" || tool === "gap") return opening(tool, ground, p);
  return thing(tool, ground, p);
}

function room({ job, on, mark }: Ground, p: Point): Placed {
  if (on.rooms.some((one) => !one.outside && contains(one.polygon, p)))
    return say("page_plan.there_is_a_room_here_already");
  const polygon = faceAround(on.walls, p);
  if (!polygon) return say("page_plan.the_walls_do_not_close_here");
  const id = freshIds(job, "room", mark)[0]!;
  const name = say("page_plan.room_number", { n: job.house.rooms.length + 1 });
  const entity = { id, storey: on.storey.id, name, polygon: polygon.map(neat) };
  return {
    label: say("page_plan.add_a_room"),
    changes: [{ do: "put", kind: "room", entity }],
    picked: { kind: "room", id },
    done: false,
  };
}

const AREA_M = 4; // side of a new outside area, before its corners are dragged

function outside({ job, on, mark }: Ground, [x, y]: Point): Placed {
  if (on.rooms.some((one) => !one.outside && contains(one.polygon, [x, y])))
    return say("page_plan.that_is_within_the_house_press");
  const id = freshIds(job, "room", mark)[0]!;
  const half = AREA_M / 2;
  const polygon = [
    [x - half, y - half],
    [x + half, y - half],
    [x + half, y + half],
    [x - half, y + half],
  ].map((corner) => neat(corner as Point));
  const name = say("page_plan.outside_number", { n: job.house.rooms.filter((one) => one.outside).length + 1 });
  const entity = { id, storey: on.storey.id, name, polygon, outside: true, lived_in: false };
  return {
    label: say("page_plan.add_an_outside_area"),
    changes: [{ do: "put", kind: "room", entity }],
    picked: { kind: "room", id },
    done: true,
  };
}

function opening(
  kind: "door" | "window" | "gap",
  { job, on, mark, known, reach_m, choices }: Ground,
  p: Point,
): Placed {
  const near = nearestWall(on.walls, p);
  if (!near || near.off_m > reach_m + thicknessOf(near.wall, known) / 2) return say("page_plan.press_on_a_wall");
  const { width_m: wide, ...sizes } = (choices ?? new Choices()).sizesOf(kind);
  const long_m = lengthOf(near.wall);
  const width_m = Math.min(wide, Math.floor(long_m * 1000) / 1000);
  const step = stepOf(job.units);
  const offset = Math.max(0, Math.min(Math.round((near.at_m - width_m / 2) / step) * step, long_m - width_m));
  const offset_m = Math.round(offset * 1000) / 1000;
  const id = freshIds(job, "opening", mark)[0]!;
  const entity = { id, wall: near.wall.id, kind, offset_m, width_m, ...sizes };
  return {
    label: say("page_plan.add_one", { kind: term(kind) }),
    changes: [{ do: "put", kind: "opening", entity }],
    picked: { kind: "opening", id },
    done: false,
  };
}

function thing(
  tool: "outlet" | "meeting" | "box" | "body" | "reading",
  { job, on, mark, known, alone, reach_m, choices }: Ground,
  p: Point,
): Placed {
  const storey = on.storey.id;
  const inRoom = on.rooms.find((one) => contains(one.polygon, p))?.id ?? null;
  const at = neat(p);
  const fresh = (kind: Kind) => freshIds(job, kind, mark)[0]!;
  const made = (kind: Kind & Picked["kind"], entity: { id: string } & Record<string, unknown>) =>
    ({
      label: say("page_plan.add_with_id", { kind: kindWord(kind), id: entity.id }),
      changes: [{ do: "put" as const, kind, entity }],
      picked: { kind, id: entity.id },
      done: true,
    }) satisfies Placed;
  if (tool === "outlet") {
    const position = onWallFace(p, on.walls, (wall) => thicknessOf(wall, known) / 2, reach_m * 2);
    const id = outletId(job, storey, mark, alone);
    return { ...made("outlet", { id, storey, position, room: inRoom, ...choices?.plate }), done: false };
  }
  if (tool === "meeting")
    return made("meeting_point", { id: fresh("meeting_point"), name: say("page_plan.closet"), storey, position: at });
  if (tool === "box")
    return made("box", {
      id: fresh("box"),
      name: say("page_common.access_point"),
      equipment: "access point HE 2x2",
      storey,
      position: at,
      height_m: 2,
    });
  if (tool === "body")
    return made("body", {
      id: fresh("body"),
      storey,
      kind: "fridge",
      corner: neat([p[0] - 0.3, p[1] - 0.3]),
      width_m: 0.6,
      depth_m: 0.6,
      height_m: 1.8,
    });
  const time = new Date().toISOString().slice(0, 16);
  return made("reading", {
    id: fresh("reading"),
    quantity: "power_dbm",
    value: -60,
    storey,
    room: inRoom,
    position: at,
    time,
  });
}
