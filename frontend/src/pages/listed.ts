/** The things of a storey as lists, to be picked without the drawing. */

import type { Job } from "../job/types";
import type { Constructions, OnStorey, Picked } from "../plan/storey";
import { say, term } from "../words/say";

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
    row(say("page_common.rooms"), "room", on.rooms, (one) => one.name),
    row(
      say("page_common.walls"),
      "wall",
      on.walls,
      (one) => known.get(one.construction)?.label ?? say("page_jobs.make_not_known"),
    ),
    row(say("page_jobs.doors_windows_gaps"), "opening", on.openings, (one) =>
      say("page_jobs.in", { kind: term(one.kind), wall: one.wall }),
    ),
    row(say("page_common.outlets"), "outlet", on.outlets, (one) =>
      one.position ? term(one.kind) : say("page_jobs.never_located", { kind: term(one.kind) }),
    ),
    row(say("page_jobs.meeting_points"), "meeting_point", on.meetings, (one) => one.name),
    row(say("page_common.boxes"), "box", on.boxes, (one) => one.name),
    row(say("page_jobs.bodies"), "body", on.bodies, (one) => term(one.kind)),
    row(say("page_common.cables"), "run", job.house.runs, (one) =>
      one.route.length ? say("page_jobs.route_drawn", { kind: term(one.kind) }) : term(one.kind),
    ),
    row(say("page_jobs.readings"), "reading", on.readings, (one) => String(one.value)),
  ];
  return all.filter((one) => one.things.length);
}
