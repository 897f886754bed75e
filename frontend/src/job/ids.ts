/** Ids: short, for tape, never made twice by two devices. */

import { LISTS, thingsOf, type Job, type Kind } from "./types";

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-";
const PREFIX: Record<Kind, string> = {
  storey: "S", room: "R", wall: "W", opening: "X", body: "H", outlet: "", meeting_point: "MP", run: "C",
  box: "BX", device: "D", need: "N", obligation: "G", reading: "Q", heard: "Z",
  placed_plug: "PP", trace_reading: "TR", decision: "DC", tick: "TK", acceptance: "AC",
};

/** A new edit's id. `crypto.randomUUID` is missing on plain http, `getRandomValues` is not. */
export function editId(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => LETTERS[byte & 63]).join("");
}

/** Free ids for new things of one kind: `Wa12`, the device's mark in the middle. */
export function freshIds(job: Job, kind: Kind, mark: string, count = 1, spent: Set<string> = new Set()): string[] {
  const used = usedIds(job);
  const ids: string[] = [];
  for (let n = 1; ids.length < count; n++) {
    const id = `${PREFIX[kind]}${mark}${n}`;
    if (!used.has(id) && !spent.has(id)) ids.push(id);
  }
  ids.forEach((id) => spent.add(id));
  return ids;
}

/** `2-07`, to be written on tape; with the device's mark behind while others cannot be asked. */
export function outletId(job: Job, storey: string, mark: string, alone: boolean, spent: Set<string>): string {
  const used = usedIds(job);
  for (let n = 1; ; n++) {
    const id = `${storey}-${String(n).padStart(2, "0")}${alone ? mark : ""}`;
    if (!used.has(id) && !spent.has(id)) {
      spent.add(id);
      return id;
    }
  }
}

function usedIds(job: Job): Set<string> {
  return new Set((Object.keys(LISTS) as Kind[]).flatMap((kind) => thingsOf(job, kind).map((thing) => thing.id)));
}
