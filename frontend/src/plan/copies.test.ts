import { describe, expect, it } from "vitest";
import { jobWith } from "../../tests/live";
import { applied } from "../job/apply";
import type { Change } from "../job/types";
import { lengthOf, type Point } from "../maths/geometry";
import { copiedWalls, outerWalls } from "./copies";

const wall = (id: string, start: Point, end: Point, more: object = {}): Change => ({
  do: "put",
  kind: "wall",
  entity: { id, storey: "1", start, end, construction: "brick", ...more },
});
const up: Change = { do: "put", kind: "storey", entity: { id: "2", name: "Up", elevation_m: 3 } };
/** Two rooms: the walls above and below are cut where the one between them meets the first, and whole at the other. */
const house = jobWith(
  up,
  wall("S1", [0, 0], [4, 0], { thickness_m: 0.3, note: "damp", fire_rated: true }),
  wall("S2", [4, 0], [7, 0], { thickness_m: 0.3 }),
  wall("E", [7, 0], [7, 3]),
  wall("N", [7, 3], [0, 3]),
  wall("W", [0, 3], [0, 0]),
  wall("M", [4, 0], [4, 3]),
  wall("spur", [7, 1], [9, 1]),
);

describe("walls of the storey below", () => {
  it("are copied all, as they are made, under ids of their own", () => {
    const job = applied(house, copiedWalls(house, "1", "2", "all", "a"));
    const made = job.house.walls.filter((one) => one.storey === "2");
    expect(made.length).toBe(7);
    expect(made[0]).toMatchObject({ start: [0, 0], end: [4, 0], construction: "brick", thickness_m: 0.3, note: "" });
    expect(new Set(job.house.walls.map((one) => one.id)).size).toBe(14);
    expect(copiedWalls(job, "1", "2", "all", "a")).toEqual([]);
  });
  it("around the house are those with a room on one side alone, in pieces as long as they can be", () => {
    const job = applied(house, copiedWalls(house, "1", "2", "outer", "a"));
    const made = job.house.walls.filter((one) => one.storey === "2");
    expect(made.map(lengthOf).sort()).toEqual([3, 3, 7, 7]);
    expect(made.every((one) => one.storey === "2" && one.construction === "brick")).toBe(true);
  });
  it("are not joined where they are made otherwise", () => {
    const two = jobWith(
      wall("S1", [0, 0], [4, 0]),
      wall("S2", [4, 0], [7, 0], { construction: "stone" }),
      wall("S3", [7, 0], [8, 0], { construction: "stone", thickness_m: 0.5 }),
      wall("E", [8, 0], [8, 3]),
      wall("N", [8, 3], [0, 3]),
      wall("W", [0, 3], [0, 0]),
    );
    expect(outerWalls(two.house.walls).length).toBe(6);
  });
  it("are all of them where they enclose nothing", () => {
    const open = jobWith(wall("A", [0, 0], [4, 0]), wall("B", [4, 0], [4, 3]));
    expect(outerWalls(open.house.walls).length).toBe(2);
  });
  it("leave out what stands there already, and only that", () => {
    const job = applied(house, [wall("X", [0, 0], [9, 0], { storey: "2" })]);
    const made = copiedWalls(job, "1", "2", "outer", "a");
    expect(made.length).toBe(3);
  });
  it("are copied beside one that stands near them", () => {
    const job = applied(house, [wall("X", [0, 0.5], [9, 0.5], { storey: "2" })]);
    expect(copiedWalls(job, "1", "2", "outer", "a").length).toBe(4);
  });
  it("are found around a house that stands askew", () => {
    const askew = jobWith(
      wall("A", [0, 0], [3, 3]),
      wall("B", [3, 3], [0, 6]),
      wall("C", [0, 6], [-3, 3]),
      wall("D", [-3, 3], [0, 0]),
      wall("M", [1.5, 1.5], [-1.5, 4.5]),
    );
    expect(outerWalls(askew.house.walls).map((one) => one.start).length).toBe(4);
  });
  it("are cut where two of them cross", () => {
    const cross = jobWith(
      wall("S", [0, 0], [4, 0]),
      wall("E", [4, 0], [4, 4]),
      wall("N", [4, 4], [0, 4]),
      wall("W", [0, 4], [0, 0]),
      wall("H", [-2, 2], [6, 2]),
    );
    const made = outerWalls(cross.house.walls);
    expect(made.map(lengthOf).sort()).toEqual([4, 4, 4, 4]);
  });
});
