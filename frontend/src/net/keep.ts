/** What must outlive the page: own edits that are not acknowledged, and the last state seen of each job. */

import type { Edit, Job } from "../job/types";
import type { Me } from "./api";
import { hasDatabase, inStore } from "./database";

export type Waiting = { job: string; order: number; type: "edit" | "undo" | "redo"; edit: string; body: Edit | null };
export type Seen = { revision: number; job: Job };

// All of these are done or end in NotKept; what is read from a browser that keeps nothing is nothing.

export async function keepWaiting(entry: Waiting): Promise<void> {
  await inStore("waiting", "readwrite", (store) => store.put(entry));
}

export async function forgetWaiting(edit: string): Promise<void> {
  await inStore("waiting", "readwrite", (store) => store.delete(edit));
}

export async function allWaiting(job: string): Promise<Waiting[]> {
  if (!hasDatabase()) return [];
  const all = await inStore<Waiting[]>("waiting", "readonly", (store) => store.getAll());
  return all.filter((entry) => entry.job === job).sort((a, b) => a.order - b.order);
}

export async function keepSeen(job: string, revision: number, document: Job): Promise<void> {
  await inStore("seen", "readwrite", (store) => store.put({ revision, job: document }, `job ${job}`));
}

export async function lastSeen(job: string): Promise<Seen | undefined> {
  return hasDatabase() ? inStore<Seen | undefined>("seen", "readonly", (store) => store.get(`job ${job}`)) : undefined;
}

export async function keepMe(me: Me): Promise<void> {
  await inStore("seen", "readwrite", (store) => store.put(me, "me"));
}

export async function lastMe(): Promise<Me | undefined> {
  return hasDatabase() ? inStore<Me | undefined>("seen", "readonly", (store) => store.get("me")) : undefined;
}
