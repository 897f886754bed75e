import { describe, expect, it } from "vitest";
import { jobWith } from "../../tests/live";
import { applied } from "../job/apply";
import type { Change, Job } from "../job/types";
import { lengthOf, type Point } from "../maths/geometry";
import { Chain, startAt, startOf, type Ground } from "./chain";
import type { Measure } from "./choices.svelte";
import { onStorey } from "./storey";
import { beyond, cornersOn, halfAt, measured, startOn } from "./tape";

const KNOWN = new Map([
  ["thick", { label: "Thick", use: "wall", thickness_m: 0.3 }],
  ["thin", { label: "Thin", use: "wall", thickness_m: 0.1 }],
]);
const wall = (id: string, start: Point, end: Point, construction = "thick"): Change => ({
  do: "put",
  kind: "wall",
  entity: { id, storey: "1", start, end, construction },
});
const room = (id: string, ...polygon: Point[]): Change => ({
  do: "put",
  kind: "room",
  entity: { id, storey: "1", name: id, polygon },
});
/** Two rooms beside each other in thick walls, a thin one between them that goes on to the right as a wing's wall. */
const house = jobWith(
  wall("S1", [0, 0], [4, 0]),
  wall("S2", [4, 0], [7, 0]),
  wall("E", [7, 0], [7, 3]),
  wall("N1", [0, 3], [4, 3]),
  wall("N2", [4, 3], [7, 3]),
  wall("W", [0, 0], [0, 3]),
  wall("M", [4, 0], [4, 3], "thin"),
  room("A", [0, 0], [4, 0], [4, 3], [0, 3]),
);
const of = (id: string, job: Job = house) => job.house.walls.find((one) => one.id === id)!;
const length = (id: string, measure: Measure = "inside", job: Job = house) =>
  measured(of(id, job), onStorey(job, "1")!, KNOWN, measure);

describe("a standing wall", () => {
  it("is as long as its centre line, or as what lies between the walls at its ends", () => {
    expect(length("S1", "centre")).toBe(4);
    expect(beyond(of("S1"), onStorey(house, "1")!, KNOWN, "centre")).toBe(0);
    expect(length("S1")).toBeCloseTo(4 - 0.15 - 0.05);
    expect(length("M")).toBeCloseTo(3 - 0.3);
  });
  it("is measured on the side of its room; without one, where it is shorter", () => {
    const bare = applied(house, [{ do: "drop", kind: "room", id: "A" }]);
    expect(length("W")).toBeCloseTo(2.7);
    expect(length("W", "inside", bare)).toBeCloseTo(2.7);
    const outside = applied(bare, [
      {
        do: "put",
        kind: "room",
        entity: { id: "O", storey: "1", name: "O", outside: true, polygon: [[-3, 0], [0, 0], [0, 3], [-3, 3]] }, // prettier-ignore
      },
    ]);
    expect(length("W", "inside", outside)).toBeCloseTo(2.7); // a garden is no inside
  });
  it("runs on past a corner that turns away from its room", () => {
    const corner = jobWith(
      wall("A", [0, 0], [4, 0]),
      wall("B", [4, 0], [4, -3]),
      wall("C", [0, 0], [0, 3]),
      room("R", [0, 0], [4, 0], [4, 3], [0, 3]),
    );
    expect(length("A", "inside", corner)).toBeCloseTo(4 - 0.15 + 0.15);
  });
  it("is measured in its room however narrow that is", () => {
    const strip = jobWith(
      wall("A", [0, 0], [4, 0]),
      wall("B", [4, 0], [4, -3]),
      wall("C", [0, 0], [0, -3]),
      room("R", [0, 0], [4, 0], [4, 0.4], [0, 0.4]),
    );
    expect(length("A", "inside", strip)).toBeCloseTo(4.3);
  });
  it("ends where the next one in its line goes on and nothing turns off on its side", () => {
    const line = jobWith(
      wall("A", [0, 0], [4, 0]),
      wall("B", [4, 0], [6, 0]),
      wall("T", [4, 0], [4, -3]),
      room("R", [0, 0], [4, 0], [4, 3], [0, 3]),
    );
    expect(length("A", "inside", line)).toBeCloseTo(4);
  });
});

