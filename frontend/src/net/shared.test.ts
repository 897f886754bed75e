import { describe, expect, it } from "vitest";
import { answering, settled, wall } from "../../tests/live";
import { allWaiting, back, ids, live, opened, row, playedAnew } from "../../tests/session";

playedAnew();

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
  const state = { state: "done", revision: 7, made: 7, stale: false, seconds: 2, words: "", refusal: null } as const;

  it("that is done is fetched once, and again when there is a newer one", async () => {
    const asked = answering(() => ({ ...state, plan: { notes: ["a"] } }));
    const { session, socket } = await live();
    socket.says({ type: "plan", ...state, state: "working", made: null });
    expect(asked).toEqual([]);
    socket.says({ type: "plan", ...state });
    await settled();
    expect(asked).toEqual(["GET /api/jobs/a%20job/plan"]);
    expect(session.result).toEqual({ notes: ["a"] });
    socket.says({ type: "plan", ...state });
    await settled();
    expect(asked.length).toBe(1);
    socket.says({ type: "plan", ...state, state: "working", revision: 8 });
    await settled();
    expect(asked.length).toBe(1);
    socket.says({ type: "plan", ...state, revision: 8, made: 8 });
    await settled();
    expect(asked.length).toBe(2);
  });
  it("that was made is fetched while the next one is under way", async () => {
    const asked = answering(() => ({ ...state, plan: { notes: ["a"] } }));
    const { session, socket } = await live();
    socket.says({ type: "plan", ...state, state: "working", revision: 8 });
    await settled();
    expect(asked).toEqual(["GET /api/jobs/a%20job/plan"]);
    expect(session.result).toEqual({ notes: ["a"] });
    expect(session.stale).toBe(true);
  });
  it("is followed by the server while a part of the page shows it, and told so again after a break", async () => {
    answering(() => state);
    const { session, socket } = await live();
    expect(socket.of("showing")).toEqual([]);
    const one = session.follow();
    const other = session.follow();
    expect(socket.of("showing")).toEqual([{ type: "showing", plan: true }]);
    one();
    expect(socket.of("showing").length).toBe(1);
    socket.end();
    const next = await back(300);
    next.says({ type: "mine", undo: null, redo: null });
    expect(next.of("showing")).toEqual([{ type: "showing", plan: true }]);
    other();
    expect(next.of("showing").at(-1)).toEqual({ type: "showing", plan: false });
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
    let plan: unknown = { notes: ["old"] };
    answering(() => ({ ...state, plan }));
    const { session, socket } = await live();
    socket.says({ type: "plan", ...state });
    await settled();
    plan = null;
    socket.says({ type: "plan", ...state, made: state.made! + 1 });
    await settled();
    expect(session.result).toEqual({ notes: ["old"] });
  });
  it("is told by its answer first, and the rest stands as it was until the whole is there", async () => {
    const front = [{ cost: 700 }];
    const old = { notes: ["old"], order: ["T1"], choice: { cost: 700, front }, takeoff: { quote: { options: ["a"] } } };
    let plan: unknown = old;
    let made = state.made!;
    answering(() => ({ ...state, made, plan }));
    const { session, socket } = await live();
    const answer = { notes: ["new"], choice: { cost: 900, front: [] }, price: { total: 1200, options: [] } };
    socket.says({ type: "answer", revision: made + 1, answer } as never);
    expect([session.result, session.coming]).toEqual([null, false]);
    socket.says({ type: "plan", ...state });
    await settled();
    expect(session.result).toMatchObject({
      notes: ["new"],
      order: ["T1"],
      choice: { cost: 900, front },
      takeoff: { quote: { total: 1200, options: ["a"] } },
    });
    expect([session.coming, session.answeredOf]).toEqual([true, made + 1]);
    plan = { notes: ["whole"] };
    made += 1;
    socket.says({ type: "plan", ...state, made });
    await settled();
    expect([session.result, session.coming]).toEqual([{ notes: ["whole"] }, false]);
  });
  it("is stale after any edit, own or others', sent or not, or when the server says so", async () => {
    answering(() => ({ ...state, plan: { notes: [] } }));
    const { session, socket } = await live();
    expect(session.stale).toBe(false);
    socket.says({ type: "plan", ...state, state: "failed", made: null, stale: true });
    expect(session.stale).toBe(false);
    socket.says({ type: "plan", ...state, state: "failed" });
    await settled();
    expect(session.stale).toBe(true);
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
  it("is stale until what the server made is at hand, and a plan overtaken on its way is left", async () => {
    const pending: ((made: number) => void)[] = [];
    const named = (made: number) => ({ ...state, made, revision: made, plan: { notes: [`of ${made}`] } });
    answering(() => new Promise((done) => pending.push((made) => done(named(made)))));
    const { session, socket } = await live();
    socket.says({ type: "plan", ...state, made: 7, revision: 7 });
    expect(session.stale).toBe(true);
    socket.says({ type: "plan", ...state, made: 8, revision: 8 });
    pending[1]!(8);
    await settled();
    expect([session.stale, session.made]).toEqual([false, 8]);
    pending[0]!(7);
    await settled();
    expect([session.result, session.made]).toEqual([{ notes: ["of 8"] }, 8]);
  });
  it("that was made at once is fetched", async () => {
    const asked = answering((method) => (method === "POST" ? state : { ...state, plan: { notes: ["b"] } }));
    const { session } = await live();
    await session.runPlan();
    expect(asked).toEqual(["POST /api/jobs/a%20job/plan", "GET /api/jobs/a%20job/plan"]);
    expect(session.result).toEqual({ notes: ["b"] });
  });
  it("can be stopped", async () => {
    const asked = answering(() => ({ ...state, state: "stopped" }));
    const { session } = await live();
    await session.stopPlan();
    expect(asked).toEqual(["DELETE /api/jobs/a%20job/plan"]);
    expect(session.plan!.state).toBe("stopped");
  });
});
