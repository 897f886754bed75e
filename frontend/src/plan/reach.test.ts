import { describe, expect, it } from "vitest";
import { jobWith } from "../../tests/live";
import { applied } from "../job/apply";
import type { Change } from "../job/types";
import { insideOf, boundsOf, contains, areaOf, crossing, type Point } from "../maths/geometry";
import { dragged, nudged } from "./handling";
import { under } from "./picking";
import { boundsOfStorey, fullest, onStorey, storeyAt, thicknessOf, type Picked } from "./storey";

const put = (kind: string, entity: object): Change => ({ do: "put", kind, entity }) as Change;
const job = jobWith(
  put("storey", { id: "2", name: "Up", elevation_m: 3 }),
  put("wall", { id: "A", storey: "1", start: [0, 0], end: [6, 0], thickness_m: 0.2 }),
  put("wall", { id: "B", storey: "1", start: [6, 0], end: [6, 4], thickness_m: 0.2 }),
  put("opening", { id: "X", wall: "A", kind: "door", offset_m: 1, width_m: 1 }),
  put("room", {
    id: "R",
    storey: "1",
    name: "Room",
    polygon: [
      [0, 0],
      [6, 0],
      [6, 4],
      [0, 4],
    ],
  }),
  put("body", { id: "H", storey: "1", kind: "bath", corner: [3, 2], width_m: 1, depth_m: 0.5, height_m: 1 }),
  put("outlet", { id: "O", storey: "1", position: [1, 3] }),
  put("outlet", { id: "P", storey: "1" }),
  put("meeting_point", { id: "M", name: "M", storey: "1", position: [5, 3] }),
  put("box", { id: "BX", name: "B", storey: "1", equipment: "r", position: [2, 3] }),
  put("reading", { id: "Q", storey: "1", position: [4, 3.5], quantity: "down_mbps", value: 9 }),
  put("run", { id: "C", ends: ["O", "M"] }),
);
const on = onStorey(job, "1")!;
const none = new Map();
const at = (p: Point, picked: Picked | null = null) => {
  const found = under(on, p, 0.2, none, picked);
  return found && [found.kind, found.id];
};

describe("what lies under a pointer", () => {
  it.each([
    [
      [1.1, 3.1],
      ["outlet", "O"],
    ],
    [
      [2.1, 3],
      ["box", "BX"],
    ],
    [
      [5, 2.9],
      ["meeting_point", "M"],
    ],
    [
      [4, 3.6],
      ["reading", "Q"],
    ],
    [
      [1.5, 0.05],
      ["opening", "X"],
    ],
    [
      [0.92, 0.05],
      ["opening", "X"],
    ],
    [
      [0.6, 0.05],
      ["wall", "A"],
    ],
    [
      [4, 0.19],
      ["wall", "A"],
    ],
    [
      [4, 0.21],
      ["room", "R"],
    ],
    [
      [5.85, 2],
      ["wall", "B"],
    ],
    [
      [3.5, 3.05],
      ["run", "C"],
    ],
    [
      [3.5, 2.2],
      ["body", "H"],
    ],
    [
      [2.9, 2.2],
      ["room", "R"],
    ],
    [
      [4.1, 2.2],
      ["room", "R"],
    ],
    [
      [3.5, 2.6],
      ["room", "R"],
    ],
    [
      [3.5, 1.9],
      ["room", "R"],
    ],
    [[9, 9], null],
  ] as [Point, string[] | null][])("%o is %o", (p, found) => expect(at(p)).toEqual(found));
  it("is the nearer of two marks", () => {
    const two = onStorey(applied(job, [put("box", { id: "B2", storey: "1", position: [2.2, 3] })]), "1")!;
    expect(under(two, [2.13, 3], 0.2, none, null)!.id).toBe("B2");
    expect(under(two, [2.07, 3], 0.2, none, null)!.id).toBe("BX");
  });
  it("is an end of the wall that is chosen", () => {
    expect(under(on, [5.9, 0.1], 0.2, none, { kind: "wall", id: "A" })).toEqual({
      kind: "wall",
      id: "A",
      corner: [6, 0],
    });
    expect(under(on, [4, 0.1], 0.2, none, { kind: "wall", id: "A" })).toEqual({ kind: "wall", id: "A" });
  });
  it("is a corner or the middle of an edge of the room that is chosen, corners first", () => {
    const chosen: Picked = { kind: "room", id: "R" };
    expect(under(on, [5.9, 3.9], 0.2, none, chosen)).toEqual({ kind: "room", id: "R", vertex: 2 });
    expect(under(on, [3.1, 4], 0.2, none, chosen)).toEqual({ kind: "room", id: "R", edge: 2 });
  });
});

