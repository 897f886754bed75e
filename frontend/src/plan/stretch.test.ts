import { describe, expect, it } from "vitest";
import { jobWith } from "../../tests/live";
import { applied } from "../job/apply";
import type { Change, Job } from "../job/types";
import type { Point } from "../maths/geometry";
import { stretched } from "./stretch";

const wall = (id: string, start: Point, end: Point, storey = "1"): Change => ({
  do: "put",
  kind: "wall",
  entity: { id, storey, start, end },
});
/** Two rooms side by side, cut where they meet; the same outline upstairs. */
const house = jobWith(
  wall("S1", [0, 0], [4, 0]),
  wall("S2", [4, 0], [7, 0]),
  wall("E", [7, 0], [7, 3]),
  wall("N2", [7, 3], [4, 3]),
  wall("N1", [4, 3], [0, 3]),
  wall("W", [0, 3], [0, 0]),
  wall("M", [4, 0], [4, 3]),
  wall("up", [0, 0], [4, 0], "2"),
  {
    do: "put",
    kind: "room",
    entity: { id: "A", storey: "1", name: "A", polygon: [[0, 0], [4, 0], [4, 3], [0, 3]] } as never, // prettier-ignore
  },
);
const made = (job: Job, id: string, length_m: number, far?: "start" | "end"): Job | string => {
  const changes = stretched(
    job,
    job.house.walls.find((one) => one.id === id)!,
    length_m,
    far,
  );
  return typeof changes === "string" ? changes : applied(job, changes);
};
const at = (job: Job | string, id: string) => {
  if (typeof job === "string") throw new Error(job);
  const { start, end } = job.house.walls.find((one) => one.id === id)!;
  return [start, end];
};

describe("a wall by its length", () => {
  it("moves what runs across its far end whole, and lengthens or shortens what runs along", () => {
    const longer = made(house, "S1", 4.5);
    expect(at(longer, "S1")).toEqual([[0, 0], [4.5, 0]]); // prettier-ignore
    expect(at(longer, "M")).toEqual([[4.5, 0], [4.5, 3]]); // prettier-ignore
    expect(at(longer, "N1")).toEqual([[4.5, 3], [0, 3]]); // prettier-ignore
    expect(at(longer, "S2")).toEqual([[4.5, 0], [7, 0]]); // prettier-ignore
    expect(at(longer, "E")).toEqual([[7, 0], [7, 3]]); // prettier-ignore
    expect(at(longer, "up")).toEqual([[0, 0], [4, 0]]); // prettier-ignore
    expect((longer as Job).house.rooms[0]!.polygon).toEqual([[0, 0], [4.5, 0], [4.5, 3], [0, 3]]); // prettier-ignore
  });
  it("is left as it is where it has that length already", () => {
    const wall = house.house.walls[0]!;
    expect(stretched(house, wall, 4.00004)).toEqual([]);
    expect(stretched(house, wall, 4.00006)).not.toEqual([]);
  });
  it("takes along a corner of a room that lies on a wall, and nothing that ends near one", () => {
    const corners = [[0, 0], [4, 0], [4, 1.5], [4, 3], [0, 3]]; // prettier-ignore
    const job = applied(house, [
      { do: "set", kind: "room", id: "A", fields: { polygon: corners } },
      wall("N", [3, 1], [3.5, 1]),
    ]);
    const longer = made(job, "S1", 4.5) as Job;
    expect(longer.house.rooms[0]!.polygon[2]).toEqual([4.5, 1.5]);
    expect(at(longer, "N")).toEqual([[3, 1], [3.5, 1]]); // prettier-ignore
  });
  it("can move its other end", () => {
    const longer = made(house, "S1", 5, "start");
    expect(at(longer, "W")).toEqual([[-1, 3], [-1, 0]]); // prettier-ignore
    expect(at(longer, "S1")).toEqual([[-1, 0], [4, 0]]); // prettier-ignore
    expect(at(longer, "M")).toEqual([[4, 0], [4, 3]]); // prettier-ignore
  });
  it("takes along walls that end on one that is moved", () => {
    const job = applied(house, [wall("T", [7, 1], [9, 1]), wall("T2", [9, 1], [9, 2])]);
    const longer = made(job, "S2", 4);
    expect(at(longer, "E")).toEqual([[8, 0], [8, 3]]); // prettier-ignore
    expect(at(longer, "T")).toEqual([[8, 1], [9, 1]]); // prettier-ignore
    expect(at(longer, "T2")).toEqual([[9, 1], [9, 2]]); // prettier-ignore
  });
  it("takes along the plates on walls that are moved, and no others", () => {
    const plate = (id: string, position: Point | null, storey = "1"): Change => ({
      do: "put",
      kind: "outlet",
      entity: { id, storey, position },
    });
    const job = applied(house, [
      plate("on", [3.93, 1]),
      plate("along", [2, 0.07]),
      plate("opposite", [2, 2.93]),
      plate("off", [3.7, 1]),
      plate("above", [3.93, 1], "2"),
      plate("nowhere", null),
    ]);
    const { outlets } = (made(job, "S1", 4.5) as Job).house;
    expect(outlets.map((one) => one.position)).toEqual([[4.43, 1], [2, 0.07], [2, 2.93], [3.7, 1], [3.93, 1], null]); // prettier-ignore
  });
  it("leaves no wall without length, and turns none round", () => {
    expect(made(house, "S1", 6.98)).toBe("No wall would be left there.");
    expect(made(house, "S1", 7.5)).toBe("No wall would be left there.");
    expect(at(made(house, "S1", 6.9), "S2")).toEqual([[6.9, 0], [7, 0]]); // prettier-ignore
  });
  it("moves its end alone where all else would come along with its near end", () => {
    const triangle = jobWith(wall("A", [0, 0], [4, 0]), wall("B", [4, 0], [2, 3]), wall("C", [2, 3], [0, 0]));
    const longer = made(triangle, "A", 5);
    expect(at(longer, "B")).toEqual([[5, 0], [2, 3]]); // prettier-ignore
    expect(at(longer, "C")).toEqual([[2, 3], [0, 0]]); // prettier-ignore
  });
});
