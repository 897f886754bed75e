import { describe, expect, it } from "vitest";
import { applied } from "../src/job/apply";
import { freshIds, giveBack, keepBack, outletId, storeyId } from "../src/job/ids";
import type { Change, Job, Wall } from "../src/job/types";
import { lengthOf, type Point } from "../src/maths/geometry";
import { drawnWall, joinedWall, movedCorners, movedWall, shiftedStorey, slid, splitWall } from "../src/plan/moves";
import { snapped } from "../src/plan/snap";
import { EMPTY } from "./live";

const wall = (id: string, start: Point, end: Point): Change => ({
  do: "put",
  kind: "wall",
  entity: { id, storey: "1", start, end },
});
const square: Change[] = [
  { do: "put", kind: "storey", entity: { id: "1", name: "Ground", elevation_m: 0 } },
  wall("A", [0, 0], [4, 0]),
  wall("B", [4, 0], [4, 3]),
  wall("C", [4, 3], [0, 3]),
  wall("D", [0, 3], [0, 0]),
  {
    do: "put",
    kind: "room",
    entity: {
      id: "R",
      storey: "1",
      name: "Room",
      polygon: [
        [0, 0],
        [4, 0],
        [4, 3],
        [0, 3],
      ],
    },
  },
  { do: "put", kind: "opening", entity: { id: "X", wall: "A", kind: "door", offset_m: 1, width_m: 0.8 } },
];
const house = applied(EMPTY, square);
const find = (job: Job, id: string) => job.house.walls.find((one) => one.id === id)!;

describe("applying changes", () => {
  it("shares what did not change", () => {
    const next = applied(house, [{ do: "set", kind: "wall", id: "A", fields: { construction: "stone" } }]);
    expect(find(next, "B")).toBe(find(house, "B"));
    expect(next.house.rooms).toBe(house.house.rooms);
  });
  it("does nothing to what is not there", () =>
    expect(
      applied(house, [
        { do: "set", kind: "wall", id: "Z", fields: { note: "x" } },
        { do: "drop", kind: "wall", id: "Z" },
      ]),
    ).toBe(house));
  it("takes the openings of a dropped wall along", () =>
    expect(applied(house, [{ do: "drop", kind: "wall", id: "A" }]).house.openings).toEqual([]));
  it("brings a dropped thing back at the end", () => {
    const gone = applied(house, [{ do: "drop", kind: "wall", id: "A" }]);
    expect(applied(gone, [wall("A", [0, 0], [4, 0])]).house.walls.at(-1)!.id).toBe("A");
  });
});

describe("moving", () => {
  it("takes joined walls and the room along with a corner", () => {
    const next = applied(
      house,
      movedCorners(house, "1", [
        [
          [4, 3],
          [5, 3.5],
        ],
      ]),
    );
    expect(find(next, "B").end).toEqual([5, 3.5]);
    expect(find(next, "C").start).toEqual([5, 3.5]);
    expect(next.house.rooms[0]!.polygon[2]).toEqual([5, 3.5]);
  });
  it("moves a joined wall sideways only", () => {
    const next = applied(house, movedWall(house, find(house, "B"), [1, 0.7]));
    expect(find(next, "B").start).toEqual([5, 0]);
    expect(find(next, "A").end).toEqual([5, 0]);
  });
  it("keeps an opening where it was on the sheet, and on its wall", () => {
    const longer = applied(house, movedWall(house, find(house, "D"), [-1, 0]));
    expect(longer.house.openings[0]!.offset_m).toBeCloseTo(2); // the wall now starts 1 m farther left
    const short = applied(
      house,
      movedCorners(house, "1", [
        [
          [4, 0],
          [0.5, 0],
        ],
      ]),
    );
    const door = short.house.openings[0]!;
    expect(door.offset_m + door.width_m).toBeLessThanOrEqual(lengthOf(find(short, "A")) + 1e-9);
  });
  it("slides an opening no farther than its wall, and never over another", () => {
    const offset = (to: number, job = house) =>
      (slid(job, job.house.openings[0]!, to)[0] as { fields: { offset_m: number } } | undefined)?.fields.offset_m;
    expect(offset(99)).toBeCloseTo(3.2);
    expect(offset(-1)).toBe(0);
    const two = applied(house, [
      { do: "put", kind: "opening", entity: { id: "Y", wall: "A", kind: "window", offset_m: 2, width_m: 1 } },
    ]);
    expect(offset(2.2, two)).toBeUndefined();
  });
  it("moves all of a storey by one step", () => {
    const next = applied(house, shiftedStorey(house, "1", [1, 2]));
    expect(find(next, "A").start).toEqual([1, 2]);
    expect(next.house.rooms[0]!.polygon[0]).toEqual([1, 2]);
  });
});

