import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { FakeSocket, freshBrowser, fullDisk, jobWith, settled, wall } from "../../tests/live";
import { learnWords } from "../../tests/words";
import type { Session } from "./session.svelte";

let session: Session;
beforeEach(async () => {
  freshBrowser();
  vi.resetModules();
  await learnWords();
  session = new (await import("./session.svelte")).Session("a job", "ann");
});
afterEach(() => {
  session.close();
  vi.useRealTimers();
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
});

async function live(): Promise<FakeSocket> {
  await session.start();
  FakeSocket.last.open();
  FakeSocket.last.says({ type: "snapshot", revision: 7, job: jobWith() });
  return FakeSocket.last;
}

const EDIT =
  "This browser could not keep your edit, as it has no room left: leave this page open until it says “all saved”.";
const SEEN =
  "This browser could not keep a copy of the job, as it has no room left: do not reload this page without a connection.";
const STRIKE =
  "This browser could not strike out an edit that is done with, as it has no room left: " +
  "it may show up again when the page is opened anew.";
const READ =
  "This browser could not read what it kept, as its database failed (UnknownError): edits that waited in it are not sent.";

describe("what the browser could not keep", () => {
  it("is told in one sentence, and not before it failed", async () => {
    const socket = await live();
    session.submit("One", [wall("W1")]);
    await settled();
    expect(session.keeping.trouble).toBe("");
    fullDisk();
    socket.end();
    session.submit("Two", [wall("W2", 1)]);
    expect(session.keeping.trouble).toBe("");
    await settled();
    expect(session.keeping.trouble).toBe(EDIT);
    expect(session.waiting).toBe(2); // the open page still has it
  });
  it("is told until an edit is kept again and none waits in the page alone", async () => {
    const socket = await live();
    fullDisk();
    session.submit("One", [wall("W1")]);
    await settled();
    vi.restoreAllMocks(); // there is room again
    session.submit("Two", [wall("W2", 1)]);
    await settled();
    expect(session.keeping.trouble).toBe(EDIT); // the first is still nowhere
    socket.says({ type: "ack", edit: socket.of("edit")[0]!.edit, told: [] });
    await settled();
    expect(session.keeping.trouble).toBe(EDIT);
    session.submit("Three", [wall("W3", 2)]);
    await settled();
    expect(session.keeping.trouble).toBe("");
  });
  it("may be a copy of the job, which is told after graver things and until one is kept", async () => {
    const socket = await live();
    fullDisk();
    await vi.advanceTimersByTimeAsync(400);
    await settled();
    expect(session.keeping.trouble).toBe(SEEN);
    session.submit("One", [wall("W1")]);
    await settled();
    expect(session.keeping.trouble).toBe(EDIT);
    socket.says({ type: "ack", edit: socket.of("edit")[0]!.edit, told: [] });
    vi.restoreAllMocks();
    await settled();
    session.submit("Two", [wall("W2", 1)]);
    await settled();
    expect(session.keeping.trouble).toBe(SEEN);
    await vi.advanceTimersByTimeAsync(400);
    await settled();
    expect(session.keeping.trouble).toBe("");
  });
  it("may be that an edit is done with", async () => {
    const socket = await live();
    session.submit("One", [wall("W1")]);
    await settled();
    fullDisk();
    socket.says({ type: "ack", edit: socket.of("edit")[0]!.edit, told: [] });
    await settled();
    expect(session.keeping.trouble).toBe(STRIKE);
  });
  it("may be what it kept before: the page opens without", async () => {
    const failing = vi.spyOn(indexedDB, "open").mockImplementation(() => {
      throw new DOMException("broken", "UnknownError");
    });
    const socket = await live();
    expect(session.keeping.trouble).toBe(READ);
    expect(session.link).toBe("live");
    expect(session.waiting).toBe(0);
    failing.mockRestore();
    session.submit("One", [wall("W1")]);
    await settled();
    expect(session.keeping.trouble).toBe(READ);
    expect(socket.of("edit").length).toBe(1);
  });
  it("is everything in a browser without a database, which is told with the first edit", async () => {
    vi.stubGlobal("indexedDB", undefined);
    await live();
    expect(session.keeping.trouble).toBe("");
    session.submit("One", [wall("W1")]);
    await settled();
    expect(session.keeping.trouble).toMatch(
      /^This browser could not keep your edit, as it keeps nothing for this page: /,
    );
  });
});
