import { describe, expect, it } from "vitest";
import { jobWith } from "../../tests/live";
import type { Change, Wall } from "../job/types";
import type { Point } from "../maths/geometry";
import { constructionsFrom, drawnLine, drawnRuns, fullest, jambs, leafOf, nearestWall, nextHand } from "./storey";
import { onStorey, stacked } from "./storey";

const put = (kind: string, entity: object): Change => ({ do: "put", kind, entity }) as Change;
const wall = (id: string, start: Point, end: Point, thickness_m = 0.2) =>
  put("wall", { id, storey: "1", start, end, thickness_m });
const walls = (...changes: Change[]): Wall[] => onStorey(jobWith(...changes), "1")!.walls;
const rounded = ({ start, end }: { start: Point; end: Point }) =>
  [start, end].map((p) => p.map((one) => Math.round(one * 1000) / 1000 + 0));

describe("storeys", () => {
  const two = jobWith(put("storey", { id: "2", name: "Up", elevation_m: 3 }));
  const room = (id: string, storey: string) => put("room", { id, storey, name: id, polygon: [[0, 0], [1, 0], [1, 1]] }); // prettier-ignore
  it("stand as they are built, the highest first", () => {
    expect(stacked(two).map((one) => one.id)).toEqual(["2", "1"]);
  });
  it("the one with most rooms is opened, the lower of equals", () => {
    const base = put("storey", { id: "2", name: "Up", elevation_m: 3 });
    const opened = (...rooms: Change[]) => fullest(jobWith(base, ...rooms))!.id;
    expect(opened()).toBe("1");
    expect(opened(room("A", "2"))).toBe("2");
    expect(opened(room("A", "2"), room("B", "1"))).toBe("1");
    expect(opened(room("A", "2"), room("B", "1"), room("C", "2"))).toBe("2");
  });
});

describe("what walls are made of", () => {
  it("is as thick as its layers together, the commonest section where there are several", () => {
    const known = constructionsFrom([
      { name: "brick", label: "Brick", use: "wall", layers_mm: "plaster 13 + brick 102.5 + plaster 13" },
      { name: "stud", label: "Stud", use: "wall", layers_mm: "board 12.5 + air 75 + board 12.5;board 12.5 + stud 75" },
      { name: "glass", label: "Glass", use: "window", layers_mm: "glass 4" },
    ]);
    expect([...known].map(([name, one]) => [name, one.label, one.use, Math.round(one.thickness_m * 1e4)])).toEqual([
      ["brick", "Brick", "wall", 1285],
      ["stud", "Stud", "wall", 1000],
      ["glass", "Glass", "window", 40],
    ]);
  });
});

describe("a door", () => {
  const upright = { start: [0, 0], end: [0, 4] } as Wall;
  const hung = (hinge: string, swing: string) => leafOf({ offset_m: 1, width_m: 0.8, hinge, swing } as never, upright);
  it("hangs on one edge and opens to one side, seen along its wall", () => {
    expect(hung("near", "left")).toEqual({ hinge: [0, 1], tip: [-0.8, 1], latch: [0, 1.8], turns: 1 });
    expect(hung("far", "left")).toEqual({ hinge: [0, 1.8], tip: [-0.8, 1.8], latch: [0, 1], turns: 0 });
    expect(hung("near", "right")).toEqual({ hinge: [0, 1], tip: [0.8, 1], latch: [0, 1.8], turns: 0 });
    expect(hung("far", "right")).toEqual({ hinge: [0, 1.8], tip: [0.8, 1.8], latch: [0, 1], turns: 1 });
    expect(hung("unknown", "unknown")).toEqual(hung("near", "left"));
  });
  it("goes through its four hands one after the other", () => {
    let hand = nextHand({ hinge: "unknown", swing: "unknown" });
    const seen = [hand];
    for (let i = 0; i < 4; i++) seen.push((hand = nextHand(hand)));
    expect(seen.map((one) => `${one.hinge} ${one.swing}`)).toEqual([
      "far left", "far right", "near right", "near left", "far left",
    ]); // prettier-ignore
  });
});

