import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { Refusal } from "../net/api";
import { measure, PINGS, ROUNDS, STREAMS, type Measured, type Progress } from "./measure";

beforeEach(() => vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout", "performance"] }));
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

type Server = {
  ping_ms: number;
  pull_ms: number; // from piece to piece that comes down
  pull_bytes: number;
  push_ms: number; // to take a piece
  limit: "network" | "server";
  refuse: string; // a part of a path that is refused
  cut: string; // a part of a path that nobody answers
};

/** A server with a rate and a delay, on a clock that the test moves. */
function serving(given: Partial<Server> = {}) {
  const server: Server = {
    ping_ms: 8,
    pull_ms: 10,
    pull_bytes: 25_000,
    push_ms: 100,
    limit: "network",
    refuse: "none",
    cut: "none",
    ...given,
  };
  const asked: string[] = [];
  const sizes: number[] = [];
  const now = { runs: 0, pulling: 0, most: 0, up_bytes: 0, up_began_ms: 0, ping: 0 };
  const after = <T>(ms: number, value: () => T, signal?: AbortSignal | null) =>
    new Promise<T>((resolve, reject) => {
      const stopped = () => reject(new DOMException("stopped", "AbortError"));
      if (signal?.aborted) return stopped();
      const timer = setTimeout(() => resolve(value()), ms);
      signal?.addEventListener("abort", () => (clearTimeout(timer), stopped()));
    });
  const json = (data: unknown) => ({ ok: true, json: async () => data });
  const account = () => ({
    down_bytes: 0,
    down_seconds: 0,
    up_bytes: now.up_bytes,
    up_seconds: (performance.now() - now.up_began_ms) / 1000,
    limit: server.limit,
  });
  vi.stubGlobal("fetch", async (path: string, wanted: RequestInit) => {
    asked.push(path);
    const { signal } = wanted;
    if (path.includes(server.cut)) throw new TypeError("cut");
    if (path.includes(server.refuse)) {
      const data = { code: "busy", problem: "too many measure", where: "", remedy: "Wait" };
      return { ok: false, status: 503, body: {}, json: async () => data };
    }
    if (path === "/api/meter") {
      [now.up_bytes, now.up_began_ms] = [0, performance.now()];
      return json({ run: `r${++now.runs}` });
    }
    if (path.endsWith("/ping")) return after(server.ping_ms + (now.ping++ ? 0 : 700), () => json({}), signal);
    if (path.includes("/down")) {
      now.most = Math.max(now.most, ++now.pulling);
      const read = () =>
        after(server.pull_ms, () => ({ done: false, value: new Uint8Array(server.pull_bytes) }), signal);
      signal!.addEventListener("abort", () => (now.pulling -= 1));
      return { ok: true, body: { getReader: () => ({ read }) } };
    }
    if (path.endsWith("/up")) {
      const { size } = wanted.body as Blob;
      sizes.push(size);
      return after(server.push_ms, () => ((now.up_bytes += size), { ok: true, arrayBuffer: async () => null }), signal);
    }
    return json(account());
  });
  return { asked, sizes, now };
}

async function measured(stop = new AbortController().signal, during = async () => {}) {
  const said: Progress[] = [];
  let end: Measured | unknown;
  const work = measure((one) => said.push(one), stop).then(
    (found) => (end = found),
    (fault) => (end = fault),
  );
  await during();
  for (let turns = 0; end === undefined && turns < 4000; turns++) await vi.advanceTimersByTimeAsync(10);
  await work;
  return { said, end };
}

describe("a measurement", () => {
  it("of an even line says its rate and its delay", async () => {
    const { asked, now } = serving();
    const { said, end } = await measured();
    const found = end as Measured;
    expect(found.delay_ms).toEqual(Array.from({ length: PINGS }, () => 8)); // not the one that opened the connection
    expect([found.down.length, found.up.length]).toEqual([ROUNDS, ROUNDS]);
    // 25 kB each 10 ms by each of the streams: 80 Mb/s.
    for (const round of found.down) expect(round.mbps).toBeCloseTo((25_000 * 8 * STREAMS) / 10 / 1000, 0);
    expect(now.most).toBe(STREAMS);
    for (const round of found.down) expect(round.bytes).toBeGreaterThan(2 * 9e6);
    expect(found.loaded_ms.length).toBeGreaterThan(ROUNDS * 5);
    expect(found.loaded_ms.length).toBeLessThanOrEqual(ROUNDS * Math.ceil((2000 - 600) / 158));
    expect(new Set(found.loaded_ms)).toEqual(new Set([8]));
    expect(found.down[0]!.limit).toBe("network");
    expect(said.map((one) => one.doing)).toEqual(["delay", ...Array(ROUNDS).fill(["down", "up"]).flat()]);
    expect(said.map((one) => one.round)).toEqual([0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5]);
    expect(said.map((one) => one.share)).toEqual(said.map((_, i) => i / 11));
    expect(said[1]!.measured.delay_ms.length).toBe(PINGS);
    expect(said[2]!.measured).toMatchObject({ down: [{}], up: [] });
    expect(new Set(asked.filter((path) => path.includes("/down"))).size).toBe(ROUNDS); // each round is a run
    expect(asked.find((path) => path.includes("/down"))).toBe("/api/meter/r2/down?seconds=2");
  });
  it("sends in pieces that grow while they go quickly", async () => {
    const { sizes } = serving();
    await measured();
    expect(sizes[0]).toBe(256 * 1024);
    expect(sizes[STREAMS]).toBe(1024 * 1024);
    expect(sizes[2 * STREAMS]).toBe(4 * 1024 * 1024);
    expect(Math.max(...sizes)).toBe(16 * 1024 * 1024);
  });
  it("keeps to small pieces on a slow line, and takes the rate up from the server's accounts", async () => {
    const { sizes } = serving({ push_ms: 600 });
    const { end } = await measured();
    expect(new Set(sizes)).toEqual(new Set([256 * 1024]));
    // Between 0.3 s and 2 s two times four pieces came: at 0.6, 1.2 and 1.8 s.
    const bytes = 3 * STREAMS * 256 * 1024;
    for (const round of (end as Measured).up) expect(round.mbps).toBeCloseTo((bytes * 8) / 1.7 / 1e6, 1);
  });
  it("says where the server was the limit", async () => {
    serving({ limit: "server" });
    const found = (await measured()).end as Measured;
    expect(found.down.every((one) => one.limit === "server") && found.up.every((one) => one.limit === "server")).toBe(
      true,
    );
  });
  it("ends a round at a gigabyte", async () => {
    serving({ pull_bytes: 40_000_000 });
    const found = (await measured()).end as Measured;
    for (const round of found.down) expect(round.bytes).toBeLessThan(1.3e9);
  });
  it("that is stopped keeps what was measured up to then", async () => {
    const { asked } = serving();
    const stop = new AbortController();
    const { end } = await measured(stop.signal, async () => {
      await vi.advanceTimersByTimeAsync(3500); // in the second half of the first round
      stop.abort();
    });
    const found = end as Measured;
    expect([found.delay_ms.length, found.down.length, found.up.length]).toEqual([PINGS, 1, 0]);
    const before = asked.length;
    await vi.advanceTimersByTimeAsync(5000);
    expect(asked.length).toBe(before);
  });
  it("that is stopped while the delay is measured goes no farther", async () => {
    serving();
    const stop = new AbortController();
    const { end, said } = await measured(stop.signal, async () => {
      await vi.advanceTimersByTimeAsync(730);
      stop.abort();
    });
    expect((end as Measured).delay_ms.length).toBeLessThan(5);
    expect(said.length).toBe(1);
  });
  it.each(["/api/meter", "/down", "/up"])("that the server refuses at %s says why", async (refuse) => {
    serving({ refuse });
    const { end } = await measured();
    expect(end).toBeInstanceOf(Refusal);
    expect((end as Refusal).data.problem).toBe("too many measure");
  });
  it.each(["/ping", "/down", "/up"])("whose connection breaks at %s says so", async (cut) => {
    serving({ cut });
    const { end } = await measured();
    expect((end as Refusal).message).toBe("The connection broke while measuring. Go nearer and measure again.");
    expect((end as Refusal).status).toBe(0);
  });
});
