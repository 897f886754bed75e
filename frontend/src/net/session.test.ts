import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { answering, FakeSocket, freshBrowser, happens, jobWith, settled, wall } from "../../tests/live";
import type { Change } from "../job/types";
import type { Row } from "./said";
import type { Session } from "./session.svelte";

let Live: typeof Session;
let { allWaiting, keepSeen, lastSeen } = {} as typeof import("./keep");
const sessions: Session[] = [];
beforeEach(async () => {
  freshBrowser();
  vi.resetModules(); // a page that was opened anew knows nothing of the database of the one before
  ({ allWaiting, keepSeen, lastSeen } = await import("./keep"));
  Live = (await import("./session.svelte")).Session;
});
afterEach(() => {
  sessions.splice(0).forEach((one) => one.close());
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

async function opened(person = "ann"): Promise<{ session: Session; socket: FakeSocket }> {
  const session = new Live("a job", person);
  sessions.push(session);
  await session.start();
  return { session, socket: FakeSocket.last };
}

/** A session that has heard the job at revision 7. */
async function live(...changes: Change[]): Promise<{ session: Session; socket: FakeSocket }> {
  const made = await opened();
  made.socket.open();
  made.socket.says({ type: "snapshot", revision: 7, job: jobWith(...changes) });
  return made;
}

/** The server is back after a pause that the page waits for. */
async function back(after_ms: number): Promise<FakeSocket> {
  const before = FakeSocket.all.length;
  await vi.advanceTimersByTimeAsync(after_ms);
  expect(FakeSocket.all.length).toBe(before + 1);
  FakeSocket.last.open();
  return FakeSocket.last;
}

const ids = (session: Session): string[] => session.job!.house.walls.map((one) => one.id);
const row = (revision: number, changes: Change[], more: Partial<Row> = {}): Row => ({
  revision,
  edit: `e${revision}`,
  person: "ben",
  name: "Ben",
  label: "Draw",
  changes,
  ...more,
});
const refusal = { code: "taken", problem: "that id is taken", where: "W1", remedy: "Take another" };

describe("connecting", () => {
  it("asks for the live socket of its job, and says hello once it is open", async () => {
    const { session, socket } = await opened();
    expect(socket.url).toBe("ws://sheet.test/api/jobs/a%20job/live");
    expect(session.link).toBe("opening");
    expect(socket.sent).toEqual([]);
    socket.open();
    expect(socket.sent).toEqual([{ type: "hello", seen: null }]);
    expect(session.link).toBe("opening"); // it may yet be closed with a reason
    expect(session.alone).toBe(true);
    socket.says({ type: "snapshot", revision: 7, job: jobWith(wall("W1")) });
    expect(session.link).toBe("live");
    expect(session.alone).toBe(false);
    expect(session.revision).toBe(7);
    expect(ids(session)).toEqual(["W1"]);
  });
  it("shows what was seen last while nobody answers, and says which revision that is", async () => {
    await keepSeen("a job", 5, jobWith(wall("W9")));
    const { session, socket } = await opened();
    expect(ids(session)).toEqual(["W9"]);
    expect(session.revision).toBe(5);
    socket.open();
    expect(socket.sent).toEqual([{ type: "hello", seen: 5 }]);
  });
  it("does not show what was kept under another version of the job", async () => {
    await keepSeen("a job", 5, { ...jobWith(wall("W9")), schema_version: 2 as never });
    const { session, socket } = await opened();
    expect(session.job).toBeNull();
    expect(session.revision).toBe(0);
    socket.open();
    expect(socket.sent).toEqual([{ type: "hello", seen: null }]);
  });
  it("opens no socket when it was closed meanwhile", async () => {
    const session = new Live("a job", "ann");
    const started = session.start();
    session.close();
    await started;
    expect(FakeSocket.all).toEqual([]);
  });
  it("keeps the state of the server, not what waits on top of it", async () => {
    const { session } = await live();
    session.submit("Draw", [wall("W1")]);
    await vi.advanceTimersByTimeAsync(399);
    await settled();
    expect(await lastSeen("a job")).toBeUndefined();
    await vi.advanceTimersByTimeAsync(1);
    await settled();
    const seen = await lastSeen("a job");
    expect(seen!.revision).toBe(7);
    expect(seen!.job.house.walls).toEqual([]);
  });
  it("keeps the newest state once, 400 ms after the last word", async () => {
    const { socket } = await live();
    await vi.advanceTimersByTimeAsync(300);
    socket.says({ type: "edits", edits: [row(8, [wall("W2")])] });
    await vi.advanceTimersByTimeAsync(300);
    await settled();
    expect(await lastSeen("a job")).toBeUndefined();
    await vi.advanceTimersByTimeAsync(100);
    await settled();
    expect((await lastSeen("a job"))!.revision).toBe(8);
  });
});

describe("an edit", () => {
  it("shows at once, is sent with its base, waits in the database, and is forgotten when acknowledged", async () => {
    const { session, socket } = await live();
    session.submit("Draw a wall", [wall("W1")]);
    expect(ids(session)).toEqual(["W1"]);
    expect(session.waiting).toBe(1);
    const [sent] = socket.of("edit");
    expect(sent).toMatchObject({ type: "edit", base: 7, label: "Draw a wall", changes: [wall("W1")] });
    await settled();
    const kept = await allWaiting("a job");
    expect(kept).toEqual([
      { job: "a job", order: expect.any(Number), type: "edit", edit: sent!.edit, body: expect.anything() },
    ]);
    expect(kept[0]!.body).toEqual({ edit: sent!.edit, base: 7, label: "Draw a wall", changes: [wall("W1")] });
    socket.says({ type: "edits", edits: [row(8, [wall("W1")], { edit: sent!.edit as string, person: "ann" })] });
    expect(session.waiting).toBe(1); // on the server, but not said to be on its disk
    socket.says({ type: "ack", edit: sent!.edit, told: [] });
    expect(session.waiting).toBe(0);
    expect(ids(session)).toEqual(["W1"]);
    await settled();
    expect(await allWaiting("a job")).toEqual([]);
  });
  it("is not laid over what the server made of it since", async () => {
    const { session, socket } = await live(wall("W1"));
    session.submit("Set", [{ do: "set", kind: "wall", id: "W1", fields: { note: "mine" } }]);
    const edit = socket.of("edit")[0]!.edit as string;
    const mine = socket.of("edit")[0]!.changes as Change[];
    socket.says({
      type: "edits",
      edits: [
        row(8, mine, { edit, person: "ann" }),
        row(9, [{ do: "set", kind: "wall", id: "W1", fields: { note: "Ben's" } }]),
      ],
    });
    expect(session.job!.house.walls[0]!.note).toBe("Ben's");
  });
  it("lies on top of others' until the server has it", async () => {
    const { session, socket } = await live(wall("W1"));
    session.submit("Set", [{ do: "set", kind: "wall", id: "W1", fields: { note: "mine" } }]);
    socket.says({ type: "edits", edits: [row(8, [{ do: "set", kind: "wall", id: "W1", fields: { note: "Ben's" } }])] });
    expect(session.job!.house.walls[0]!.note).toBe("mine");
  });
  it("of nothing is none, and neither is one before the job is there", async () => {
    const { session, socket } = await live();
    session.submit("Nothing", []);
    expect(session.waiting).toBe(0);
    expect(socket.of("edit")).toEqual([]);
    const early = await opened();
    early.session.submit("Draw", [wall("W1")]);
    expect(early.session.waiting).toBe(0);
  });
  it("has a label of 80 letters at most", async () => {
    const { session, socket } = await live();
    session.submit("x".repeat(99), [wall("W1")]);
    expect(socket.of("edit")[0]!.label).toBe("x".repeat(80));
  });
  it("that is too large is told and never sent", async () => {
    const { session, socket } = await live();
    const changes = (letters: number): Change[] => [
      { do: "put", kind: "wall", entity: { id: "W1", note: "ü".repeat(letters / 2) } },
    ];
    session.submit("Much", changes(7_900_000));
    expect(session.refusals).toEqual([
      {
        label: "Much",
        refusal: {
          code: "too-large",
          problem: "that is more than the server takes at once",
          where: "",
          remedy: "Do it in several steps",
        },
      },
    ]);
    expect(session.waiting).toBe(0);
    expect(socket.of("edit")).toEqual([]);
    session.submit("Less", changes(7_899_000));
    expect(session.refusals.length).toBe(1);
    expect(socket.of("edit").length).toBe(1);
  });
  it("tells whom it overtook", async () => {
    const { session, socket } = await live();
    session.submit("Draw", [wall("W1")]);
    const told = { notice: 3, code: "lost", kind: "wall", id: "W1", by: "Ben", words: "Ben moved it" };
    socket.says({ type: "ack", edit: socket.of("edit")[0]!.edit, told: [told] });
    expect(session.notices).toEqual([told]);
  });
});

describe("without a connection", () => {
  it("edits queue in order and go out once each when the server speaks again", async () => {
    const { session, socket } = await live();
    socket.end();
    expect(session.link).toBe("away");
    expect(session.alone).toBe(true);
    session.submit("One", [wall("W1")]);
    session.submit("Two", [wall("W2", 1)]);
    expect(session.waiting).toBe(2);
    expect(ids(session)).toEqual(["W1", "W2"]);
    const next = await back(300);
    expect(next.sent).toEqual([{ type: "hello", seen: 7 }]); // nothing before it speaks
    next.says({ type: "mine", undo: null, redo: null });
    expect(next.of("edit").map((one) => one.label)).toEqual(["One", "Two"]);
    next.says({ type: "people", people: [] });
    expect(next.of("edit").length).toBe(2);
  });
  it("what was sent and not acknowledged is sent again under its own id, once", async () => {
    const { session, socket } = await live();
    session.submit("One", [wall("W1")]);
    const { edit } = socket.of("edit")[0]!;
    socket.end();
    const next = await back(300);
    next.says({ type: "mine", undo: null, redo: null });
    expect(next.of("edit").map((one) => one.edit)).toEqual([edit]);
    next.says({ type: "ack", edit, told: [] });
    next.end();
    const third = await back(300);
    third.says({ type: "mine", undo: null, redo: null });
    expect(third.of("edit")).toEqual([]);
    expect(session.waiting).toBe(0);
  });
  it("edits outlive the page, in order, and those of other jobs are left alone", async () => {
    const { session, socket } = await live();
    socket.end();
    session.submit("One", [wall("W1")]);
    session.submit("Two", [wall("W2", 1)]);
    await vi.advanceTimersByTimeAsync(400);
    await settled();
    session.close();
    const other = new Live("another", "ann");
    sessions.push(other);
    await other.start();
    expect(other.waiting).toBe(0);
    const again = await opened();
    expect(again.session.waiting).toBe(2);
    expect(ids(again.session)).toEqual(["W1", "W2"]);
    again.socket.open();
    again.socket.says({ type: "mine", undo: null, redo: null });
    expect(again.socket.of("edit").map((one) => one.label)).toEqual(["One", "Two"]);
  });
  it("tries again after 0.3 s, then twice as long each time, five seconds at most", async () => {
    const { session, socket } = await live();
    socket.end();
    for (const pause_ms of [300, 600, 1200, 2400, 4800, 5000, 5000]) {
      const before = FakeSocket.all.length;
      await vi.advanceTimersByTimeAsync(pause_ms - 1);
      expect(FakeSocket.all.length).toBe(before);
      await vi.advanceTimersByTimeAsync(1);
      expect(FakeSocket.all.length).toBe(before + 1);
      FakeSocket.last.end();
    }
    const next = await back(5000);
    next.says({ type: "mine", undo: null, redo: null });
    expect(session.link).toBe("live");
    next.end();
    await back(300); // it answered: the pauses begin anew
  });
  it("tries at once when the browser is in a network again", async () => {
    const { socket } = await live();
    socket.end();
    happens("online");
    expect(FakeSocket.all.length).toBe(2);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(FakeSocket.all.length).toBe(2); // and not a second time besides
  });
  it("does not knock twice when it is in a network while connected", async () => {
    await live();
    happens("online");
    expect(FakeSocket.all.length).toBe(1);
  });
  it("counts the browser's own word that there is no network", async () => {
    const { session, socket } = await live();
    happens("offline");
    expect(session.link).toBe("away");
    expect(socket.readyState).toBe(FakeSocket.CLOSING);
    session.submit("One", [wall("W1")]);
    socket.says({ type: "snapshot", revision: 99, job: jobWith() }); // too late: that socket is not ours any more
    expect(session.revision).toBe(7);
    socket.end();
    await back(300);
    expect(FakeSocket.all.length).toBe(2);
  });
  it("nobody else is shown as here", async () => {
    const { session, socket } = await live();
    socket.says({ type: "people", people: [{ person: "ben", name: "Ben", device: "d", at: null }] });
    expect(session.people.length).toBe(1);
    socket.end();
    expect(session.people).toEqual([]);
  });
  it("a page that was left knocks no more", async () => {
    const { session, socket } = await live();
    socket.end();
    session.close();
    await vi.advanceTimersByTimeAsync(20_000);
    happens("online");
    happens("offline");
    expect(FakeSocket.all.length).toBe(1);
  });
  it("a page that is left closes its socket and stays quiet", async () => {
    const { session, socket } = await live();
    session.close();
    expect(socket.readyState).toBe(FakeSocket.CLOSING);
    socket.end();
    await vi.advanceTimersByTimeAsync(20_000);
    expect(FakeSocket.all.length).toBe(1);
  });
});

describe("an end with a reason", () => {
  it.each([
    [4401, "unpaired"],
    [4404, "absent"],
  ] as const)("%i means %s, and it does not knock again", async (code, link) => {
    const { session, socket } = await live();
    socket.end(code, "said");
    expect(session.link).toBe(link);
    expect(session.trouble).toBe("");
    await vi.advanceTimersByTimeAsync(20_000);
    happens("online");
    happens("offline");
    expect(session.link).toBe(link);
    expect(FakeSocket.all.length).toBe(1);
  });
  it("goes on when the device is paired again, and sends what waits", async () => {
    const { session, socket } = await live();
    session.submit("One", [wall("W1")]);
    socket.end(4401, "this device was forgotten");
    session.pairedAs("cat");
    expect(session.link).toBe("away");
    expect(FakeSocket.all.length).toBe(2);
    FakeSocket.last.open();
    FakeSocket.last.says({ type: "edits", edits: [row(8, [wall("W5", 2)], { person: "cat" })] });
    expect(session.news).toEqual([]); // they are one's own now
    expect(FakeSocket.last.of("edit").length).toBe(1);
    session.pairedAs("cat");
    expect(FakeSocket.all.length).toBe(2);
  });
  it("is told while it lasts", async () => {
    const { session, socket } = await live();
    socket.end(1013, "there are too many here");
    expect(session.trouble).toBe("There are too many here. What you draw is kept here and sent when it is back.");
    expect(session.link).toBe("away");
    const next = await back(300);
    expect(session.trouble).not.toBe(""); // open is not let in
    next.says({ type: "mine", undo: null, redo: null });
    expect(session.trouble).toBe("");
  });
  it.each([1000, 1001, 1005, 1006, 1012])("%i says no more than that the server is gone", async (code) => {
    const { session, socket } = await live();
    socket.end(code, "bye");
    expect(session.trouble).toBe("");
    expect(session.link).toBe("away");
  });
  it("of before is forgotten when the next end says nothing", async () => {
    const { session, socket } = await live();
    socket.end(1013, "full");
    (await back(300)).end();
    expect(session.trouble).toBe("");
  });
});

describe("a refusal", () => {
  it("is told with what was refused, and the sheet is as the server has it", async () => {
    const { session, socket } = await live();
    session.submit("Draw a wall", [wall("W1")]);
    socket.says({ type: "refused", edit: socket.of("edit")[0]!.edit, refusal });
    expect(session.refusals).toEqual([{ label: "Draw a wall", refusal }]);
    expect(ids(session)).toEqual([]);
    expect(session.waiting).toBe(0);
    await settled();
    expect(await allWaiting("a job")).toEqual([]);
    session.dismissRefusals();
    expect(session.refusals).toEqual([]);
  });
  it("of an undo or redo says so, and of something unknown nothing", async () => {
    const { session, socket } = await live();
    socket.says({ type: "mine", undo: "Draw", redo: "Move" });
    session.undo();
    session.redo();
    socket.says({ type: "refused", edit: socket.of("undo")[0]!.edit, refusal });
    socket.says({ type: "refused", edit: socket.of("redo")[0]!.edit, refusal });
    socket.says({ type: "refused", edit: "nobody's", refusal });
    expect(session.refusals.map((one) => one.label)).toEqual(["Undo", "Redo", ""]);
  });
  it("for an id that somebody had first draws the same under a free one", async () => {
    const { session, socket } = await live();
    session.submit("Draw a wall", [wall("W1")]);
    const [first] = socket.of("edit");
    socket.says({ type: "refused", edit: first!.edit, refusal: { ...refusal, free: "W2" } });
    expect(session.refusals).toEqual([]);
    const second = socket.of("edit")[1]!;
    expect(second.changes).toEqual([wall("W2")]);
    expect(second.edit).not.toBe(first!.edit);
    expect(ids(session)).toEqual(["W2"]);
  });
  it("for a taken id is told where no free one is said, where later edits name it, and for more than one change", async () => {
    const { session, socket } = await live(wall("W9"));
    const refuse = (i: number, more: object) =>
      socket.says({ type: "refused", edit: socket.of("edit")[i]!.edit, refusal: { ...refusal, ...more } });
    session.submit("no free one", [wall("W1")]);
    refuse(0, {});
    session.submit("another reason", [wall("W1")]);
    refuse(1, { code: "improbable", free: "W2" });
    session.submit("two changes", [wall("W1"), wall("W3", 1)]);
    refuse(2, { free: "W2" });
    session.submit("no new thing", [{ do: "set", kind: "wall", id: "W9", fields: { note: "x" } }]);
    refuse(3, { free: "W2" });
    session.submit("named later", [wall("W1")]);
    session.submit("names it", [{ do: "set", kind: "wall", id: "W1", fields: { note: "x" } }]);
    refuse(4, { free: "W2" });
    expect(session.refusals.map((one) => one.label)).toEqual([
      "no free one",
      "another reason",
      "two changes",
      "no new thing",
      "named later",
    ]);
    expect(socket.of("edit").length).toBe(6);
  });
  it("for now means: the same again in two seconds, told once", async () => {
    const { session, socket } = await live();
    session.submit("One", [wall("W1")]);
    const { edit } = socket.of("edit")[0]!;
    const full = { code: "cannot-save", problem: "the disk is full", where: "", remedy: "Make room" };
    session.refusals = [{ label: "Older", refusal }];
    socket.says({ type: "retry", edit, refusal: full });
    socket.says({ type: "retry", edit, refusal: full });
    expect(session.refusals).toEqual([
      { label: "Older", refusal },
      { label: "", refusal: full },
    ]);
    expect(session.waiting).toBe(1);
    await vi.advanceTimersByTimeAsync(1999);
    expect(socket.of("edit").length).toBe(1);
    socket.says({ type: "ack", edit: "another", told: [] });
    await vi.advanceTimersByTimeAsync(1);
    expect(socket.of("edit").map((one) => one.edit)).toEqual([edit, edit, edit]);
    socket.says({ type: "retry", edit, refusal: full });
    socket.says({ type: "ack", edit, told: [] });
    await vi.advanceTimersByTimeAsync(2000);
    expect(socket.of("edit").length).toBe(3); // it was taken meanwhile
  });
});

describe("others", () => {
  it("edits of others show, each once, and are news", async () => {
    const { session, socket } = await live(wall("W1"));
    const theirs = row(8, [wall("W2", 1)]);
    socket.says({ type: "edits", edits: [row(7, [wall("W7", 2)]), theirs] });
    expect(ids(session)).toEqual(["W1", "W2"]); // 7 was in the snapshot
    expect(session.revision).toBe(8);
    socket.says({ type: "edits", edits: [{ ...theirs, changes: [{ do: "drop", kind: "wall", id: "W1" }] }] });
    expect(ids(session)).toEqual(["W1", "W2"]);
    expect(session.news.map((one) => one.revision)).toEqual([7, 8, 8]);
  });
  it("one's own edits are no news, and the latest twenty of others are", async () => {
    const { session, socket } = await live();
    socket.says({ type: "edits", edits: [row(8, [], { person: "ann" })] });
    expect(session.news).toEqual([]);
    const many = Array.from({ length: 25 }, (_, i) => row(9 + i, []));
    socket.says({ type: "edits", edits: many });
    expect(session.news.map((one) => one.revision)).toEqual(many.slice(-20).map((one) => one.revision));
  });
  it("edits that come before any job are not made up into one", async () => {
    const { session, socket } = await opened();
    socket.open();
    socket.says({ type: "edits", edits: [row(1, [wall("W1")])] });
    expect(session.job).toBeNull();
    expect(session.revision).toBe(0);
  });
  it("are told where one looks, again after a reconnect", async () => {
    const { session, socket } = await live();
    session.here({ page: "house", storey: "1" });
    expect(socket.of("here")).toEqual([{ type: "here", at: { page: "house", storey: "1" } }]);
    socket.end();
    session.here({ page: "cables" });
    const next = await back(300);
    next.says({ type: "mine", undo: null, redo: null });
    expect(next.of("here")).toEqual([{ type: "here", at: { page: "cables" } }]);
  });
  it("nothing is told of a place before there is one", async () => {
    const { socket } = await live();
    expect(socket.of("here")).toEqual([]);
  });
  it("notices stay until they are read, and the server is told up to which", async () => {
    const { session, socket } = await live();
    const notice = (n: number) => ({ notice: n, code: "lost", kind: "wall", id: "W1", by: "Ben", words: `${n}` });
    socket.says({ type: "notice", notices: [notice(4), notice(2)] });
    socket.says({ type: "notice", notices: [] });
    socket.says({ type: "notice", notices: [notice(3)] });
    expect(session.notices.map((one) => one.words)).toEqual(["4", "2", "3"]);
    session.dismissNotices();
    expect(session.notices).toEqual([]);
    expect(socket.of("seen")).toEqual([{ type: "seen", notice: 4 }]);
    session.dismissNotices();
    expect(socket.of("seen").length).toBe(1);
  });
  it("pictures and the file are told of", async () => {
    const { session, socket } = await live();
    socket.says({ type: "pictures" });
    socket.says({ type: "pictures" });
    expect(session.pictures).toBe(2);
    socket.says({ type: "file", behind: true, since: "2026-01-01T00:00", refusal: null, caught_up: null });
    expect(session.file).toMatchObject({ behind: true, since: "2026-01-01T00:00" });
    expect(session.plan).toBeNull();
  });
});

describe("undo", () => {
  it("is the server's once the edit was sent, and carries an id that is kept", async () => {
    const { session, socket } = await live();
    socket.says({ type: "mine", undo: "Draw a wall", redo: null });
    expect(session.undoWords).toBe("Draw a wall");
    session.undo();
    const [sent] = socket.of("undo");
    expect(sent).toEqual({ type: "undo", edit: expect.stringMatching(/^[\w-]{16}$/) });
    await settled();
    expect((await allWaiting("a job")).map((one) => [one.type, one.edit, one.body])).toEqual([
      ["undo", sent!.edit, null],
    ]);
    socket.says({ type: "mine", undo: null, redo: "Draw a wall" });
    socket.says({ type: "ack", edit: sent!.edit, told: [] });
    expect(session.undoWords).toBeNull();
    session.undo();
    expect(socket.of("undo").length).toBe(1);
    expect(session.redoWords).toBe("Draw a wall");
    session.redo();
    expect(socket.of("redo").length).toBe(1);
  });
  it("of an edit that waits unsent takes it back here; redo brings it again under another id", async () => {
    const { session, socket } = await live();
    socket.end();
    session.submit("One", [wall("W1")]);
    session.submit("Two", [wall("W2", 1)]);
    expect(session.undoWords).toBe("Two");
    session.undo();
    expect(session.waiting).toBe(1);
    expect(ids(session)).toEqual(["W1"]);
    expect(session.redoWords).toBe("Two");
    await settled();
    expect((await allWaiting("a job")).map((one) => one.body!.label)).toEqual(["One"]);
    session.undo();
    expect(ids(session)).toEqual([]);
    session.redo();
    expect(ids(session)).toEqual(["W1"]);
    expect(session.redoWords).toBe("Two");
    session.redo();
    expect(session.redoWords).toBeNull();
    const next = await back(300);
    next.says({ type: "mine", undo: null, redo: null });
    const sent = next.of("edit");
    expect(sent.map((one) => one.label)).toEqual(["One", "Two"]);
    expect(sent.map((one) => one.base)).toEqual([7, 7]);
  });
  it("of an edit that was sent and not acknowledged is asked of the server after it", async () => {
    const { session, socket } = await live();
    session.submit("One", [wall("W1")]);
    expect(session.undoWords).toBe("One");
    session.undo();
    expect(socket.sent.slice(1).map((one) => one.type)).toEqual(["edit", "undo"]);
    expect(session.waiting).toBe(2);
    expect(ids(session)).toEqual(["W1"]); // until the server has undone it
  });
  it("redo of what one took back is gone with the next edit", async () => {
    const { session, socket } = await live();
    socket.end();
    session.submit("One", [wall("W1")]);
    session.undo();
    session.submit("Other", [wall("W2", 1)]);
    expect(session.redoWords).toBeNull();
    session.redo();
    expect(session.waiting).toBe(1);
  });
  it("an undo that waits names no edit of before it", async () => {
    const { session, socket } = await live();
    socket.says({ type: "mine", undo: "Old", redo: null });
    socket.end();
    session.undo();
    expect(session.waiting).toBe(1);
    session.undo(); // the one of before that: the server knows which
    expect(session.waiting).toBe(2);
  });
  it("redone under the revision that is seen now", async () => {
    const { session, socket } = await live();
    socket.end();
    session.submit("One", [wall("W1")]);
    session.undo();
    const next = await back(300);
    next.says({ type: "edits", edits: [row(8, [wall("W5", 2)])] });
    session.redo();
    expect(next.of("edit")[0]).toMatchObject({ base: 8, label: "One" });
  });
});

describe("a plan", () => {
  const state = { state: "done", revision: 7, stale: false, seconds: 2, words: "", refusal: null } as const;

  it("that is done is fetched once, and again when there is a newer one", async () => {
    const asked = answering(() => ({ ...state, plan: { notes: ["a"] } }));
    const { session, socket } = await live();
    socket.says({ type: "plan", ...state, state: "working" });
    expect(asked).toEqual([]);
    socket.says({ type: "plan", ...state });
    await settled();
    expect(asked).toEqual(["GET /api/jobs/a%20job/plan"]);
    expect(session.result).toEqual({ notes: ["a"] });
    socket.says({ type: "plan", ...state });
    await settled();
    expect(asked.length).toBe(1);
    socket.says({ type: "plan", ...state, revision: 8 });
    await settled();
    expect(asked.length).toBe(2);
  });
  it("that could not be fetched is asked for with the next word of it", async () => {
    let fails = true;
    const asked = answering(() => {
      if (fails) throw new Error("gone");
      return { ...state, plan: { notes: [] } };
    });
    const { session, socket } = await live();
    socket.says({ type: "plan", ...state });
    await settled();
    expect(session.result).toBeNull();
    fails = false;
    socket.says({ type: "plan", ...state });
    await settled();
    expect(asked.length).toBe(2);
    expect(session.result).not.toBeNull();
  });
  it("that is not there leaves the last one standing", async () => {
    answering(() => ({ ...state, plan: null }));
    const { session, socket } = await live();
    session.result = { notes: ["old"] } as never;
    socket.says({ type: "plan", ...state });
    await settled();
    expect(session.result).toEqual({ notes: ["old"] });
  });
  it("is stale after any edit, own or others', sent or not, or when the server says so", async () => {
    answering(() => ({ ...state, plan: { notes: [] } }));
    const { session, socket } = await live();
    expect(session.stale).toBe(false);
    socket.says({ type: "plan", ...state, state: "failed", stale: true });
    expect(session.stale).toBe(false);
    socket.says({ type: "plan", ...state });
    expect(session.stale).toBe(false);
    socket.says({ type: "plan", ...state, stale: true });
    expect(session.stale).toBe(true);
    socket.says({ type: "plan", ...state });
    session.submit("Draw", [wall("W1")]);
    expect(session.stale).toBe(true);
    socket.says({ type: "ack", edit: socket.of("edit")[0]!.edit, told: [] });
    expect(session.stale).toBe(false);
    socket.says({ type: "edits", edits: [row(8, [])] });
    expect(session.stale).toBe(true);
  });
  it("is made once what waits is there", async () => {
    const asked = answering((method) => (method === "POST" ? { ...state, state: "working" } : state));
    const { session, socket } = await live();
    session.submit("Draw", [wall("W1")]);
    const made = session.runPlan();
    await vi.advanceTimersByTimeAsync(500);
    expect(asked).toEqual([]);
    socket.says({ type: "ack", edit: socket.of("edit")[0]!.edit, told: [] });
    await vi.advanceTimersByTimeAsync(25);
    await made;
    expect(asked).toEqual(["POST /api/jobs/a%20job/plan"]);
    expect(session.plan!.state).toBe("working");
  });
  it("that was made at once is fetched", async () => {
    const asked = answering((method) => (method === "POST" ? state : { ...state, plan: { notes: ["b"] } }));
    const { session } = await live();
    await session.runPlan();
    expect(asked).toEqual(["POST /api/jobs/a%20job/plan", "GET /api/jobs/a%20job/plan"]);
    expect(session.result).toEqual({ notes: ["b"] });
  });
  it("is asked for all the same after five seconds, and at once without a connection", async () => {
    const asked = answering(() => ({ ...state, state: "working" }));
    const { session, socket } = await live();
    session.submit("Draw", [wall("W1")]);
    const made = session.runPlan();
    await vi.advanceTimersByTimeAsync(200 * 25 - 1);
    expect(asked.length).toBe(0);
    await vi.advanceTimersByTimeAsync(1);
    await made;
    expect(asked.length).toBe(1);
    socket.end();
    await session.runPlan();
    expect(asked.length).toBe(2);
  });
  it("can be stopped", async () => {
    const asked = answering(() => ({ ...state, state: "stopped" }));
    const { session } = await live();
    await session.stopPlan();
    expect(asked).toEqual(["DELETE /api/jobs/a%20job/plan"]);
    expect(session.plan!.state).toBe("stopped");
  });
});
