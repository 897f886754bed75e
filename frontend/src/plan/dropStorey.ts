/** A storey taken away whole: what stands on it, and what is said of that. */

import { thingsOf } from "../job/things";
import type { Change, Job, Kind, Thing } from "../job/types";

/** Kind, its field, and the kinds it names there: it goes when that goes. */
const GOES_WITH: readonly (readonly [Kind, string, readonly Kind[]])[] = [
  ["room", "storey", ["storey"]],
  ["wall", "storey", ["storey"]],
  ["body", "storey", ["storey"]],
  ["outlet", "storey", ["storey"]],
  ["meeting_point", "storey", ["storey"]],
  ["splitter", "storey", ["storey"]],
  ["box", "storey", ["storey"]],
  ["hazard", "storey", ["storey"]],
  ["reading", "storey", ["storey"]],
  ["opening", "wall", ["wall"]],
  ["need", "room", ["room"]],
  ["hazard", "room", ["room"]],
  ["acceptance", "about", ["room", "run"]],
  ["placed_plug", "outlet", ["outlet"]],
  ["trace_reading", "outlet", ["outlet"]],
  ["trace_reading", "end", ["run"]],
  ["trace_reading", "other", ["run", "trace_reading"]],
  ["line_check", "at", ["meeting_point"]],
  ["line_check", "outlet", ["outlet"]],
  ["line_check", "other", ["line_check"]],
];
/** What keeps a cable on the schedule though both its ends go: somebody depends on it, or something was found out. */
const KEEPS_RUN: readonly Kind[] = ["obligation", "bell", "line_check", "decision"];

/** The changes of one edit, and how many things go. Cables that come from elsewhere stay, with an end not known. */
export function droppedStorey(job: Job, storey: string): { changes: Change[]; things: number } {
  const gone = new Map<string, Kind>([[storey, "storey"]]);
  takeAlong(job, gone);
  const ends = new Set([...gone].filter(([, kind]) => isEnd(kind)).map(([id]) => id));
  const touched = job.house.runs.filter((run) => run.ends.some((end) => ends.has(end)));
  for (const run of touched)
    if (run.ends.every((end) => ends.has(end) || end === "unknown") && !kept(job, run.id)) gone.set(run.id, "run");
  takeAlong(job, gone);
  const changes: Change[] = touched
    .filter((run) => !gone.has(run.id))
    .map(({ id, ends: all }) => ({
      do: "set",
      kind: "run",
      id,
      fields: { ends: all.map((end) => (ends.has(end) ? "unknown" : end)), route: [] },
    }));
  const { modem, run, enters } = job.service;
  const lost = { modem, run, enters } as Record<string, string | null>;
  const cleared = Object.entries(lost).filter(([, id]) => id !== null && gone.has(id));
  if (cleared.length)
    changes.push({ do: "set", kind: "service", fields: Object.fromEntries(cleared.map(([name]) => [name, null])) });
  for (const [id, kind] of [...gone].reverse()) if (!goesBy(kind)) changes.push({ do: "drop", kind, id });
  return { changes, things: gone.size - 1 };
}

/** What the server takes along by itself. */
const goesBy = (kind: Kind): boolean => kind === "opening" || kind === "need";
const isEnd = (kind: Kind): boolean => kind === "outlet" || kind === "meeting_point" || kind === "splitter";

function kept(job: Job, run: string): boolean {
  return KEEPS_RUN.some((kind) => thingsOf(job, kind).some((one) => (one as never as { run: string }).run === run));
}

/** Adds what goes with what is gone, until nothing more does. */
function takeAlong(job: Job, gone: Map<string, Kind>): void {
  for (let before = -1; before !== gone.size;) {
    before = gone.size;
    for (const [kind, field, named] of GOES_WITH) {
      for (const thing of thingsOf(job, kind)) {
        const name = (thing as Thing & Record<string, unknown>)[field];
        if (typeof name !== "string" || gone.has(thing.id)) continue;
        if (named.includes(gone.get(name)!)) gone.set(thing.id, kind);
      }
    }
  }
}