describe("what is dragged", () => {
  const fields = (changes: Change[]) => changes.map((one) => ("fields" in one ? one.fields : null));
  const drag = (kind: Picked["kind"], id: string, start: Point, p: Point, more = {}) =>
    fields(dragged(job, on, { kind, id, ...more }, start, p, 0.1, none));
  it("goes where the pointer went, to the millimetre", () => {
    expect(drag("box", "BX", [2, 3], [3.00049, 1])).toEqual([{ position: [3, 1] }]);
    expect(drag("body", "H", [3.5, 2.2], [4.5, 3.2])).toEqual([{ corner: [4, 3] }]);
  });
  it("slides along its wall in whole steps", () =>
    expect(drag("opening", "X", [1.5, 0], [2.52, 0.7])).toEqual([{ offset_m: 2 }]));
  it("stays on a wall's face when it is a plate", () => {
    const [moved] = drag("outlet", "O", [1, 3], [4, 0.12]) as { position: Point }[];
    expect(moved!.position).toEqual([4, 0.12]);
    expect(drag("outlet", "O", [1, 3], [4, 1])).toEqual([{ position: [4, 1] }]);
  });
  it("takes the walls along that meet it", () => {
    const moved = applied(job, dragged(job, on, { kind: "wall", id: "B" }, [6, 2], [7.02, 2.4], 0.1, none));
    expect(moved.house.walls.map((one) => [one.start, one.end])).toEqual([
      [
        [0, 0],
        [7, 0],
      ],
      [
        [7, 0],
        [7, 4],
      ],
    ]);
    const raised = applied(job, dragged(job, on, { kind: "wall", id: "A" }, [3, 0], [3.3, 1.02], 0.1, none));
    expect(raised.house.walls.map((one) => [one.start, one.end])).toEqual([
      [[0, 1], [6, 1]], // prettier-ignore
      [[6, 1], [6, 4]], // prettier-ignore
    ]);
    const corner = { kind: "wall", id: "B", corner: [6, 4] as Point } as const;
    const pulled = applied(job, dragged(job, on, corner, [6, 4], [6.51, 5.02], 0.1, none));
    expect(pulled.house.walls[1]!.end).toEqual([6.5, 5]);
  });
  it("moves by a key as by a hand", () => {
    const nudge = (kind: Picked["kind"], id: string, more = {}) =>
      fields(nudged(job, on, { kind, id, ...more }, [0.2, 0.1]));
    expect(nudge("outlet", "O")).toEqual([{ position: [1.2, 3.1] }]);
    expect(nudge("outlet", "P")).toEqual([]); // never located
    expect(nudge("meeting_point", "M")).toEqual([{ position: [5.2, 3.1] }]);
    expect(nudge("reading", "Q")).toEqual([{ position: [4.2, 3.6] }]);
    expect(nudge("body", "H")).toEqual([{ corner: [3.2, 2.1] }]);
    expect(nudge("opening", "X")).toEqual([{ offset_m: 1.2 }]);
    expect(nudge("room", "R", { vertex: 2 })).toMatchObject([{ polygon: expect.arrayContaining([[6.2, 4.1]]) }]);
    expect(nudge("room", "R")).toEqual([]);
    for (const kind of ["wall", "opening", "body", "room", "box"] as const) expect(nudge(kind, "gone")).toEqual([]);
    expect(nudge("wall", "B").length).toBeGreaterThan(0);
  });
});

describe("a storey", () => {
  it("has what stands on it, plates that were never located too", () => {
    expect(onStorey(job, "9")).toBeNull();
    expect(onStorey(job, "2")!.walls).toEqual([]);
    expect(on.outlets.map((one) => one.id)).toEqual(["O", "P"]);
    expect(boundsOfStorey(on)).toEqual([0, 0, 6, 4]);
    expect(boundsOfStorey(onStorey(job, "2")!)).toBeNull();
  });
  it("is the highest whose floor is not above a height", () => {
    expect(
      [storeyAt(job, -5), storeyAt(job, 2.9), storeyAt(job, 2.995), storeyAt(job, 9)].map((one) => one!.id),
    ).toEqual(["1", "1", "2", "2"]);
    expect(fullest(job)!.id).toBe("1");
  });
  it("has walls as thick as was measured, else as their layers, else as what they are made of", () => {
    const known = new Map([["stud", { label: "", use: "wall", thickness_m: 0.12 }]]);
    const wall = { ...on.walls[0]!, thickness_m: null, construction: "stud" };
    const layers = [
      { material: "a", thickness_m: 0.1 },
      { material: "b", thickness_m: 0.05 },
    ];
    expect(thicknessOf(on.walls[0]!, known)).toBe(0.2);
    expect(thicknessOf({ ...wall, layers } as never, known)).toBeCloseTo(0.15);
    expect(thicknessOf(wall, known)).toBe(0.12);
    expect(thicknessOf(wall, none)).toBe(0.1);
  });
});

describe("plane geometry", () => {
  const ell: Point[] = [
    [0, 0],
    [4, 0],
    [4, 1],
    [1, 1],
    [1, 4],
    [0, 4],
  ];
  it("finds a point well inside, in a corner room too", () => {
    expect(areaOf(ell)).toBe(7);
    const inside = insideOf(ell);
    expect(contains(ell, inside)).toBe(true);
    expect(
      insideOf([
        [0, 0],
        [2, 0],
        [2, 2],
        [0, 2],
      ]),
    ).toEqual([1, 1]);
    expect(contains(ell, [2, 2])).toBe(false);
    expect(contains(ell, [0.5, 3])).toBe(true);
  });
  it("crosses lines where they cross, ends included, and not where they run alike", () => {
    const line = (a: Point, b: Point) => ({ start: a, end: b });
    expect(crossing(line([0, 0], [4, 0]), line([1, -1], [1, 1]))).toEqual([1, 0]);
    expect(crossing(line([0, 0], [4, 0]), line([4, 0], [4, 1]))).toEqual([4, 0]);
    expect(crossing(line([0, 0], [4, 0]), line([4.1, -1], [4.1, 1]))).toBeNull();
    expect(crossing(line([0, 0], [4, 0]), line([1, 1], [1, 2]))).toBeNull();
    expect(crossing(line([0, 0], [4, 0]), line([0, 1], [4, 1]))).toBeNull();
    // Alike but for a rounding in the last places of long walls; a hundred times that is a crossing.
    expect(crossing(line([0, 0], [100, 0]), line([50, 0], [150, 1e-8]))).toBeNull();
    expect(crossing(line([0, 0], [100, 0]), line([50, 0], [150, 1e-6]))).toEqual([50, 0]);
    expect(boundsOf([])).toBeNull();
    expect(
      boundsOf([
        [1, 5],
        [3, 2],
      ]),
    ).toEqual([1, 2, 3, 5]);
  });
});