describe("walls that meet", () => {
  const { walls } = house.house;
  it("take half of the thickest that runs across", () => {
    expect(halfAt(walls, [4, 0], [1, 0], KNOWN)).toBeCloseTo(0.05);
    expect(halfAt(walls, [4, 0], [0, 1], KNOWN)).toBeCloseTo(0.15);
    expect(halfAt(walls, [2, 0], [0, 1], KNOWN)).toBeCloseTo(0.15);
    expect(halfAt(walls, [2, 1], [0, 1], KNOWN)).toBeNull();
    expect(halfAt(walls, [2, 0], [1, 0], KNOWN)).toBeNull();
  });
  it("have corners at their ends and where others end on them", () => {
    expect(cornersOn({ start: [0, 0], end: [7, 0] }, walls)).toEqual(
      expect.arrayContaining([[0, 0], [7, 0], [4, 0]]), // prettier-ignore
    );
    expect(cornersOn({ start: [0, 0], end: [7, 0] }, walls)).not.toContainEqual([4, 3]);
  });
});

describe("where a chain starts", () => {
  const on = onStorey(house, "1")!;
  it("is measured from the nearest corner, between faces less half of both walls", () => {
    expect(startOn(on, [3, 0], KNOWN, "centre", 0.1)).toMatchObject({ corner: [4, 0], way: [-1, 0], beyond_m: 0 });
    expect(startOn(on, [1, 0.01], KNOWN, "centre", 0.1)!.wall.id).toBe("S1");
    expect(startOn(on, [1, 0], KNOWN, "inside", 0.1)!.beyond_m).toBeCloseTo(0.15 + 0.05);
    expect(startOn(on, [2, 1], KNOWN, "inside", 0.1)).toBeNull();
    expect(startOn(on, [4, 0], KNOWN, "inside", 0.1)).toBeNull();
  });
  it("is on that wall, or nowhere", () => {
    const inside = ground(house, "inside", "thin");
    const start = startOf(inside, [1, 0])!;
    expect(start.measured_m).toBeCloseTo(1 - 0.2);
    expect(startAt(start, 0.8)).toEqual([1, 0]);
    expect(startAt(start, 3.8)).toEqual([4, 0]);
    expect(startAt(start, 3.81)).toBeNull();
    expect(startOf(inside, [0.1, 0])!.measured_m).toBe(0);
    expect(startOf(inside, [2, 1])).toBeNull();
  });
});

function ground(job: Job, measure: Measure = "centre", construction = "thick"): Ground {
  return { job, on: onStorey(job, "1")!, known: KNOWN, measure, construction, mark: "a" };
}

