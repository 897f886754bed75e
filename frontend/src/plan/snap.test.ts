import { describe, expect, it } from "vitest";
import type { Wall } from "../job/types";
import type { Point, Segment } from "../maths/geometry";
import { onWallFace, snapped, stepOf } from "./snap";

const wall = (x1: number, y1: number, x2: number, y2: number): Segment => ({ start: [x1, y1], end: [x2, y2] });
const near = (point: Point, to: Point) => {
  expect(point[0]).toBeCloseTo(to[0], 6);
  expect(point[1]).toBeCloseTo(to[1], 6);
};

describe("a point that is drawn", () => {
  it("goes to the nearest corner in reach before anything else", () => {
    const walls = [wall(0, 0, 4, 0), wall(0.3, 0.1, 0.3, 3)];
    const found = snapped([0.2, 0.05], walls, 0.5, "metric");
    expect([found.to, found.point]).toEqual(["corner", [0.3, 0.1]]);
    expect(snapped([0.6, 0.5], [wall(0, 0, 4, 0)], 0.5, "metric").to).not.toBe("corner");
    expect(snapped([0.5, 0], [wall(0, 0, 4, 0)], 0.5, "metric").to).toBe("wall"); // as far as the reach is out of it
  });

  it("goes to a wall in reach", () => {
    const found = snapped([2.013, 0.2], [wall(0, 0, 4, 0)], 0.3, "metric");
    expect(found.to).toBe("wall");
    near(found.point, [2.013, 0]);
    expect(snapped([2.013, 0.3], [wall(0, 0, 4, 0)], 0.3, "metric").to).not.toBe("wall");
  });

  it("stands in line with corners within half the reach, and shows which", () => {
    const found = snapped([4.1, 2.02], [wall(0, 0, 4, 0)], 0.3, "metric");
    expect(found.to).toBe("line");
    near(found.point, [4, 2]);
    expect(found.guides).toEqual([[[4, 0], found.point]]);
    const both = snapped([4.1, 2.02], [wall(0, 0, 4, 0), wall(9, 2, 9, 7)], 0.3, "metric");
    near(both.point, [4, 2]);
    expect(both.guides).toHaveLength(2);
    expect(snapped([4.2, 2.02], [wall(0, 0, 4, 0)], 0.3, "metric").to).toBe("step");
  });

  it("takes the nearest of corners in one line", () => {
    const found = snapped([4.1, 2], [wall(4, 9, 4.05, 9), wall(4.02, 1, 7, 1)], 0.4, "metric");
    expect(found.guides[0]![0]).toEqual([4.02, 1]);
  });

  it("goes to the next whole step otherwise: 5 cm, or an inch", () => {
    near(snapped([1.02, 2.04], [], 0.3, "metric").point, [1, 2.05]);
    near(snapped([1.02, 2.04], [], 0.3, "imperial").point, [40 * 0.0254, 80 * 0.0254]);
    expect(stepOf("metric")).toBe(0.05);
    expect(stepOf("imperial")).toBeCloseTo(0.0254);
  });
});

describe("a wall that is drawn from a corner", () => {
  it("goes by whole steps in one of eight directions", () => {
    near(snapped([3.02, 0.1], [], 0.3, "metric", [0, 0]).point, [3, 0]);
    near(snapped([2.1, 2], [], 0.3, "metric", [0, 0]).point, [2.051, 2.051]); // 2.9 m along
    near(snapped([-3.02, 0.1], [], 0.3, "metric", [0, 0]).point, [-3, 0]);
    near(snapped([0.1, -3.02], [], 0.3, "metric", [0, 0]).point, [0, -3]);
  });

  it("is free of them where the pointer is well off every direction", () => {
    const found = snapped([4, 1.2], [], 0.3, "metric", [0, 0]);
    near(found.point, [4, 1.2]);
    near(snapped([4, 0.4], [], 0.3, "metric", [0, 0]).point, [4, 0]); // within an eighth of its length
    near(snapped([2, 0.45], [], 0.5, "metric", [0, 0]).point, [2, 0]); // within the reach
    near(snapped([2, 0.5], [], 0.5, "metric", [0, 0]).point, [2, 0.5]); // as far as the reach is out of it
  });

  it("ends at a wall that it meets", () => {
    const found = snapped([3.9, 0.05], [wall(4, -2, 4, 2)], 0.3, "metric", [0, 0]);
    expect(found.to).toBe("wall");
    near(found.point, [4, 0]);
    expect(snapped([3, 0.05], [wall(4, -2, 4, 2)], 0.3, "metric", [0, 0]).to).toBe("step");
  });

  it("ends in line with a corner across", () => {
    const found = snapped([4.1, 0.05], [wall(4, 3, 4, 5)], 0.3, "metric", [0, 0]);
    expect(found.to).toBe("line");
    near(found.point, [4, 0]);
    expect(found.guides[0]![0]).toEqual([4, 3]);
  });

  it("has no direction before it is 2 cm long", () => {
    expect(snapped([0.01, 0], [], 0.3, "metric", [0, 0])).toEqual({ point: [0, 0], to: "step", guides: [] });
  });
});

describe("a plate on a wall", () => {
  const walls = [
    { ...wall(0, 0, 4, 0), id: "w1" },
    { ...wall(4, 0, 4, 3), id: "w2" },
  ] as unknown as Wall[];
  const half = () => 0.05;
  it("stands on the face that is nearer, clear of the wall", () => {
    near(onWallFace([2, 0.2], walls, half, 0.5), [2, 0.07]);
    near(onWallFace([2, -0.2], walls, half, 0.5), [2, -0.07]);
    near(onWallFace([3.9, 1], walls, half, 0.5), [3.93, 1]);
  });
  it("stays where it is put with no wall in reach", () => {
    near(onWallFace([2, 0.56], walls, half, 0.5), [2, 0.56]);
    near(onWallFace([2, 0.54], walls, half, 0.5), [2, 0.07]);
    expect(onWallFace([9, 9], [], half, 0.5)).toEqual([9, 9]);
  });
});
