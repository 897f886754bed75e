/** The things of a storey as lists, to be picked without the drawing. */

import type { Job } from "../job/types";
import type { Constructions, OnStorey, Picked } from "../plan/storey";

export type Listed = { title: string; kind: Picked["kind"]; things: { id: string; label: string }[] };

/** Kinds of which there is something; cables are listed on every storey. */
export function listed(job: Job, on: OnStorey, known: Constructions): Listed[] {
  const row = <T extends { id: string }>(
    title: string,
    kind: Picked["kind"],
    things: readonly T[],
    label: (one: T) => string,
  ): Listed => ({ title, kind, things: things.map((one) => ({ id: one.id, label: label(one) })) });
  const all = [
    row("Rooms", "room", on.rooms, (one) => one.name),
    row("Walls", "wall", on.walls, (one) => known.get(one.construction)?.label ?? "make not known"),
    row("Doors, windows, gaps", "opening", on.openings, (one) => `${one.kind} in ${one.wall}`),
    row("Outlets", "outlet", on.outlets, (one) => `${one.kind}${one.position ? "" : ", never located"}`),
    row("Meeting points", "meeting_point", on.meetings, (one) => one.name),
    row("Boxes", "box", on.boxes, (one) => one.name),
    row("Bodies", "body", on.bodies, (one) => one.kind),
    row("Cables", "run", job.house.runs, (one) => `${one.kind}${one.route.length ? ", route drawn" : ""}`),
    row("Readings", "reading", on.readings, (one) => String(one.value)),
  ];
  return all.filter((one) => one.things.length);
}
