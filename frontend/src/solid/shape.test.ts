import { describe, expect, it } from "vitest";
import { jobWith } from "../../tests/live";
import type { Change } from "../job/types";
import type { Point } from "../maths/geometry";
import { onStorey } from "../plan/storey";
import { shapeOf, wallPrisms, type Planned, type Prism } from "./shape";

const put = (kind: string, entity: object): Change => ({ do: "put", kind, entity }) as Change;
const wall = (id: string, start: Point, end: Point, more: object = {}) =>
  put("wall", { id, storey: "1", start, end, thickness_m: 0.2, ...more });
const upstairs = put("storey", { id: "2", name: "Up", elevation_m: 3 });
const room = put("room", { id: "R", storey: "1", name: "Room", polygon: [[0, 0], [4, 0], [4, 3], [0, 3]] }); // prettier-ignore

const round = (value: number) => Math.round(value * 1e6) / 1e6 + 0;
const exact = ({ corners, low_m, high_m, solid, uprights }: Prism) => ({
  corners: corners.map((p) => p.map(round)),
  from: [low_m, high_m].map(round),
  solid,
  uprights: uprights.map((edge) => edge && edge.map(round)),
});
const standing = (cut_m: number, planned: Planned[], ...changes: Change[]) =>
  shapeOf(jobWith(upstairs, ...changes), new Map(), cut_m, planned).floors;

describe("what stands on a floor", () => {
  it("a plate is a block of 14 cm about its place, and none where it was never located or is on another floor", () => {
    const [floor, ...others] = standing(
      0.9,
      [],
      room,
      put("outlet", { id: "O", storey: "1", position: [1, 2], height_m: 1.5 }),
      put("outlet", { id: "P", storey: "1" }),
      put("outlet", { id: "U", storey: "2", position: [3, 1], height_m: 0.3 }),
    );
    expect(others).toEqual([]);
    const all = [1.43, 1.57]; // above the cut of the walls: it is whole
    expect(floor!.prisms.map(exact)).toEqual([
      {
        corners: [[0.93, 1.93], [1.07, 1.93], [1.07, 2.07], [0.93, 2.07]], // prettier-ignore
        from: all,
        solid: true,
        uprights: [all, all, all, all],
      },
    ]);
  });
  it("a plate by the floor does not reach below it", () => {
    const [floor] = standing(0.9, [], room, put("outlet", { id: "O", storey: "1", position: [1, 2], height_m: 0.05 }));
    expect(exact(floor!.prisms[0]!)).toMatchObject({ from: [0, 0.12], uprights: Array(4).fill([0, 0.12]) });
  });
  it("a box or closet is 30 cm square, a box of the plan a diamond turning left", () => {
    const [floor] = standing(
      0.9,
      [
        { id: "AP1", name: "Hall", storey: "1", position: [3, 1], height_m: 2.4 },
        { id: "AP2", name: "Up", storey: "2", position: [3, 1], height_m: 2.4 },
      ],
      room,
      put("box", { id: "BX", name: "Router", storey: "1", equipment: "r", position: [1, 2], height_m: 1 }),
      put("meeting_point", { id: "M", name: "Closet", storey: "1", position: [2, 2], height_m: 1 }),
    );
    expect(floor!.prisms.map(exact)).toMatchObject([
      { corners: [[0.85, 1.85], [1.15, 1.85], [1.15, 2.15], [0.85, 2.15]], from: [0.85, 1.15], solid: true }, // prettier-ignore
      { corners: [[1.85, 1.85], [2.15, 1.85], [2.15, 2.15], [1.85, 2.15]], from: [0.85, 1.15], solid: true }, // prettier-ignore
      { corners: [[3.195, 1], [3, 1.195], [2.805, 1], [3, 0.805]], from: [2.25, 2.55], solid: true }, // prettier-ignore
    ]);
  });
  it("a cupboard is hollow, on its corner, and cut as walls are", () => {
    const body = { storey: "1", kind: "fridge", width_m: 1, depth_m: 0.5 };
    const things = [
      room,
      put("body", { id: "H", corner: [2, 1], height_m: 1.8, ...body }),
      put("body", { id: "L", corner: [0, 0], height_m: 0.4, ...body }),
      put("body", { id: "U", corner: [0, 0], height_m: 0.4, ...body, storey: "2" }),
    ];
    const [tall, low, ...others] = standing(0.9, [], ...things)[0]!.prisms.map(exact);
    expect(others).toEqual([]);
    expect(tall).toEqual({
      corners: [[2, 1], [3, 1], [3, 1.5], [2, 1.5]], // prettier-ignore
      from: [0, 0.9],
      solid: false,
      uprights: Array(4).fill([0, 0.9]),
    });
    expect(low).toMatchObject({ from: [0, 0.4], uprights: Array(4).fill([0, 0.4]) });
  });
  it("all of it lies 30 cm within the bounds", () => {
    const beyond = wall("A", [-1, 3.5], [5, 3.5]);
    expect(standing(0.9, [], room, beyond)[0]!.bounds.map(round)).toEqual([-1.3, -0.3, 5.3, 3.8]);
  });
  it("storeys stand from the lowest up", () => {
    const above = put("room", { id: "S", storey: "2", name: "Up", polygon: [[0, 0], [1, 0], [1, 1]] }); // prettier-ignore
    const cellar = put("storey", { id: "0", name: "Cellar", elevation_m: -2.5 });
    const below = put("room", { id: "T", storey: "0", name: "Down", polygon: [[0, 0], [1, 0], [1, 1]] }); // prettier-ignore
    expect(standing(0.9, [], room, above, cellar, below).map((one) => one.storey.id)).toEqual(["0", "1", "2"]);
  });
});

