/** Ids: short, for tape, never made twice by two devices, never used again after a drop. */

import { LISTS } from "./kinds";
import { thingsOf } from "./things";
import type { Job, Kind } from "./types";

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-";
const PREFIX: Record<Kind, string> = {
  storey: "S",
  room: "R",
  wall: "W",
  opening: "X",
  body: "H",
  outlet: "",
  meeting_point: "MP",
  splitter: "SP",
  run: "C",
  hazard: "HZ",
  bell: "BL",
  box: "BX",
  device: "D",
  need: "N",
  obligation: "G",
  reading: "Q",
  heard: "Z",
  placed_plug: "PP",
  trace_reading: "TR",
  line_check: "LC",
  decision: "DC",
  tick: "TK",
  acceptance: "AC",
};

/** A new edit's id. `crypto.randomUUID` is missing on plain http, `getRandomValues` is not. */
export function editId(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => LETTERS[byte & 63]).join("");
}

/** Free ids for new things of one kind: `Wa12`, the device's mark in the middle. */
export function freshIds(job: Job, kind: Kind, mark: string, count = 1): string[] {
  const used = usedIds(job);
  const ids = free(job, (id) => numberIn(id, PREFIX[kind] + mark) !== null && PREFIX[kind] !== "")
    .filter((id) => !used.has(id))
    .slice(0, count);
  ids.forEach((id) => taken(job, id));
  let n = given(job, kind + mark);
  while (ids.length < count) if (!used.has(`${PREFIX[kind]}${mark}${++n}`)) ids.push(`${PREFIX[kind]}${mark}${n}`);
  give(job, kind + mark, n);
  return ids;
}

/** `2-07`, to be written on tape; with the device's mark behind while others cannot be asked. */
export function outletId(job: Job, storey: string, mark: string, alone: boolean): string {
  const used = usedIds(job);
  const back = free(job, (id) => !alone && numberIn(id, `${storey}-`) !== null).find((id) => !used.has(id));
  if (back !== undefined) return taken(job, back);
  let n = given(job, `outlet ${storey}`);
  const id = () => `${storey}-${String(n).padStart(2, "0")}${alone ? mark : ""}`;
  do n++;
  while (used.has(id()));
  give(job, `outlet ${storey}`, n);
  return id();
}

/** `1`, `2`, ...: a storey's id, never one that a storey of this job had before; with the device's mark while alone. */
export function storeyId(job: Job, mark: string, alone: boolean): string {
  if (alone) return freshIds(job, "storey", mark)[0]!;
  const used = usedIds(job);
  noteStoreys(job);
  const back = free(job, (id) => numberIn(id, "") !== null).find((id) => !used.has(id));
  if (back !== undefined) return taken(job, back);
  let n = given(job, "storeys");
  do n++;
  while (used.has(String(n)));
  give(job, "storeys", n);
  return String(n);
}

/** Remember the storeys there are, so that their ids stay theirs when they are deleted. */
export function noteStoreys(job: Job): void {
  const highest_n = Math.max(0, ...job.house.storeys.map((one) => Number(one.id)).filter(Number.isInteger));
  if (highest_n > given(job, "storeys")) give(job, "storeys", highest_n);
}

/** Ids that were given out and taken back before anybody else was told of them: they are given again, lowest first. */
export function giveBack(job: Job, ids: readonly string[]): void {
  returned.set(job.id, new Set([...(returned.get(job.id) ?? []), ...ids]));
}

/** No more: what happened since on the other side of a broken connection is not known. */
export function keepBack(job: Job): void {
  returned.delete(job.id);
}

const returned = new Map<string, Set<string>>();

function free(job: Job, fits: (id: string) => boolean): string[] {
  const number = (id: string) => Number(/\d+$/.exec(id)?.[0] ?? 0);
  return [...(returned.get(job.id) ?? [])].filter(fits).sort((a, b) => number(a) - number(b));
}

function taken(job: Job, id: string): string {
  returned.get(job.id)?.delete(id);
  return id;
}

/** The number behind a prefix; null where there is more or less than that. */
function numberIn(id: string, prefix: string): number | null {
  const rest = id.startsWith(prefix) ? id.slice(prefix.length) : "";
  return /^\d+$/.test(rest) ? Number(rest) : null;
}

// The highest number given out so far; it outlives the page, since what was dropped is no longer in the job.
const highest = new Map<string, number>();

function given(job: Job, what: string): number {
  const key = `ids ${job.id} ${what}`;
  return highest.get(key) ?? Number(kept()?.getItem(key) ?? 0);
}

function give(job: Job, what: string, n: number): void {
  const key = `ids ${job.id} ${what}`;
  highest.set(key, n);
  try {
    kept()?.setItem(key, String(n));
  } catch {
    // a full or closed store: the open page still remembers
  }
}

function kept(): Storage | null {
  try {
    return globalThis.localStorage ?? null;
  } catch {
    return null;
  }
}

function usedIds(job: Job): Set<string> {
  return new Set((Object.keys(LISTS) as Kind[]).flatMap((kind) => thingsOf(job, kind).map((thing) => thing.id)));
}
