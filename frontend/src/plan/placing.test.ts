import { describe, expect, it } from "vitest";
import { applied } from "../job/apply";
import type { Job, Room } from "../job/types";
import { mapScale, mapWords } from "./mapLayer";
import { shiftedStorey } from "./moves";
import { placed, type Ground } from "./placing";
import { onStorey, withMoved } from "./storey";

const square: [number, number][] = [
  [0, 0],
  [4, 0],
  [4, 4],
  [0, 4],
];
const wall = (id: string, start: [number, number], end: [number, number]) => ({
  id,
  storey: "1",
  start,
  end,
  layers: [],
  construction: "unknown",
});
const job = {
  units: "metric",
  needs: [],
  readings: [],
  boxes: [],
  house: {
    storeys: [{ id: "1", name: "One", elevation_m: 0, height_m: 2.4 }],
    openings: [],
    bodies: [],
    outlets: [],
    meeting_points: [],
    splitters: [],
    runs: [],
    rooms: [],
    walls: square.map((p, i) => wall(`W${i}`, p, square[(i + 1) % 4]!)),
  },
} as unknown as Job;
const ground = (one: Job): Ground => ({
  job: one,
  on: onStorey(one, "1")!,
  mark: "q",
  known: new Map(),
  alone: true,
  reach_m: 0.1,
});
const put = (tool: "outside" | "room", one: Job, at: [number, number]): Job => {
  const made = placed(tool, ground(one), at);
  if (typeof made === "string") throw new Error(made);
  return applied(one, made.changes);
};

describe("an outside area", () => {
  it("is put about the press, asks for nothing and holds nobody", () => {
    const garden = put("outside", job, [2, 9]).house.rooms[0] as Room;
    expect(garden).toMatchObject({ outside: true, lived_in: false, storey: "1" });
    expect(garden.polygon).toEqual([
      [0, 7],
      [4, 7],
      [4, 11],
      [0, 11],
    ]);
  });
  it("is refused within a room, and never keeps a room from being drawn", () => {
    const around = put("outside", job, [2, 2]);
    const both = put("room", around, [2, 2]);
    expect(both.house.rooms.map((one) => one.outside)).toEqual([true, false]);
    expect(onStorey(both, "1")!.rooms.map((one) => one.outside)).toEqual([false, true]);
    expect(placed("outside", ground(both), [2, 2])).toContain("within the house");
  });
});

describe("the scale of the way up", () => {
  it("ends at the rate paid for that way", () => {
    const paid = { down_mbps: 460, up_mbps: 40 };
    expect(mapScale("up_mbps", paid)).toMatchObject({ low: 1, high: 40, levels: [2, 5, 10, 25] });
    expect(mapScale("down_mbps", paid).high).toBe(460);
    expect(mapScale("up_low_mbps", { down_mbps: 460, up_mbps: 1 }).high).toBe(10);
    expect(mapWords("up_mbps")).toContain("up");
  });
});

it("a router that the plan moves is drawn where it will stand, and the job stays as it is", () => {
  const box = { id: "BX1", name: "Router", storey: "1", position: [1, 1] } as unknown as Job["boxes"][number];
  const one = { ...job, boxes: [box] };
  const seen = withMoved(one, { box: "BX1", storey: "1", position: [3, 2] });
  expect(onStorey(seen, "1")!.boxes.map((found) => found.position)).toEqual([[3, 2]]);
  expect(one.boxes[0]!.position).toEqual([1, 1]);
  expect(withMoved(one, { box: "BX1", storey: "", position: null })).toBe(one);
});

describe("a storey moved over the one below", () => {
  it("takes every part of its floor along, and the holes in it", () => {
    const part = (x: number): [number, number][] => [
      [x, 0],
      [x + 1, 0],
      [x + 1, 2],
      [x, 2],
    ];
    const floor = {
      construction: "unknown",
      layers: [],
      thickness_m: 0.3,
      outlines: [part(0), part(3)],
      voids: [part(3.5)],
    };
    const storeys = [{ ...job.house.storeys[0]!, floor }];
    const parted = { ...job, house: { ...job.house, storeys } } as unknown as Job;
    const moved = applied(parted, shiftedStorey(parted, "1", [1, 0.5])).house.storeys[0]!.floor;
    const by = (ring: [number, number][]) => ring.map(([x, y]) => [x + 1, y + 0.5]);
    expect(moved).toEqual({ ...floor, outlines: [by(part(0)), by(part(3))], voids: [by(part(3.5))] });
  });
});
