import { describe, expect, it } from "vitest";
import { jobWith } from "../../tests/live";
import { put, square } from "../../tests/sheet";
import { applied } from "../job/apply";
import type { Change } from "../job/types";
import { droppedGroup, framed, isIn, madeOf, movedGroup } from "./group";
import { onStorey, type Picked } from "./storey";

const more: Change[] = [
  put("opening", { id: "X", wall: "A", kind: "door", offset_m: 1, width_m: 0.8 } as never),
  put("opening", { id: "Y", wall: "B", kind: "door", offset_m: 1, width_m: 0.8 } as never),
  put("body", { id: "H", storey: "1", kind: "fridge", corner: [1, 1], width_m: 0.6, depth_m: 0.6 } as never),
  put("outlet", { id: "1-01", storey: "1", position: [0.1, 1] } as never),
  put("outlet", { id: "1-02", storey: "1", position: null } as never),
  { do: "put", kind: "meeting_point", entity: { id: "MP", storey: "1", name: "Closet", position: [3, 2] } },
  { do: "put", kind: "reading", entity: { id: "Q", storey: "1", position: [3.5, 2.5], value: 1 } },
  put("run", { id: "C", ends: ["MP", "1-01"], route: [[0, 0, 0], [1, 0, 0]] } as never), // prettier-ignore
];
const job = jobWith(...square, ...more);
const on = onStorey(job, "1")!;
const ids = (found: readonly Picked[]) => found.map((one) => one.id);
const some = (...names: [Picked["kind"], string][]) => names.map(([kind, id]) => ({ kind, id }));
const moved = (by: [number, number], ...names: [Picked["kind"], string][]) =>
  applied(job, movedGroup(job, on, some(...names), by));

describe("a frame", () => {
  it("holds what lies wholly within it, however it was drawn", () => {
    expect(ids(framed(on, [-1, -1], [5, 4]))).toEqual([
      "A",
      "B",
      "C",
      "D",
      "X",
      "Y",
      "R",
      "H",
      "1-01",
      "MP",
      "BX",
      "Q",
    ]);
    expect(ids(framed(on, [5, 4], [-1, -1])).length).toBe(12);
    expect(ids(framed(on, [0, 0], [4, 3])).length).toBe(12);
    expect(ids(framed(on, [0.05, 0.9], [1.7, 1.7]))).toEqual(["H", "1-01"]);
    expect(ids(framed(on, [0.05, 0.9], [1.5, 1.7]))).toEqual(["1-01"]);
    expect(ids(framed(on, [0.9, -0.1], [1.9, 0.1]))).toEqual(["X"]);
    expect(framed(on, [6, 6], [7, 7])).toEqual([]);
  });
});

describe("a group", () => {
  it("knows its own", () => {
    expect(isIn(some(["wall", "A"]), { kind: "wall", id: "A" })).toBe(true);
    expect(isIn(some(["wall", "A"]), { kind: "room", id: "A" })).toBe(false);
    expect(isIn(some(["wall", "A"]), { kind: "wall", id: "B" })).toBe(false);
  });
  it("moves walls with what meets them, openings and rooms of theirs", () => {
    const { house } = moved([0, -1], ["wall", "A"], ["opening", "X"]);
    expect(house.walls.map((one) => [one.start, one.end])).toEqual([
      [[0, -1], [4, -1]], [[4, -1], [4, 3]], [[4, 3], [0, 3]], [[0, 3], [0, -1]],
    ]); // prettier-ignore
    expect(house.rooms[0]!.polygon).toEqual([[0, -1], [4, -1], [4, 3], [0, 3]]); // prettier-ignore
    expect(house.openings.map((one) => one.offset_m)).toEqual([1, 2]); // the second stays where it was on the sheet
  });
  it("leaves what ends near a wall, and not on it", () => {
    const near = applied(job, [
      { do: "put", kind: "wall", entity: { id: "E", storey: "1", start: [2, 0.5], end: [2, 2] } },
    ]);
    const changes = movedGroup(near, onStorey(near, "1")!, some(["wall", "A"]), [0, -1]);
    expect(applied(near, changes).house.walls.at(-1)!.start).toEqual([2, 0.5]);
  });
  it("moves a room's outline once, with its walls or without", () => {
    const whole = moved([1, 2], ["wall", "A"], ["wall", "B"], ["wall", "C"], ["wall", "D"], ["room", "R"]).house;
    expect(whole.rooms[0]!.polygon).toEqual([[1, 2], [5, 2], [5, 5], [1, 5]]); // prettier-ignore
    expect(whole.walls[0]).toMatchObject({ start: [1, 2], end: [5, 2] });
    const alone = moved([1, 2], ["room", "R"], ["box", "BX"]);
    expect(alone.house.rooms[0]!.polygon[0]).toEqual([1, 2]);
    expect(alone.house.walls[0]!.start).toEqual([0, 0]);
    expect(alone.boxes[0]!.position).toEqual([3, 3.5]);
  });
  it("slides openings whose wall stays, and moves points and bodies", () => {
    const { house, readings } = moved(
      [0.25, 0.5],
      ["opening", "X"],
      ["body", "H"],
      ["outlet", "1-01"],
      ["outlet", "1-02"],
      ["meeting_point", "MP"],
      ["reading", "Q"],
      ["run", "C"],
    );
    expect(house.openings[0]!.offset_m).toBe(1.25);
    expect(house.bodies[0]!.corner).toEqual([1.25, 1.5]);
    expect(house.outlets.map((one) => one.position)).toEqual([[0.35, 1.5], null]); // prettier-ignore
    expect(house.meeting_points[0]!.position).toEqual([3.25, 2.5]);
    expect(readings[0]!.position).toEqual([3.75, 3]);
    expect(house.runs[0]!.route.length).toBe(2);
  });
  it("does not move where a wall would vanish, nor half of it", () => {
    expect(movedGroup(job, on, some(["wall", "A"], ["box", "BX"]), [0, 3])).toEqual([]);
    expect(movedGroup(job, on, some(["wall", "gone"], ["opening", "gone"], ["body", "gone"]), [1, 1])).toEqual([]);
  });
  it("goes as a whole: openings with their walls, of a cable its route", () => {
    expect(droppedGroup(on, some(["wall", "A"], ["opening", "X"], ["opening", "Y"], ["run", "C"]))).toEqual([
      { do: "drop", kind: "wall", id: "A" },
      { do: "drop", kind: "opening", id: "Y" },
      { do: "set", kind: "run", id: "C", fields: { route: [] } },
    ]);
  });
  it("is made of one thing as far as it is walls", () => {
    expect(madeOf(some(["wall", "A"], ["box", "BX"], ["wall", "B"]), "stone")).toEqual([
      { do: "set", kind: "wall", id: "A", fields: { construction: "stone" } },
      { do: "set", kind: "wall", id: "B", fields: { construction: "stone" } },
    ]);
  });
});
