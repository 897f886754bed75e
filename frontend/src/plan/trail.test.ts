import { describe, expect, it } from "vitest";
import { drawnRuns } from "./storey";
import { Trail, wayLength, wayThrough } from "./trail.svelte";

describe("a route", () => {
  const level = { storey: "1", level_m: 2.3 };

  it("goes up at its first plate, level, and down at its last", () => {
    const way = wayThrough([
      { at: [0, 0], ...level, end_m: 0.3 },
      { at: [4, 0], ...level, end_m: null },
      { at: [4, 3], ...level, end_m: 1.2 },
    ]);
    expect(way).toEqual([
      [0, 0, 0.3],
      [0, 0, 2.3],
      [4, 0, 2.3],
      [4, 3, 2.3],
      [4, 3, 1.2],
    ]);
    expect(wayLength(way)).toBeCloseTo(2 + 4 + 3 + 1.1);
  });

  it("rises where the next storey begins", () => {
    const way = wayThrough([
      { at: [0, 0], ...level, end_m: null },
      { at: [2, 0], storey: "2", level_m: 3, end_m: null },
    ]);
    expect(way).toEqual([
      [0, 0, 2.3],
      [0, 0, 3],
      [2, 0, 3],
    ]);
  });

  it("ends where the last point is pressed again, and gives points back", () => {
    const on = {
      storey: { id: "1", elevation_m: 0 },
      outlets: [{ position: [1, 1], height_m: 0.4 }],
      meetings: [],
      walls: [],
    };
    const trail = new Trail();
    expect(trail.press(on as never, [1, 1])).toBe(true);
    expect(trail.press(on as never, [3, 1])).toBe(true);
    expect(trail.press(on as never, [3, 1])).toBe(false);
    expect(trail.way).toEqual([
      [1, 1, 0.4],
      [1, 1, 0.3],
      [3, 1, 0.3],
    ]);
    trail.back();
    expect(trail.way).toEqual([[1, 1, 0.4]]);
  });

  it("is drawn on each storey with what lies there, and where it leaves", () => {
    const storeys = [
      { id: "1", elevation_m: 0 },
      { id: "2", elevation_m: 2.7 },
    ];
    const route = [
      [0, 0, 0.3],
      [4, 0, 0.3],
      [4, 0, 3],
      [4, 2, 3],
    ];
    const job = {
      house: { storeys, outlets: [], meeting_points: [], runs: [{ id: "C1", ends: ["unknown", "unknown"], route }] },
    };
    expect(drawnRuns(job as never, "1")).toMatchObject([
      {
        lines: [
          [
            [0, 0],
            [4, 0],
          ],
        ],
        leaves: [[4, 0]],
      },
    ]);
    expect(drawnRuns(job as never, "2")).toMatchObject([
      {
        lines: [
          [
            [4, 0],
            [4, 2],
          ],
        ],
        leaves: [[4, 0]],
      },
    ]);
  });
});
