/** Questions of a job and the edits that answer them: which field of what is set, as the server says. */

import { SINGLES } from "../job/kinds";
import { thingOf } from "../job/things";
import type { Change, Job, Kind, Single } from "../job/types";
import { PICKED, type Picked } from "../plan/storey";

export type About = { id: string; kind: string; name: string; storey: string; says: string };
export type Answer = { kind: string; field: string; values: string[]; words: string[]; unit: string };
export type Ask = {
  code: string;
  severity: "serious" | "mend" | "ask";
  title: string;
  why: string;
  fix: string;
  about: About[];
  answer: Answer | null;
  page: "house" | "cables" | "coverage" | "quote" | "work" | "tests" | "handover";
};

const single = (kind: string): kind is Single => (SINGLES as readonly string[]).includes(kind);

/** Whether one answer settles the whole question, whatever it is about. */
export const asOne = (answer: Answer): boolean => single(answer.kind) && answer.field !== "";

/** What sets an answer on each of some things that a question is about. */
export function changesFor(job: Job, answer: Answer, about: readonly About[], said: string): Change[] {
  const value = answer.values.length ? ({ yes: true, no: false }[said] ?? said) : Number(said);
  const { kind, field } = answer;
  if (single(kind)) {
    const names = field ? [field] : about.map((one) => one.id);
    return [{ do: "set", kind, fields: Object.fromEntries(names.map((name) => [name, value])) }];
  }
  return about.flatMap(({ id }): Change[] => {
    const thing = thingOf(job, kind as Kind, id);
    if (!thing) return [];
    const first = field.split(".", 1)[0]!;
    const whole = within(thing, field.split("."), value) as Record<string, unknown>;
    return [{ do: "set", kind: kind as Kind, id, fields: { [first]: whole[first] } }];
  });
}

/** A value with one of the fields in it set anew. */
function within(old: unknown, path: readonly string[], value: unknown): unknown {
  const [field, ...rest] = path;
  if (field === undefined) return value;
  const fields = old as Record<string, unknown>;
  return { ...fields, [field]: within(fields[field], rest, value) };
}

/** Where a thing is to be seen on a plan; null where it is on none. */
export function shown(job: Job, about: About): { thing: Picked; storey: string } | null {
  const run = about.kind === "obligation" ? job.obligations.find((one) => one.id === about.id)?.run : about.id;
  const kind = about.kind === "obligation" ? "run" : PICKED.find((one) => one === about.kind);
  if (!run || !kind) return null;
  const storey = about.storey || (kind === "run" ? storeyOfRun(job, run) : "");
  return storey ? { thing: { kind, id: run }, storey } : null;
}

function storeyOfRun(job: Job, id: string): string {
  const ends = job.house.runs.find((one) => one.id === id)?.ends ?? [];
  const places = [...job.house.meeting_points, ...job.house.outlets, ...job.house.splitters];
  return places.find((one) => ends.includes(one.id))?.storey ?? "";
}