describe("a wall with openings", () => {
  const sizes = { offset_m: 1, width_m: 1, sill_m: 0.9, height_m: 1.2 };
  const window = put("opening", { id: "X", wall: "A", kind: "window", ...sizes });
  const pieces = (cut_m: number) => {
    const found = standing(cut_m, [], wall("A", [0, 0], [4, 0], { height_m: 2.5 }), window)[0]!.prisms.map(exact);
    expect(found.every((one) => one.solid)).toBe(true);
    return found.map(({ corners, from, uprights }) => [corners[0]![0], corners[1]![0], ...from, uprights]);
  };
  it("cut at the sill has no jambs, cut above it has them from the sill up", () => {
    const [end, none] = [[0, 0.9], null]; // prettier-ignore
    expect(pieces(0.9)).toEqual([
      [0, 1, 0, 0.9, [end, none, none, end]],
      [1, 2, 0, 0.9, [none, none, none, none]],
      [2, 4, 0, 0.9, [none, end, end, none]],
    ]);
    const [tall, jamb] = [[0, 2.3], [0.9, 2.1]]; // prettier-ignore
    expect(pieces(2.3)).toEqual([
      [0, 1, 0, 2.3, [tall, jamb, jamb, tall]],
      [1, 2, 0, 0.9, [none, none, none, none]],
      [1, 2, 2.1, 2.3, [none, none, none, none]],
      [2, 4, 0, 2.3, [jamb, tall, tall, jamb]],
    ]);
    expect(pieces(2.1).length).toBe(3); // nothing of what begins at the cut
  });
  it("has them where they are measured, from its own start and not from the corner it fills", () => {
    const corner = wall("B", [0, 0], [0, 2]);
    const [before, below] = standing(0.9, [], wall("A", [0, 0], [4, 0]), corner, window)[0]!.prisms.map(exact);
    expect([before!.corners[0]![0], before!.corners[1]![0], below!.corners[1]![0]]).toEqual([-0.1, 1, 2]);
  });
  it("that begins above the floor ends at the storey's height where its own is not known", () => {
    const storey = put("storey", { id: "3", name: "Top", elevation_m: 6, height_m: 2.5 });
    const [floor] = standing(9, [], storey, wall("A", [0, 0], [4, 0], { storey: "3", base_m: 0.5 }));
    expect(floor!.prisms.map((one) => exact(one).from)).toEqual([[0.5, 2.5]]);
  });
});

describe("a wall that ends on others", () => {
  const known = new Map();
  /** From where to where the first wall is drawn, of those that run east. */
  const span = (...walls: Change[]) => {
    const { walls: all, storey } = onStorey(jobWith(...walls), "1")!;
    const xs = wallPrisms(all[0]!, all, [], storey, known).flatMap((one) => one.corners.map((p) => round(p[0])));
    return [Math.min(...xs), Math.max(...xs)];
  };
  const one = wall("A", [0, 0], [4, 0]);
  it("stops against one that goes on, at either end, in one piece or two, whichever way they were drawn", () => {
    expect(span(one, wall("B", [0, -2], [0, 2]), wall("C", [4, 2], [4, -2]))).toEqual([0, 4]);
    expect(span(one, wall("B", [4, -2], [4, 0]), wall("C", [4, 0], [4, 2]))).toEqual([0, 4]);
    expect(span(one, wall("B", [4, 0], [4, -2]), wall("C", [4, 0], [4, 2]))).toEqual([0, 4]);
    expect(span(one, wall("B", [4, -2], [4, 0]), wall("C", [4, 2], [4, 0]))).toEqual([0, 4]);
  });
  it("fills the corner at either end of one that ends there too", () => {
    expect(span(one, wall("B", [0, 0], [0, 2]), wall("C", [4, -2], [4, 0]))).toEqual([-0.1, 4.1]);
  });
  it("fills the corner of two that leave slantwise", () => {
    expect(span(one, wall("B", [4, 0], [5, 3]), wall("C", [4, 0], [5, -3]))[1]).toBeGreaterThan(4);
    expect(span(one, wall("B", [5, 3], [4, 0]), wall("C", [4, 0], [5, -3]))[1]).toBeGreaterThan(4);
  });
  it("fills the corner though another wall stands half a metre off", () => {
    expect(span(one, wall("B", [4, 0], [4, 2]), wall("C", [4.5, -2], [4.5, 0]))).toEqual([0, 4.1]);
  });
});

describe("the cables of a house", () => {
  const ends = [
    put("outlet", { id: "O", storey: "1", position: [1, 2], height_m: 0.3 }),
    put("outlet", { id: "U", storey: "2", position: [1, 2], height_m: 0.4 }),
  ];
  const stops = (route: number[][]) => {
    const job = jobWith(upstairs, ...ends, put("run", { id: "C", ends: ["O", "U"], route }));
    const [cable] = shapeOf(job, new Map(), 0.9, []).cables;
    return { known: cable!.known, stops: cable!.stops.map(({ storey, at }) => [storey, ...at.map(round)]) };
  };
  it("a stop is on the floor it lies on, a centimetre under it too, and on the lowest below all", () => {
    const way = [[0, 0, -0.5], [0, 0, 2.4], [0, 0, 2.995], [0, 0, 3]]; // prettier-ignore
    expect(stops(way)).toEqual({
      known: true,
      stops: [["1", 0, 0, -0.5], ["1", 0, 0, 2.4], ["2", 0, 0, -0.005], ["2", 0, 0, 0]], // prettier-ignore
    });
  });
  it("one place is no route: it is drawn from end to end", () => {
    expect(stops([[5, 5, 1]])).toEqual({ known: false, stops: [["1", 1, 2, 0.3], ["2", 1, 2, 0.4]] }); // prettier-ignore
  });
});
