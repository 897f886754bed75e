import { describe, expect, it, vi } from "vitest";
import { FakeSocket, happens, jobWith, settled, wall } from "../../tests/live";
import {
  allWaiting,
  back,
  ids,
  keepSeen,
  lastSeen,
  Live,
  live,
  opened,
  refusal,
  row,
  sessions,
  playedAnew,
} from "../../tests/session";
import type { Change } from "../job/types";

playedAnew();

describe("connecting", () => {
  it("asks for the live socket of its job, and says hello once it is open", async () => {
    const { session, socket } = await opened();
    expect(socket.url).toBe("ws://sheet.test/api/jobs/a%20job/live?language=en");
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
