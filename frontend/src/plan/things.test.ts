import { describe, expect, it, vi } from "vitest";
import { jobWith } from "../../tests/live";
import { applied } from "../job/apply";
import type { Change, Job } from "../job/types";
import type { Point } from "../maths/geometry";
import { placed, type Ground } from "./placing";
import { onStorey } from "./storey";

const put = (kind: string, entity: object): Change => ({ do: "put", kind, entity }) as Change;
const wall = (id: string, start: Point, end: Point) => put("wall", { id, storey: "1", start, end, thickness_m: 0.1 });
const polygon: Point[] = [[0, 0], [4, 0], [4, 3], [0, 3]]; // prettier-ignore
const bare = jobWith(
  wall("A", [0, 0], [4, 0]),
  wall("B", [4, 0], [4, 3]),
  wall("C", [4, 3], [0, 3]),
  wall("D", [0, 3], [0, 0]),
);
const house = applied(bare, [put("room", { id: "R", storey: "1", name: "Room", polygon })]);

/** What a press with a tool makes: the thing, or why it cannot be. */
function made(tool: Parameters<typeof placed>[0], at: Point, job: Job = house) {
  const ground: Ground = { job, on: onStorey(job, "1")!, mark: "q", known: new Map(), alone: true, reach_m: 0.1 };
  const found = placed(tool, ground, at);
  if (typeof found === "string") return { why: found };
  const [change] = found.changes;
  const entity = (change as { entity: { id: string } & Record<string, unknown> }).entity;
  expect(found.picked).toEqual({ kind: (change as { kind: string }).kind, id: entity.id });
  return { ...entity, label: found.label, done: found.done };
}

describe("what is put in a wall", () => {
  it.each([
    ["door", { offset_m: 1.6, width_m: 0.8, height_m: 2, sill_m: 0, label: "Add a door" }],
    ["window", { offset_m: 1.4, width_m: 1.2, height_m: 1.2, sill_m: 0.9, label: "Add a window" }],
    ["gap", { offset_m: 1.55, width_m: 0.9, height_m: 2, sill_m: 0 }],
  ] as const)("a %s stands with its middle where it was pressed", (tool, sizes) => {
    expect(made(tool, [2, 0.03])).toMatchObject({ wall: "A", kind: tool, done: false, ...sizes });
  });
  it("stays on its wall by a corner, and begins at a whole step", () => {
    expect(made("door", [0.1, 0])).toMatchObject({ wall: "A", offset_m: 0 });
    expect(made("door", [3.9, 0])).toMatchObject({ wall: "A", offset_m: 3.2 });
    expect(made("door", [2.03, 0])).toMatchObject({ offset_m: 1.65 });
  });
  it("is no wider than its wall", () => {
    const short = jobWith(wall("A", [0, 0], [0.5, 0]));
    expect(made("window", [0.2, 0], short)).toMatchObject({ offset_m: 0, width_m: 0.5 });
  });
  it("needs a wall within reach of its face", () => {
    expect(made("door", [2, 0.14])).toMatchObject({ wall: "A" }); // 9 cm off a face that is 5 cm off the middle
    expect(made("door", [2, 0.16])).toEqual({ why: "Press on a wall." });
    expect(made("door", [2, 0.16], jobWith())).toEqual({ why: "Press on a wall." });
  });
});

describe("rooms", () => {
  it("are what the walls around a press enclose, numbered on", () => {
    expect(made("room", [1, 1], bare)).toMatchObject({ storey: "1", name: "Room 1", done: false });
    const one = applied(bare, [put("room", { id: "X", storey: "1", name: "X", polygon: [[9, 9], [10, 9], [10, 10]] })]); // prettier-ignore
    expect(made("room", [1, 1], one)).toMatchObject({ name: "Room 2" });
    const [corners] = [made("room", [1, 1], bare) as unknown as { polygon: Point[] }].map((room) => room.polygon);
    expect([...corners!].sort()).toEqual([...polygon].sort());
  });
  it("are not put twice in one place, nor where the walls do not close", () => {
    expect(made("room", [1, 1])).toEqual({ why: "There is a room here already." });
    expect(made("room", [9, 1])).toMatchObject({ why: expect.stringMatching(/^The walls do not close here/) });
  });
  it("outside are squares of four metres, numbered by themselves", () => {
    const garden = made("outside", [10, 5]);
    expect(garden).toMatchObject({ name: "Outside 1", outside: true, lived_in: false, done: true });
    expect((garden as unknown as { polygon: Point[] }).polygon).toEqual([[8, 3], [12, 3], [12, 7], [8, 7]]); // prettier-ignore
    const yard = [[8, 3], [9, 3], [9, 4]]; // prettier-ignore
    const two = applied(house, [put("room", { id: "G", storey: "1", name: "G", outside: true, polygon: yard })]);
    expect(made("outside", [20, 5], two)).toMatchObject({ name: "Outside 2" });
  });
});

describe("things", () => {
  it("a plate by a wall lies on its face, 2 cm before it, and knows its room", () => {
    expect(made("outlet", [2, 0.1])).toMatchObject({ position: [2, 0.07], room: "R", storey: "1", done: false });
    expect(made("outlet", [2, -0.1])).toMatchObject({ position: [2, -0.07], room: null });
    expect(made("outlet", [2, 0.24])).toMatchObject({ position: [2, 0.07] }); // within 20 cm of the face
    expect(made("outlet", [2, 0.26])).toMatchObject({ position: [2, 0.26] });
  });
  it("an access point hangs at 2 m, a closet stands where it was pressed", () => {
    expect(made("box", [1.00049, 1])).toMatchObject({
      position: [1, 1],
      height_m: 2,
      name: "Access point",
      done: true,
    });
    expect(made("meeting", [1, 2])).toMatchObject({ name: "Closet", position: [1, 2], storey: "1" });
  });
  it("a fridge stands with its middle where it was pressed", () => {
    const fridge = made("body", [2, 1]);
    expect(fridge).toMatchObject({ corner: [1.7, 0.7], width_m: 0.6, depth_m: 0.6, height_m: 1.8, kind: "fridge" });
  });
  it("a reading says where, in which room and when", () => {
    vi.useFakeTimers({ now: new Date("2026-03-04T05:06:07Z") });
    const reading = made("reading", [2, 1]);
    expect(reading).toMatchObject({ position: [2, 1], room: "R", quantity: "power_dbm", value: -60 });
    expect(reading).toMatchObject({ time: "2026-03-04T05:06" });
    vi.useRealTimers();
    expect(made("reading", [9, 1])).toMatchObject({ room: null });
  });
});
