import { describe, expect, it } from "vitest";
import { jobWith } from "../../tests/live";
import { applied } from "../job/apply";
import type { Change, Job } from "../job/types";
import type { Point } from "../maths/geometry";
import { drawnWall, joinedWall, movedCorners, movedWall, shiftedStorey, slid, splitWall } from "./moves";

const put = (kind: string, entity: object): Change => ({ do: "put", kind, entity }) as Change;
const wall = (id: string, start: Point, end: Point, more = {}) => put("wall", { id, storey: "1", start, end, ...more });
const door = (id: string, on: string, offset_m: number, width_m = 0.8) =>
  put("opening", { id, wall: on, kind: "door", offset_m, width_m });
const lines = (job: Job) => Object.fromEntries(job.house.walls.map((one) => [one.id, [one.start, one.end]]));
const doors = (job: Job) => Object.fromEntries(job.house.openings.map((one) => [one.id, [one.wall, one.offset_m]]));
const named = (job: Job, id: string) => job.house.walls.find((one) => one.id === id)!;

describe("a wall cut in two", () => {
  const job = jobWith(wall("A", [0, 0], [4, 0]), door("X", "A", 1), door("Y", "A", 3));
  const cut = (at_m: number) => {
    const made = applied(job, splitWall(job, named(job, "A"), at_m, "q"));
    const [id] = made.house.walls.map((one) => one.id).filter((one) => one !== "A");
    return { lines: lines(made), doors: doors(made), id };
  };
  it("leaves no piece shorter than 5 cm, and no door in two", () => {
    for (const at_m of [0.04, 3.96, 1.4, 3.1]) expect(cut(at_m).lines).toEqual({ A: [[0, 0], [4, 0]] }); // prettier-ignore
  });
  it("has each door where it was on the sheet", () => {
    const { id, ...made } = cut(2);
    expect(made.lines).toEqual({ A: [[0, 0], [2, 0]], [id!]: [[2, 0], [4, 0]] }); // prettier-ignore
    expect(made.doors).toEqual({ X: ["A", 1], Y: [id, 1] });
  });
  it("may be cut at either jamb", () => {
    const { doors, id } = cut(1);
    expect(doors.X).toEqual([id, 0]);
    expect(cut(1.8).doors.X).toEqual(["A", 1]);
  });
});

describe("two walls in one line", () => {
  const both = [wall("A", [0, 0], [1, 0]), wall("E", [1, 0], [4, 0]), door("X", "A", 0.1), door("Y", "E", 0.5)];
  const joined = (id: string, ...changes: Change[]) => {
    const job = jobWith(...changes);
    const made = applied(job, joinedWall(job, named(job, id)));
    return { lines: lines(made), doors: doors(made) };
  };
  it("become one of either name, with their doors where they were", () => {
    expect(joined("A", ...both)).toEqual({
      lines: { A: [[0, 0], [4, 0]] }, // prettier-ignore
      doors: { X: ["A", 0.1], Y: ["A", 1.5] },
    });
    expect(joined("E", ...both)).toEqual({
      lines: { E: [[0, 0], [4, 0]] }, // prettier-ignore
      doors: { X: ["E", 0.1], Y: ["E", 1.5] },
    });
  });
  it("that were drawn towards each other too: a door keeps its place, not its number", () => {
    const turned = [wall("A", [0, 0], [1, 0]), wall("E", [4, 0], [1, 0]), door("Y", "E", 0.5)]; // from 3.5 to 2.7
    expect(joined("A", ...turned)).toEqual({ lines: { A: [[0, 0], [4, 0]] }, doors: { Y: ["A", 2.7] } }); // prettier-ignore
  });
  it.each([
    ["round a corner", wall("E", [1, 0], [1, 3])],
    ["made of something else", wall("E", [1, 0], [4, 0], { construction: "stone" })],
    ["apart", wall("E", [1.1, 0], [4, 0])],
    ["on another storey", wall("E", [1, 0], [4, 0], { storey: "2" })],
  ])("are not joined %s", (_, other) => {
    const made = joined("A", wall("A", [0, 0], [1, 0]), other);
    expect(Object.keys(made.lines)).toEqual(["A", "E"]);
  });
});