describe("drawing walls", () => {
  it("cuts the walls it crosses and itself", () => {
    const next = applied(house, drawnWall(house, "1", [2, -1], [2, 4], "unknown", "a"));
    expect(next.house.walls.length).toBe(4 + 2 + 3);
    expect(next.house.walls.reduce((sum, one) => sum + lengthOf(one), 0)).toBeCloseTo(14 + 5);
  });
  it("does not cut through a door", () => {
    const next = applied(house, drawnWall(house, "1", [1.4, 0], [1.4, 3], "unknown", "a"));
    expect(next.house.walls.filter((one) => one.start[1] === 0 && one.end[1] === 0).length).toBe(1);
  });
  it("splits with the openings where they were, and joins back to the same", () => {
    const cut = applied(house, splitWall(house, find(house, "A"), 0.5, "a"));
    const door = cut.house.openings[0]!;
    expect(door.wall).not.toBe("A");
    expect(door.offset_m).toBeCloseTo(0.5);
    const back = applied(cut, joinedWall(cut, find(cut, "A") as Wall));
    expect(find(back, "A").end).toEqual([4, 0]);
    expect(back.house.openings[0]).toMatchObject({ wall: "A", offset_m: 1 });
  });
});

describe("snapping", () => {
  const walls = house.house.walls;
  it("prefers a corner, then a wall, then a line, then a step", () => {
    expect(snapped([0.1, 0.08], walls, 0.2, "metric")).toMatchObject({ point: [0, 0], to: "corner" });
    expect(snapped([2.3, 0.1], walls, 0.2, "metric")).toMatchObject({ to: "wall" });
    expect(snapped([6.02, 0.04], walls, 0.2, "metric")).toMatchObject({ point: [6, 0], to: "line" });
    expect(snapped([6.02, 7.03], walls, 0.2, "metric")).toMatchObject({ point: [6, 7.05], to: "step" });
  });
  it("keeps a drawn wall to eighths of a turn and whole steps", () => {
    const { point } = snapped([3.02, 9.06], [], 0.2, "metric", [1, 9]);
    expect(point).toEqual([3, 9]);
  });
});

describe("ids", () => {
  it("carry the device's mark and are not used yet", () => {
    const [one, two] = freshIds(house, "wall", "b", 2);
    expect([one, two]).toEqual(["Wb1", "Wb2"]);
    expect(freshIds(house, "wall", "b")).toEqual(["Wb3"]); // never twice, whatever became of the first
    expect(outletId(house, "2", "a", false)).toBe("2-01");
    expect(outletId(house, "2", "a", true)).toBe("2-02a");
  });
  it("gives ids again that came back, the lowest first, until what was heard of them is in doubt", () => {
    const job = { ...house, id: "given back" };
    expect(freshIds(job, "wall", "b", 3)).toEqual(["Wb1", "Wb2", "Wb3"]);
    expect(storeyId(job, "b", false)).toBe("2");
    expect(outletId(job, "1", "b", false)).toBe("1-01");
    giveBack(job, ["Wb3", "Wb2", "2", "1-01", "Wc1", "free text"]);
    giveBack(job, []);
    expect(freshIds(job, "wall", "b", 3)).toEqual(["Wb2", "Wb3", "Wb4"]);
    expect(freshIds(job, "room", "b")).toEqual(["Rb1"]);
    expect(storeyId(job, "b", true)).toBe("Sb1");
    expect(storeyId(job, "b", false)).toBe("2");
    expect(storeyId(job, "b", false)).toBe("3");
    expect(outletId(job, "1", "b", true)).toBe("1-02b");
    expect(outletId(job, "1", "b", false)).toBe("1-01");
    expect(outletId(job, "1", "b", false)).toBe("1-03");
    giveBack(job, ["Wb4", "3", "1-01"]);
    const standing = applied(job, [wall("Wb4", [9, 9], [9, 8])]);
    expect(freshIds(standing, "wall", "b")).toEqual(["Wb5"]); // it came back by redo
    keepBack(job);
    expect(freshIds(job, "wall", "b")).toEqual(["Wb6"]);
    expect(storeyId(job, "b", false)).toBe("4");
    expect(outletId(job, "1", "b", false)).toBe("1-04");
  });
});
