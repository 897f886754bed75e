/** A live session over a played socket, database and clock. */
import { afterEach, beforeEach, expect, vi } from "vitest";
import type { Change } from "../src/job/types";
import type { Row } from "../src/net/said";
import type { Session } from "../src/net/session.svelte";
import { FakeSocket, freshBrowser, jobWith } from "./live";
import { learnWords } from "./words";

export let Live: typeof Session;
export let { allWaiting, keepSeen, lastSeen } = {} as typeof import("../src/net/keep");
export const sessions: Session[] = [];

/** Each test begins in a browser that knows nothing, and leaves no session open. */
export function playedAnew(): void {
  beforeEach(async () => {
    freshBrowser();
    vi.resetModules(); // a page that was opened anew knows nothing of the database of the one before
    await learnWords();
    ({ allWaiting, keepSeen, lastSeen } = await import("../src/net/keep"));
    Live = (await import("../src/net/session.svelte")).Session;
  });
  afterEach(() => {
    sessions.splice(0).forEach((one) => one.close());
    vi.useRealTimers();
    vi.unstubAllGlobals();
  });
}

export async function opened(person = "ann"): Promise<{ session: Session; socket: FakeSocket }> {
  const session = new Live("a job", person);
  sessions.push(session);
  await session.start();
  return { session, socket: FakeSocket.last };
}

/** A session that has heard the job at revision 7. */
export async function live(...changes: Change[]): Promise<{ session: Session; socket: FakeSocket }> {
  const made = await opened();
  made.socket.open();
  made.socket.says({ type: "snapshot", revision: 7, job: jobWith(...changes) });
  return made;
}

/** The server is back after a pause that the page waits for. */
export async function back(after_ms: number): Promise<FakeSocket> {
  const before = FakeSocket.all.length;
  await vi.advanceTimersByTimeAsync(after_ms);
  expect(FakeSocket.all.length).toBe(before + 1);
  FakeSocket.last.open();
  return FakeSocket.last;
}

export const ids = (session: Session): string[] => session.job!.house.walls.map((one) => one.id);
export const row = (revision: number, changes: Change[], more: Partial<Row> = {}): Row => ({
  revision,
  edit: `e${revision}`,
  person: "ben",
  name: "Ben",
  label: "Draw",
  changes,
  ...more,
});
export const refusal = { code: "taken", problem: "that id is taken", where: "W1", remedy: "Take another" };
