/** How things of a house are called before anybody looks at their labels: names first, the label behind. */

import { contains } from "../maths/geometry";
import type { Job, Outlet, Room } from "./types";
import { say } from "../words/say";

export function roomOf(job: Job, outlet: Outlet): Room | null {
  const { rooms } = job.house;
  const named = rooms.find((room) => room.id === outlet.room);
  if (named || !outlet.position) return named ?? null;
  const at = outlet.position;
  return rooms.find((room) => room.storey === outlet.storey && !room.outside && contains(room.polygon, at)) ?? null;
}

/** `Study, 2-07`; the label alone where the plate is in no room. */
export function outletCalled(job: Job, id: string): string {
  const outlet = job.house.outlets.find((one) => one.id === id);
  const room = outlet && roomOf(job, outlet);
  return room ? say("page_common.room_and_label", { room: room.name, id }) : id;
}

/** What a cable's end is at: a plate by its room, a place where cables meet by its name. */
export function endCalled(job: Job, end: string): string {
  const meeting = job.house.meeting_points.find((one) => one.id === end);
  if (meeting) return meeting.name;
  const outlet = job.house.outlets.find((one) => one.id === end);
  return (outlet && roomOf(job, outlet)?.name) ?? end;
}

/** `C3, Closet to Study`; the label alone while no end is known. */
export function cableCalled(job: Job, id: string): string {
  const run = job.house.runs.find((one) => one.id === id);
  const known = run?.ends.filter((end) => end !== "unknown") ?? [];
  if (known.length < 2)
    return known.length ? say("page_common.cable_from", { id, from: endCalled(job, known[0]!) }) : id;
  return say("page_common.cable_from_to", { id, from: endCalled(job, known[0]!), to: endCalled(job, known.at(-1)!) });
}