describe("a wall that is moved", () => {
  it("by itself goes where the hand goes; one that is joined only sideways", () => {
    const alone = jobWith(wall("A", [0, 0], [4, 0]));
    expect(lines(applied(alone, movedWall(alone, named(alone, "A"), [0.5, 0.7])))).toEqual({
      A: [[0.5, 0.7], [4.5, 0.7]], // prettier-ignore
    });
    const tee = jobWith(wall("A", [0, 0], [4, 0]), wall("T", [2, 0], [2, 3]));
    expect(lines(applied(tee, movedWall(tee, named(tee, "A"), [0.5, 0.7])))).toEqual({
      A: [[0, 0.7], [4, 0.7]], // prettier-ignore
      T: [[2, 0.7], [2, 3]], // prettier-ignore
    });
  });
  it("takes along the corners of rooms that lie on it, and nothing of another storey", () => {
    const polygon = [[0, 0], [4, 0], [4, 3], [0, 3]]; // prettier-ignore
    const job = jobWith(
      put("storey", { id: "2", name: "Up", elevation_m: 3 }),
      wall("A", [0, 0], [4, 0]),
      wall("U", [0, 0], [4, 0], { storey: "2" }),
      put("room", { id: "R", storey: "1", name: "R", polygon }),
      put("room", { id: "S", storey: "2", name: "S", polygon }),
    );
    const moved = applied(job, movedWall(job, named(job, "A"), [0, -1]));
    expect(moved.house.rooms[0]!.polygon).toEqual([[0, -1], [4, -1], [4, 3], [0, 3]]); // prettier-ignore
    expect(moved.house.rooms[1]!.polygon).toEqual(polygon);
    expect(lines(moved).U).toEqual([[0, 0], [4, 0]]); // prettier-ignore
  });
  it("is not made shorter than 5 cm", () => {
    const job = jobWith(wall("A", [0, 0], [4, 0]));
    expect(movedCorners(job, "1", [[[4, 0], [0.04, 0]]])).toEqual([]); // prettier-ignore
    expect(movedCorners(job, "1", [[[4, 0], [0.06, 0]]])).toHaveLength(1); // prettier-ignore
  });
  it("keeps its door: narrower where it must be, else where it was", () => {
    const job = jobWith(wall("A", [0, 0], [4, 0]), door("X", "A", 3));
    const shorter = (to: number) =>
      applied(job, movedCorners(job, "1", [[[4, 0], [to, 0]]])).house.openings.map((one) => [one.offset_m, one.width_m]); // prettier-ignore
    expect(shorter(3.9)).toEqual([[3, 0.8]]);
    expect(shorter(3)).toEqual([[2.2, 0.8]]);
    expect(shorter(0.5)).toEqual([[0, 0.5]]);
  });
});

describe("a door that is slid", () => {
  const job = jobWith(wall("A", [0, 0], [4, 0]), door("X", "A", 0), door("Y", "A", 2, 1));
  const to = (offset: number) => doors(applied(job, slid(job, job.house.openings[0]!, offset))).X![1];
  it("may touch the next one, not overlap it, and may pass beyond it", () => {
    expect([to(1.2), to(1.25), to(2.95), to(3)]).toEqual([1.2, 0, 0, 3]);
  });
});

