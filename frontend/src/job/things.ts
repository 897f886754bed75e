/** The things of a job by their kind. */

import { LISTS } from "./kinds";
import type { Job, Kind, Thing } from "./types";

export function thingsOf<T extends Thing = Thing>(job: Job, kind: Kind): T[] {
  const { field, inHouse } = LISTS[kind];
  return ((inHouse ? job.house : job)[field as never] ?? []) as T[];
}

export function thingOf<T extends Thing = Thing>(job: Job, kind: Kind, id: string): T | undefined {
  return thingsOf<T>(job, kind).find((thing) => thing.id === id);
}
