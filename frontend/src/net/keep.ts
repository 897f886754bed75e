/** What must outlive the page: own edits that are not acknowledged, and the last state seen of each job. */

import type { Edit, Job } from "../job/types";
import type { Me } from "./api";

export type Waiting = { job: string; order: number; type: "edit" | "undo" | "redo"; edit: string; body: Edit | null };

let database: Promise<IDBDatabase | null> | null = null;

/** Null where the browser keeps nothing (private windows): the open page still does. */
function open(): Promise<IDBDatabase | null> {
  database ??= new Promise((resolve) => {
    try {
      const request = indexedDB.open("rehaul", 1);
      request.onupgradeneeded = () => {
        request.result.createObjectStore("waiting", { keyPath: "edit" });
        request.result.createObjectStore("seen");
      };
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => resolve(null);
    } catch {
      resolve(null);
    }
  });
  return database;
}

async function run<T>(
  store: string,
  mode: IDBTransactionMode,
  work: (store: IDBObjectStore) => IDBRequest<T>,
): Promise<T | null> {
  const base = await open();
  if (!base) return null;
  return new Promise((resolve) => {
    try {
      const request = work(base.transaction(store, mode).objectStore(store));
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => resolve(null);
    } catch {
      resolve(null);
    }
  });
}

export async function keepWaiting(entry: Waiting): Promise<void> {
  await run("waiting", "readwrite", (store) => store.put(entry));
}

export async function forgetWaiting(edit: string): Promise<void> {
  await run("waiting", "readwrite", (store) => store.delete(edit));
}

export async function allWaiting(job: string): Promise<Waiting[]> {
  const all = (await run<Waiting[]>("waiting", "readonly", (store) => store.getAll())) ?? [];
  return all.filter((entry) => entry.job === job).sort((a, b) => a.order - b.order);
}

export async function keepSeen(job: string, revision: number, document: Job): Promise<void> {
  await run("seen", "readwrite", (store) => store.put({ revision, job: document }, `job ${job}`));
}

export function lastSeen(job: string): Promise<{ revision: number; job: Job } | null | undefined> {
  return run("seen", "readonly", (store) => store.get(`job ${job}`));
}

export async function keepMe(me: Me): Promise<void> {
  await run("seen", "readwrite", (store) => store.put(me, "me"));
}

export function lastMe(): Promise<Me | null | undefined> {
  return run("seen", "readonly", (store) => store.get("me"));
}
