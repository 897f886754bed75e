import { forceCloseDatabase, IDBDatabase as FDBDatabase } from "fake-indexeddb";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { freshBrowser, fullDisk, jobWith, settled, wall } from "../../tests/live";
import { learnWords } from "../../tests/words";
import type * as Keep from "./keep";
import type { Waiting } from "./keep";

let keep: typeof Keep;
beforeEach(async () => {
  freshBrowser();
  vi.resetModules();
  await learnWords();
  keep = await import("./keep");
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
});

const entry = (edit: string, order: number, job = "a job"): Waiting => ({
  job,
  order,
  type: "edit",
  edit,
  body: { edit, base: 1, label: "Draw", changes: [wall("W1")] },
});

/** The sentence that a call failed with; "" where it did not. */
async function words(work: Promise<unknown>): Promise<string> {
  return work.then(
    () => "",
    (fault: Error) => fault.message,
  );
}

describe("what waits", () => {
  it("is given back in order, that of one job", async () => {
    await keep.keepWaiting(entry("b", 2));
    await keep.keepWaiting(entry("a", 1));
    await keep.keepWaiting(entry("c", 0, "another"));
    expect((await keep.allWaiting("a job")).map((one) => one.edit)).toEqual(["a", "b"]);
    await keep.forgetWaiting("a");
    expect(await keep.allWaiting("a job")).toEqual([entry("b", 2)]);
  });
  it("is nothing in a browser that keeps nothing, which is said when something should be kept", async () => {
    vi.stubGlobal("indexedDB", undefined);
    expect(await keep.allWaiting("a job")).toEqual([]);
    expect(await keep.lastSeen("a job")).toBeUndefined();
    expect(await words(keep.keepWaiting(entry("a", 1)))).toBe("it keeps nothing for this page");
  });
});

describe("what was seen", () => {
  it("is kept by job, beside who one is", async () => {
    await keep.keepSeen("a job", 3, jobWith(wall("W1")));
    await keep.keepSeen("another", 4, jobWith());
    const me = { person: "ann", name: "Ann" } as never;
    await keep.keepMe(me);
    expect((await keep.lastSeen("a job"))!.job.house.walls.length).toBe(1);
    expect((await keep.lastSeen("another"))!.revision).toBe(4);
    expect(await keep.lastSeen("a third")).toBeUndefined();
    expect(await keep.lastMe()).toEqual(me);
  });
});

describe("a database that fails", () => {
  it("for want of room says so, though each request succeeded", async () => {
    await keep.keepWaiting(entry("a", 1));
    fullDisk();
    expect(await words(keep.keepWaiting(entry("b", 2)))).toBe("it has no room left");
    expect(await words(keep.forgetWaiting("a"))).toBe("it has no room left");
    vi.restoreAllMocks();
    expect((await keep.allWaiting("a job")).map((one) => one.edit)).toEqual(["a"]);
  });
  it("when a transaction is broken off says that", async () => {
    const begin = FDBDatabase.prototype.transaction;
    vi.spyOn(FDBDatabase.prototype, "transaction").mockImplementation(function (this: IDBDatabase, ...given) {
      const made = begin.apply(this, given);
      queueMicrotask(() => made.abort());
      return made;
    });
    expect(await words(keep.keepWaiting(entry("a", 1)))).toBe("its database failed (AbortError)");
    expect(await words(keep.allWaiting("a job"))).toBe("its database failed (AbortError)");
  });
  it("that cannot take a thing says so", async () => {
    expect(await words(keep.keepWaiting({ ...entry("a", 1), body: (() => 1) as never }))).toBe(
      "its database failed (DataCloneError)",
    );
  });
  it("that refuses to open says so, and is tried again the next time", async () => {
    const open = vi.spyOn(indexedDB, "open");
    open.mockImplementationOnce(() => {
      throw new DOMException("no", "SecurityError");
    });
    expect(await words(keep.keepWaiting(entry("a", 1)))).toBe("its database failed (SecurityError)");
    expect(await words(keep.keepWaiting(entry("a", 1)))).toBe("");
  });
  it("that fails while it opens says so, and is tried again the next time", async () => {
    const request = {} as IDBOpenDBRequest;
    vi.spyOn(indexedDB, "open").mockImplementationOnce(() => request);
    const said = words(keep.keepWaiting(entry("a", 1)));
    Object.assign(request, { error: new DOMException("broken", "UnknownError") });
    request.onerror!(new Event("error"));
    expect(await said).toBe("its database failed (UnknownError)");
    expect(await words(keep.keepWaiting(entry("a", 1)))).toBe("");
  });
  it("that another tab holds says so, and lets go of it when it comes after all", async () => {
    const request = {} as IDBOpenDBRequest;
    const close = vi.fn();
    vi.spyOn(indexedDB, "open").mockImplementationOnce(() => request);
    const said = words(keep.keepWaiting(entry("a", 1)));
    request.onblocked!(new Event("blocked") as IDBVersionChangeEvent);
    expect(await said).toBe("another tab of rehaul holds its database and must be closed");
    Object.assign(request, { result: { close } });
    request.onsuccess!(new Event("success"));
    expect(close).toHaveBeenCalled();
    expect(await words(keep.keepWaiting(entry("a", 1)))).toBe("");
  });
  it("that was closed under the page is opened anew", async () => {
    const open = vi.spyOn(indexedDB, "open");
    await keep.keepWaiting(entry("a", 1));
    forceCloseDatabase((open.mock.results[0]!.value as { result: typeof FDBDatabase }).result);
    await settled();
    expect(await words(keep.keepWaiting(entry("b", 2)))).toBe("");
    expect(open).toHaveBeenCalledTimes(2);
    expect((await keep.allWaiting("a job")).length).toBe(2);
  });
  it("lets another version of the page have it", async () => {
    await keep.keepWaiting(entry("a", 1));
    const next = indexedDB.open("rehaul", 2);
    const done = new Promise<string>((resolve) => {
      next.onsuccess = () => resolve("open");
      next.onblocked = () => resolve("blocked");
    });
    await settled();
    expect(await done).toBe("open");
  });
});
