/** The browser's own database: one call, one transaction, and why it was not done where it was not. */

import { say } from "../words/say";

export const STORES = { waiting: "edit", seen: null } as const; // name: where the key stands, null for beside it
export type Store = keyof typeof STORES;

/** `message` ends a sentence: "... as it has no room left". */
export class NotKept extends Error {}

let opening: Promise<IDBDatabase> | null = null;

/** Do one thing in one store. Done means written down: a full disk may yet break off what every request took. */
export async function inStore<T>(
  name: Store,
  mode: IDBTransactionMode,
  work: (store: IDBObjectStore) => IDBRequest<T>,
): Promise<T> {
  const base = await opened();
  return new Promise((resolve, reject) => {
    try {
      const transaction = base.transaction(name, mode);
      const request = work(transaction.objectStore(name));
      transaction.oncomplete = () => resolve(request.result);
      transaction.onabort = () => reject(notKept(transaction.error));
    } catch (fault) {
      reject(notKept(fault));
    }
  });
}

/** Whether the browser has such a thing at all; some have none in private windows. */
export function hasDatabase(): boolean {
  return typeof indexedDB !== "undefined";
}

function opened(): Promise<IDBDatabase> {
  opening ??= open().catch((fault: unknown) => {
    opening = null; // the next call tries again
    throw fault;
  });
  return opening;
}

function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    if (!hasDatabase()) return reject(new NotKept(say("page_frame.it_keeps_nothing_for_this_page")));
    let given_up = false;
    try {
      const request = indexedDB.open("rehaul", 1);
      request.onupgradeneeded = () => {
        for (const [name, key] of Object.entries(STORES)) request.result.createObjectStore(name, { keyPath: key });
      };
      request.onsuccess = () => {
        const base = request.result;
        if (given_up) return base.close();
        base.onclose = () => (opening = null); // the browser took it away
        base.onversionchange = () => {
          base.close(); // a newer page wants it
          opening = null;
        };
        resolve(base);
      };
      request.onerror = () => reject(notKept(request.error));
      request.onblocked = () => {
        given_up = true;
        reject(new NotKept(say("page_frame.another_tab_of_rehaul_holds_its")));
      };
    } catch (fault) {
      reject(notKept(fault));
    }
  });
}

function notKept(fault: unknown): NotKept {
  const name = fault instanceof DOMException ? fault.name : "AbortError"; // broken off by the browser, without a word
  return new NotKept(
    name === "QuotaExceededError"
      ? say("page_frame.it_has_no_room_left")
      : say("page_frame.its_database_failed", { name }),
  );
}