describe("a wall that is drawn", () => {
  const job = jobWith(
    put("storey", { id: "2", name: "Up", elevation_m: 3 }),
    wall("A", [0, 0], [4, 0]),
    wall("U", [0, 0], [4, 0], { storey: "2" }),
  );
  const drawn = (start: Point, end: Point) => applied(job, drawnWall(job, "1", start, end, "stone", "q"));
  it("shorter than 5 cm is none", () => {
    expect(drawn([1, 1], [1.04, 1])).toBe(job);
    expect(drawn([1, 1], [1.06, 1]).house.walls).toHaveLength(3);
  });
  it("from another cuts that in two and is whole itself; that of another storey stays whole", () => {
    const made = drawn([1, 0], [1, 3]).house.walls;
    expect(made.map((one) => [one.storey, one.construction, one.start, one.end])).toEqual([
      ["1", "unknown", [0, 0], [1, 0]],
      ["2", "unknown", [0, 0], [4, 0]],
      ["1", "unknown", [1, 0], [4, 0]],
      ["1", "stone", [1, 0], [1, 3]],
    ]);
  });
  it("across another is cut there too, from its start on", () => {
    const made = drawn([1, 2], [1, -1]).house.walls.filter((one) => one.construction === "stone");
    expect(made.map((one) => [one.start, one.end])).toEqual([[[1, 2], [1, 0]], [[1, 0], [1, -1]]]); // prettier-ignore
  });
  it("from the end of another cuts nothing", () => {
    expect(drawn([4, 0], [4, 3]).house.walls).toHaveLength(3);
  });
});

it("a storey is moved with all that stands on it, and nothing else", () => {
  const of = (storey: string, n: string) => [
    wall(`W${n}`, [0, 0], [4, 0], { storey }),
    put("room", { id: `R${n}`, storey, name: n, polygon: [[0, 0], [1, 0], [1, 1]] }), // prettier-ignore
    put("body", { id: `H${n}`, storey, kind: "bath", corner: [1, 1], width_m: 1, depth_m: 1, height_m: 1 }),
    put("outlet", { id: `O${n}`, storey, position: [1, 2] }),
    put("meeting_point", { id: `M${n}`, name: n, storey, position: [2, 2] }),
    put("box", { id: `B${n}`, name: n, storey, equipment: "r", position: [3, 2] }),
    put("reading", { id: `Q${n}`, storey, position: [3, 1], quantity: "down_mbps", value: 9 }),
  ];
  const job = jobWith(
    put("storey", { id: "2", name: "Up", elevation_m: 3 }),
    ...of("1", "a"),
    ...of("2", "b"),
    put("outlet", { id: "never located", storey: "2" }),
    put("run", { id: "C", ends: ["Oa", "Ob"], route: [[1, 2, 0.3], [1, 2, 3.3], [2, 2, 3.3]] }), // prettier-ignore
    put("run", { id: "down here", ends: [], route: [[1, 2, 0.3], [2, 2, 0.3]] }), // prettier-ignore
    put("run", { id: "up there", ends: [], route: [[1, 2, 3.3], [2, 2, 3.3]] }), // prettier-ignore
  );
  const changes = shiftedStorey(job, "2", [10, 20]);
  expect(changes.flatMap((one) => ("fields" in one && one.kind === "run" ? [one.id] : []))).toEqual(["C", "up there"]);
  const moved = applied(job, changes);
  const places = (one: Job, end: string) => [
    one.house.walls.filter((x) => x.id.endsWith(end)).map((x) => [x.start, x.end]),
    one.house.rooms.filter((x) => x.id.endsWith(end)).map((x) => x.polygon),
    one.house.bodies.filter((x) => x.id.endsWith(end)).map((x) => x.corner),
    ...[one.house.outlets, one.house.meeting_points, one.boxes, one.readings].map((list) =>
      list.filter((x) => x.id.endsWith(end)).map((x) => x.position),
    ),
  ];
  expect(places(moved, "a")).toEqual(places(job, "a"));
  expect(places(moved, "b")).toEqual([
    [[[10, 20], [14, 20]]], // prettier-ignore
    [[[10, 20], [11, 20], [11, 21]]], // prettier-ignore
    [[11, 21]],
    [[11, 22]],
    [[12, 22]],
    [[13, 22]],
    [[13, 21]],
  ]);
  expect(moved.house.outlets.find((one) => one.id === "never located")!.position).toBeNull();
  expect(moved.house.runs.map((one) => one.route)).toEqual([
    [[1, 2, 0.3], [11, 22, 3.3], [12, 22, 3.3]], // prettier-ignore
    [[1, 2, 0.3], [2, 2, 0.3]], // prettier-ignore
    [[11, 22, 3.3], [12, 22, 3.3]], // prettier-ignore
  ]);
});
