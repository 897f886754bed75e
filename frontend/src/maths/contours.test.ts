import { describe, expect, it } from "vitest";
import { contourSegments, evenLevels, labelPlaces, rateLevels, type Grid, type Label } from "./contours";

function gridOf(rows: number[][]): Grid {
  return { rows: rows.length, cols: rows[0]!.length, values: Float32Array.from(rows.flat()) };
}

function linesOf(rows: number[][], level: number): number[][] {
  const out: number[] = [];
  const used = contourSegments(gridOf(rows), level, out);
  return Array.from({ length: used / 4 }, (_, i) => out.slice(4 * i, 4 * i + 4));
}

/** The same line, whichever end comes first. */
function same(lines: number[][]): string[] {
  return lines.map(([a, b, c, d]) => (a! < c! || (a === c && b! < d!) ? [a, b, c, d] : [c, d, a, b]).join(" ")).sort();
}

describe("a contour in one cell", () => {
  // corners as they lie: below left, below right, above right, above left
  const cell = ([a, b, c, d]: number[]) => [
    [a!, b!],
    [d!, c!],
  ];
  const [left, right, low, high] = ["0 0.5", "1 0.5", "0.5 0", "0.5 1"];
  it.each([
    [[1, 0, 0, 0], [`${left} ${low}`]],
    [[0, 1, 0, 0], [`${low} ${right}`]],
    [[0, 0, 1, 0], [`${high} ${right}`]],
    [[0, 0, 0, 1], [`${left} ${high}`]],
    [[1, 1, 0, 0], [`${left} ${right}`]],
    [[0, 1, 1, 0], [`${low} ${high}`]],
    [[1, 0, 0, 1], [`${low} ${high}`]],
    [[0, 0, 1, 1], [`${left} ${right}`]],
    [[0, 1, 1, 1], [`${left} ${low}`]],
    [[1, 0, 1, 1], [`${low} ${right}`]],
    [[1, 1, 0, 1], [`${high} ${right}`]],
    [[1, 1, 1, 0], [`${left} ${high}`]],
    [[0, 0, 0, 0], []],
    [[1, 1, 1, 1], []],
  ])("cuts off the corners that are above: %o", (corners, lines) => {
    expect(same(linesOf(cell(corners), 0.5))).toEqual([...lines].sort());
  });

  it("goes through a saddle as its middle says", () => {
    const above = same(linesOf(cell([1, 0.25, 1, 0.25]), 0.5)); // the middle is above: the high corners hang together
    const below = same(linesOf(cell([0.75, 0, 0.75, 0]), 0.5)); // it is below: each high corner is cut off
    expect(above).toHaveLength(2);
    expect(below).toHaveLength(2);
    const cutAt = (lines: string[]) => lines.map((line) => line.split(" ").map(Number));
    for (const [x1, y1, x2, y2] of cutAt(above)) expect(x1! + x2! < 1 === y1! + y2! < 1).toBe(false);
    for (const [x1, y1, x2, y2] of cutAt(below)) expect(x1! + x2! < 1 === y1! + y2! < 1).toBe(true);
    const other = same(linesOf(cell([0.25, 1, 0.25, 1]), 0.5));
    for (const [x1, y1, x2, y2] of cutAt(other)) expect(x1! + x2! < 1 === y1! + y2! < 1).toBe(true);
  });

  it("lies where a straight line between the corners reaches the level", () => {
    expect(linesOf(cell([0, 8, 8, 0]), 2)).toEqual([[0.25, 0, 0.25, 1]]);
    expect(linesOf(cell([0, 0, 8, 8]), 6)).toEqual([[0, 0.75, 1, 0.75]]);
  });

  it("counts a corner on the level as above it", () => {
    expect(linesOf(cell([5, 5, 9, 9]), 5)).toEqual([]);
    expect(linesOf(cell([5, 4, 4, 4]), 5)).toEqual([[0, 0, 0, 0]]);
  });

  it("says nothing where a corner is not known", () => {
    expect(linesOf(cell([1, NaN, 0, 0]), 0.5)).toEqual([]);
  });
});

