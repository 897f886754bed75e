import { describe, expect, it } from "vitest";
import type { Job } from "../job/types";
import { limitOf, nothing, upRound, type Round } from "./measure";
import { linesOf, savedAs, type Where } from "./readings";
import { spreadOf, sureness } from "./spread";
import { Tally } from "./tally";

describe("the interval of a median", () => {
  it("is the whole span of five, and says 93.75 %", () => {
    const spread = spreadOf([5, 1, 4, 2, 30])!;
    expect([spread.low, spread.middle, spread.high, spread.sure_pct]).toEqual([1, 4, 30, 93.75]);
  });
  it("says what too few are worth", () => {
    expect(spreadOf([7, 9, 8])!.sure_pct).toBe(75);
    expect(spreadOf([7])).toMatchObject({ middle: 7, low: 7, high: 7, sure_pct: 0, sd: null });
    expect(spreadOf([])).toBeNull();
  });
  it("of ten leaves one out at each end", () => {
    // Order statistics 2 and 9 of 10: 97.9 % (printed in tables of the sign test: 2 × 11 / 1024 outside).
    expect(sureness(10, 1)).toBeCloseTo(1 - 22 / 1024, 12);
    const spread = spreadOf([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])!;
    expect([spread.low, spread.high, spread.middle]).toEqual([2, 9, 5.5]);
  });
  it("holds the median as often as it says", () => {
    let seed = 1;
    const random = () => (seed = (seed * 48271) % 2147483647) / 2147483647; // Park and Miller
    let inside = 0;
    let said = 0;
    for (let trial = 0; trial < 4000; trial++) {
      const spread = spreadOf(Array.from({ length: 20 }, () => random() ** 3))!; // median 0.125
      said = spread.sure_pct / 100;
      if (spread.low <= 0.125 && 0.125 <= spread.high) inside++;
    }
    expect(said).toBeGreaterThanOrEqual(0.9);
    expect(Math.abs(inside / 4000 - said)).toBeLessThan(4 * Math.sqrt((said * (1 - said)) / 4000));
  });
});

describe("a tally", () => {
  it("leaves the slow beginning out", () => {
    const tally = new Tally(0, 300);
    for (let ms = 50; ms <= 300; ms += 50) tally.add(1000, ms); // 0.16 Mb/s
    for (let ms = 400; ms <= 2000; ms += 100) tally.add(1_250_000, ms); // 100 Mb/s
    expect(tally.mbps(2100)).toBeCloseTo(100, 6);
  });
  it("judges very little over the whole time", () => {
    const tally = new Tally(0, 300);
    tally.add(125_000, 250);
    expect(tally.mbps(2000)).toBeCloseTo(0.5, 9);
    expect(new Tally(0, 300).mbps(2000)).toBeNull();
  });
});

const round = (mbps: number, limit: Round["limit"] = "network"): Round => ({ mbps, limit, bytes: 1 });

describe("who the limit is", () => {
  it("is the server from half of the rounds on", () => {
    expect(limitOf([round(1), round(1, "server"), round(1, "server")])).toBe("server");
    expect(limitOf([round(1), round(1), round(1, "server")])).toBe("network");
    expect(limitOf([])).toBe("network");
  });
  it("and rates up are between two accounts", () => {
    const early = { down_bytes: 0, down_seconds: 0, up_bytes: 1e6, up_seconds: 0.5, limit: "network" as const };
    expect(upRound(early, { ...early, up_bytes: 13.5e6, up_seconds: 1.5 }).mbps).toBeCloseTo(100, 9);
    expect(upRound(early, early).mbps).toBeCloseTo(16, 9);
    // Nothing came in the second between them, or they lie 0.05 s apart: over all of the time.
    expect(upRound(early, { ...early, up_seconds: 1.6 }).mbps).toBeCloseTo(5, 9);
    expect(upRound(early, { ...early, up_bytes: 1.1e6, up_seconds: 0.55 }).mbps).toBeCloseTo(16, 9);
    expect(upRound({ ...early, up_bytes: 0 }, { ...early, up_bytes: 0, up_seconds: 0 }).mbps).toBe(0);
    expect(upRound(early, { ...early, up_bytes: 13.5e6, limit: "server" })).toMatchObject({
      bytes: 13.5e6,
      limit: "server",
    });
  });
});

describe("saving", () => {
  const job = {
    house: { storeys: [], rooms: [], walls: [], openings: [], bodies: [], outlets: [], meeting_points: [], runs: [] },
    boxes: [],
    devices: [{ id: "Dq1" }],
    needs: [],
    obligations: [],
    readings: [{ id: "Qq1" }],
    heard: [],
  } as unknown as Job;
  const where: Where = {
    room: "R1",
    storey: "1",
    device: null,
    newDevice: { name: "Phone", client: "phone" },
    wired: false,
    box: null,
    band: "5",
    doors: "open",
    stage: "after",
    time: "2026-01-01T10:00:00.000Z",
    note: "",
  };

  it("makes one reading a quantity, with the device it was made on", () => {
    const lines = linesOf({ ...nothing(), down: [round(100.04), round(120), round(80)], delay_ms: [2, 3, 4] });
    const changes = savedAs(job, "q", lines, where) as { entity: Record<string, unknown> }[];
    expect(changes.map((change) => change.entity.id)).toEqual(["Dq2", "Qq2", "Qq3"]);
    expect(changes[1]!.entity).toMatchObject({
      quantity: "down_mbps",
      value: 100,
      spread: 20,
      repeats: 3,
      room: "R1",
      band: "5",
      device: "Dq2",
    });
    expect(changes[1]!.entity).not.toHaveProperty("newDevice");
  });
  it("keeps what the server limited out of the room", () => {
    const lines = linesOf({ ...nothing(), down: [round(9000, "server")], loaded_ms: [40], up: [round(50)] });
    const changes = savedAs(job, "q", lines, { ...where, newDevice: null, device: "Dq1" }) as {
      entity: Record<string, unknown>;
    }[];
    expect(changes.map((change) => change.entity.quantity)).toEqual(["up_mbps"]);
    expect(
      savedAs(
        job,
        "q",
        lines.filter((line) => line.byServer),
        where,
      ),
    ).toEqual([]);
  });
});
