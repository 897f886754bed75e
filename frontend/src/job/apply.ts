/** Changes on a job, the same everywhere; a change to a thing that is not there does nothing. */

import { DEFAULTS } from "./defaults";
import { LISTS } from "./kinds";
import type { Change, Job, Kind, Thing } from "./types";

/** The job after some changes; what did not change is shared with the job before. */
export function applied(job: Job, changes: readonly Change[]): Job {
  return changes.reduce(one, job);
}

function one(job: Job, change: Change): Job {
  if (!(change.kind in LISTS)) {
    if (change.do !== "set") return job;
    if (change.kind === "job") return { ...job, ...change.fields };
    return { ...job, [change.kind]: { ...(job[change.kind as "house"] as object), ...change.fields } };
  }
  const kind = change.kind as Kind;
  if (change.do === "put") {
    const entity = { ...DEFAULTS[kind], ...change.entity } as Thing;
    return listed(job, kind, (things) => [...things.filter((thing) => thing.id !== entity.id), entity]);
  }
  const id = (change as { id: string }).id;
  if (change.do === "set") {
    return listed(job, kind, (things) =>
      things.map((thing) => (thing.id === id ? { ...thing, ...change.fields } : thing)),
    );
  }
  const without = listed(job, kind, (things) => things.filter((thing) => thing.id !== id));
  return without === job ? job : alongWith(without, kind, id);
}

/** What goes with a dropped thing, as the server will say too. */
function alongWith(job: Job, kind: Kind, id: string): Job {
  if (kind === "wall")
    return listed(job, "opening", (all) => all.filter((o) => (o as never as { wall: string }).wall !== id));
  if (kind === "room")
    return listed(job, "need", (all) => all.filter((n) => (n as never as { room: string }).room !== id));
  return job;
}

function listed(job: Job, kind: Kind, change: (things: Thing[]) => Thing[]): Job {
  const { field, inHouse } = LISTS[kind];
  const holder = (inHouse ? job.house : job) as never as Record<string, Thing[]>;
  const before = holder[field] ?? [];
  const after = change(before);
  if (after.length === before.length && after.every((thing, i) => thing === before[i])) return job;
  return inHouse ? { ...job, house: { ...job.house, [field]: after } } : { ...job, [field]: after };
}