describe("a chain", () => {
  /** Walls by their lengths, right, up, left and down in turn, as `ways` says. */
  function drawn(measure: Measure, ways: string, lengths: number[], first: Point = [0, 0]) {
    const WAYS: Record<string, Point> = { R: [1, 0], U: [0, 1], L: [-1, 0], D: [0, -1] };
    const chain = new Chain();
    let job = jobWith();
    let from = first;
    const left: number[] = [];
    [...ways].forEach((way, i) => {
      const step = chain.typed(ground(job, measure), from, WAYS[way]!, lengths[i]!)!;
      job = applied(job, step.changes);
      from = step.end;
      left.push(step.left_m);
    });
    return { job, chain, from, left };
  }
  it("closes between inside faces as it does along centre lines", () => {
    const { job, chain, from } = drawn("inside", "RULD", [4, 3, 4, 3]);
    expect(job.house.walls.map(lengthOf)).toEqual([4.3, 3.3, 4.3, 3.3]);
    expect([from, chain.closed, chain.going]).toEqual([[0, 0], true, false]);
  });
  it("takes a corner that turns back for what it is: the face runs on past it", () => {
    // An L of rooms, 5 by 4 inside, with 2 by 2 left out of a corner.
    const { job, chain, left } = drawn("inside", "RULULD", [5, 2, 2, 2, 3, 4]);
    expect(chain.closed).toBe(true);
    expect(Math.max(...left)).toBeLessThan(1e-6);
    const corners = job.house.walls.map((one) => one.end);
    expect(corners).toEqual([[5.3, 0], [5.3, 2.3], [3.3, 2.3], [3.3, 4.3], [0, 4.3], [0, 0]]); // prettier-ignore
  });
  it("turning right is no other than turning left", () => {
    const { job, chain } = drawn("inside", "UR", [4, 3]);
    expect(job.house.walls.map(lengthOf)).toEqual([4.3, 3.3]);
    expect(chain.going).toBe(true);
    expect(drawn("inside", "URDL", [3, 4, 3, 4]).chain.closed).toBe(true);
  });
  it("begins with half of the wall it starts on", () => {
    const chain = new Chain();
    expect(chain.beyond_m(ground(house, "inside", "thin"), [2, 0], [0, 1])).toBeCloseTo(0.15 + 0.05);
    expect(chain.beyond_m(ground(house, "inside", "thin"), [2, 1], [0, 1])).toBeCloseTo(0.1);
    expect(chain.beyond_m(ground(house, "centre", "thin"), [2, 1], [0, 1])).toBe(0);
    expect(chain.beyond_m(ground(house, "inside", "unheard of"), [2, 1], [0, 1])).toBeCloseTo(0.1);
  });
  it("begins anew after it closed: its first turn says which side is inside", () => {
    const { chain, job } = drawn("inside", "RULD", [4, 3, 4, 3]);
    expect(new Chain().closed).toBe(false);
    chain.begin();
    expect(chain.closed).toBe(false);
    const up = chain.typed(ground(job, "inside"), [10, 0], [0, 1], 4)!;
    expect(up.end).toEqual([10, 4.3]);
    const right = chain.typed(ground(applied(job, up.changes), "inside"), up.end, [1, 0], 3)!;
    expect([right.end, right.changes.length]).toEqual([[13.3, 4.3], 1]); // prettier-ignore
  });
  it("closes within five centimetres of a corner, but never on the one it comes from", () => {
    const chain = new Chain();
    expect(chain.typed(ground(house), [2, 1], [1, 0], 1.96)!.closed).toBe(false);
    const step = chain.typed(ground(house), [2, 3], [1, 0], 1.96)!;
    expect(step).toMatchObject({ closed: true, end: [4, 3] });
    expect(step.left_m).toBeCloseTo(0.04);
    expect(chain.typed(ground(house), [2, 3], [1, 0], 1.94)).toMatchObject({ closed: false, end: [3.94, 3] });
    expect(chain.typed(ground(house), [0, 0], [1, 1], 0.03)).toBeNull();
  });
  it("draws nothing where a wall stands, and goes on from there; too short it does neither", () => {
    const chain = new Chain();
    const step = chain.pressed(ground(house), [1, 0], [3, 0])!;
    expect([step.changes, step.end, chain.going]).toEqual([[], [3, 0], true]);
    chain.begin();
    expect(chain.going).toBe(false);
    expect(chain.pressed(ground(house), [1, 0], [1.01, 0])).toBeNull();
    expect(chain.going).toBe(false);
  });
  it("corrects a corner only where the length before it was taken inside", () => {
    const chain = new Chain();
    let job = jobWith();
    for (const [from, to] of [
      [
        [0, 0],
        [4, 0],
      ],
      [
        [4, 0],
        [4, 2],
      ],
    ] as [Point, Point][])
      // prettier-ignore
      job = applied(job, chain.pressed(ground(job, "inside"), from, to)!.changes);
    const step = chain.typed(ground(job, "inside"), [4, 2], [1, 0], 2)!; // turns right after a left
    expect(step.changes.length).toBe(1);
    expect(step.end).toEqual([6, 2]);
  });
});