it("a contour on a larger grid lies in the right cells and ends at its edge", () => {
  const slope = Array.from({ length: 4 }, () => [0, 10, 20, 30, 40]);
  expect(linesOf(slope, 25)).toEqual([0, 1, 2].map((y) => [2.5, y, 2.5, y + 1]));
  const steep = [0, 10, 20, 30].map((value) => [value, value, value]);
  expect(linesOf(steep, 5)).toEqual([0, 1].map((x) => [x, 0.5, x + 1, 0.5]));
});

it("a contour round a hill is closed: each of its ends is met by another", () => {
  const hill = Array.from({ length: 21 }, (_, y) =>
    Array.from({ length: 21 }, (_, x) => 100 - (x - 9.3) ** 2 - (y - 10.6) ** 2),
  );
  const lines = linesOf(hill, 60);
  const met = new Map<string, number>();
  for (const [a, b, c, d] of lines)
    for (const end of [`${a!.toFixed(5)} ${b!.toFixed(5)}`, `${c!.toFixed(5)} ${d!.toFixed(5)}`])
      met.set(end, (met.get(end) ?? 0) + 1);
  expect(lines.length).toBeGreaterThan(20);
  expect([...met.values()].every((times) => times === 2)).toBe(true);
  const radii = lines.map(([x, y]) => Math.hypot(x! - 9.3, y! - 10.6));
  expect(Math.max(...radii) - Math.sqrt(40)).toBeLessThan(0.05);
  expect(Math.sqrt(40) - Math.min(...radii)).toBeLessThan(0.05);
});

describe("figures on contours", () => {
  const put = (segments: number[], apart: number, standing: Label[] = []) => {
    labelPlaces(segments, segments.length, 50, apart, standing);
    return standing;
  };
  it("stand in the middle of a piece and read along it", () => {
    expect(put([0, 0, 2, 2], 1)).toEqual([{ x: 1, y: 1, turn: Math.PI / 4, level: 50 }]);
  });
  it("are never upside down", () => {
    expect(put([2, 2, 0, 0], 1)[0]!.turn).toBeCloseTo(Math.PI / 4);
    expect(put([0, 0, -2, 0.01], 1)[0]!.turn).toBeCloseTo(-0.005);
    expect(put([0, 0, 0, 2], 1)[0]!.turn).toBeCloseTo(Math.PI / 2);
    expect(put([0, 2, 0, 0], 1)[0]!.turn).toBeCloseTo(Math.PI / 2);
  });
  it("keep apart from those that stand, whatever their level", () => {
    const standing: Label[] = [{ x: 0, y: 0, turn: 0, level: 100 }];
    expect(put([2, 0, 4, 0, 4, 0, 8, 0], 4, standing).map((one) => one.x)).toEqual([0, 6]);
    expect(put([3, 0, 5, 0], 4, [{ x: 0, y: 0, turn: 0, level: 100 }])).toHaveLength(2); // just as far is far enough
  });
  it("are for as many pieces as there are, whatever stood in the list before", () => {
    const standing: Label[] = [];
    labelPlaces([0, 0, 2, 0, 90, 90, 92, 90], 4, 50, 1, standing);
    expect(standing).toHaveLength(1);
  });
});

it("levels of rates are those people know, the highest where there are too many", () => {
  expect(rateLevels(2, 100)).toEqual([5, 10, 25, 50]);
  expect(rateLevels(0, 9000)).toEqual([400, 500, 750, 1000, 1500, 2000, 3000, 5000, 8000].slice(1));
  expect(rateLevels(0.5, 9000, 20)).toEqual([
    1, 2, 5, 10, 25, 50, 100, 200, 300, 400, 500, 750, 1000, 1500, 2000, 3000, 5000, 8000,
  ]);
});

it("even levels are round, within the ends, and no more than asked", () => {
  expect(evenLevels(-90, -30, 10)).toEqual([-80, -70, -60, -50, -40]);
  expect(evenLevels(-91, -29, 10)).toEqual([-90, -80, -70, -60, -50, -40, -30]);
  expect(evenLevels(0, 100, 10, 5)).toEqual([20, 40, 60, 80]);
  expect(evenLevels(0, 80, 10, 8)).toEqual([10, 20, 30, 40, 50, 60, 70]);
  expect(evenLevels(0, 90, 10)).toEqual([20, 40, 60, 80]); // eight where nothing is asked
});