describe("a wall's line", () => {
  const drawn = (list: Wall[], i = 0) => rounded(drawnLine(list[i]!, list, new Map()));
  it("alone is its own", () => {
    expect(drawn(walls(wall("A", [0, 0], [6, 0])))).toEqual([[0, 0], [6, 0]]); // prettier-ignore
  });
  it("goes on to the far faces of the walls across its ends, half their thickness", () => {
    const corner = walls(wall("A", [0, 0], [6, 0]), wall("B", [6, 0], [6, 4], 0.3), wall("C", [0, 5], [0, 0], 0.1));
    expect(drawn(corner)).toEqual([[-0.05, 0], [6.15, 0]]); // prettier-ignore
    expect(drawn(corner, 1)).toEqual([[6, -0.1], [6, 4]]); // prettier-ignore
  });
  it("of two across one end takes the thicker", () => {
    const three = walls(wall("A", [0, 0], [6, 0]), wall("B", [6, 0], [6, 4], 0.4), wall("C", [6, -4], [6, 0], 0.1));
    expect(drawn(three)).toEqual([[0, 0], [6.2, 0]]); // prettier-ignore
  });
  it("does not go on into a wall in one line with it, nor to one that ends 3 cm away", () => {
    const line = walls(wall("A", [0, 0], [6, 0]), wall("B", [6, 0], [9, 0]), wall("C", [-0.03, 0], [-0.03, 4]));
    expect(drawn(line)).toEqual([[0, 0], [6, 0]]); // prettier-ignore
  });
  it("has the jambs of a door where it begins and ends", () => {
    const [slanted] = walls(wall("A", [1, 1], [4, 5])); // 5 m long, 3 over and 4 up
    const found = jambs({ offset_m: 2, width_m: 1 } as never, slanted!);
    expect(rounded({ start: found.a, end: found.b })).toEqual([[2.2, 2.6], [2.8, 3.4]]); // prettier-ignore
  });
  it("the nearest to a place is told with where and how far off; none of none", () => {
    const list = walls(wall("A", [0, 0], [6, 0]), wall("B", [0, 3], [6, 3]));
    expect(nearestWall(list, [2, 1])).toMatchObject({ wall: { id: "A" }, at_m: 2, off_m: 1, point: [2, 0] });
    expect(nearestWall(list, [2, 2])).toMatchObject({ wall: { id: "B" }, at_m: 2, off_m: 1, point: [2, 3] });
    expect(nearestWall([], [2, 2])).toBeNull();
  });
});

describe("a cable", () => {
  const base = [
    put("storey", { id: "2", name: "Up", elevation_m: 3 }),
    put("outlet", { id: "O", storey: "1", position: [1, 3] }),
    put("outlet", { id: "U", storey: "2", position: [5, 5] }),
    put("outlet", { id: "N", storey: "1" }),
    put("meeting_point", { id: "M", name: "M", storey: "1", position: [5, 3] }),
  ];
  const drawn = (storey: string, ends: string[], route: number[][] = []) =>
    drawnRuns(jobWith(...base, put("run", { id: "C", ends, route })), storey).map(({ lines, leaves }) => ({
      lines,
      leaves,
    }));
  it("whose way is not known is a straight line from end to end", () => {
    expect(drawn("1", ["O", "M"])).toEqual([{ lines: [[[1, 3], [5, 3]]], leaves: [] }]); // prettier-ignore
    expect(drawn("2", ["O", "M"])).toEqual([]);
  });
  it("from storey to storey leaves from its end on each", () => {
    expect(drawn("1", ["O", "U"])).toEqual([{ lines: [], leaves: [[1, 3]] }]);
    expect(drawn("2", ["O", "U"])).toEqual([{ lines: [], leaves: [[5, 5]] }]);
  });
  it("is not drawn where its other end is not known, or was never located", () => {
    expect(drawn("1", ["O", "unknown"])).toEqual([]);
    expect(drawn("1", ["O", "N"])).toEqual([]);
  });
  it("with a way of two points is drawn along it", () => {
    expect(drawn("1", ["O", "M"], [[0, 0, 0.3], [4, 0, 0.3]])).toEqual([{ lines: [[[0, 0], [4, 0]]], leaves: [] }]); // prettier-ignore
    expect(drawn("1", ["O", "M"], [[0, 0, 0.3]])).toEqual([{ lines: [[[1, 3], [5, 3]]], leaves: [] }]); // prettier-ignore
  });
  it("that comes back to a storey has two lines there, and leaves twice", () => {
    const way = [[0, 0, 1], [2, 0, 1], [2, 0, 4], [3, 0, 4], [3, 0, 1], [6, 0, 1]]; // prettier-ignore
    expect(drawn("1", ["O", "M"], way)).toEqual([
      { lines: [[[0, 0], [2, 0]], [[3, 0], [6, 0]]], leaves: [[2, 0], [3, 0]] }, // prettier-ignore
    ]);
    expect(drawn("2", ["O", "M"], way)).toEqual([{ lines: [[[2, 0], [3, 0]]], leaves: [[2, 0], [3, 0]] }]); // prettier-ignore
  });
});
