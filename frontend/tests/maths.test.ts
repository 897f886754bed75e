import { describe, expect, it } from "vitest";
import { contourSegments, evenLevels, labelPlaces, rateLevels, type Label } from "../src/maths/contours";
import { faceAround, facesOf } from "../src/maths/faces";
import { areaOf, type Point, type Segment } from "../src/maths/geometry";
import { formatAbout, formatArea, formatLength, parseLength } from "../src/maths/lengths";

describe("lengths as people write them", () => {
  // 1 foot is 0.3048 m and 1 inch 0.0254 m exactly (international yard and pound agreement, 1959).
  const cases: [string, "metric" | "imperial", number][] = [
    ["3.81", "metric", 3.81],
    ["3,81", "metric", 3.81],
    ["381 cm", "metric", 3.81],
    ["3810mm", "imperial", 3.81],
    ["12' 6\"", "metric", 3.81],
    ["12'6", "metric", 3.81],
    ["12 ft 6 in", "imperial", 3.81],
    ["12-6", "imperial", NaN],
    ["12′ 6″", "metric", 3.81],
    ["12.5", "imperial", 3.81],
    ['150"', "metric", 3.81],
    ['6 1/2"', "metric", 0.1651],
    ['1/2"', "metric", 0.0127],
    ["12' 6 1/2\"", "metric", 3.8227],
    ["12' 6½\"", "metric", 3.8227],
    ['½"', "metric", 0.0127],
    ["-2'", "metric", -0.6096],
    ["", "metric", NaN],
    ["abc", "metric", NaN],
    ["12' x", "metric", NaN],
    ["1e3", "metric", NaN],
  ];
  it.each(cases)("%s in %s", (text, units, metres) => {
    const found = parseLength(text, units);
    if (Number.isNaN(metres)) expect(found).toBeNull();
    else expect(found).toBeCloseTo(metres, 9);
  });
  it("reads what it writes, to a quarter inch and five millimetres", () => {
    for (let m = 0; m < 20; m += 0.0371) {
      expect(Math.abs(parseLength(formatLength(m, "imperial"), "imperial")! - m)).toBeLessThanOrEqual(
        0.0254 / 4 + 1e-9,
      );
      expect(Math.abs(parseLength(formatLength(m, "metric"), "metric")! - m)).toBeLessThanOrEqual(0.005 + 1e-9);
    }
  });
  it("gives a judged length whole metres or feet", () => {
    expect(formatAbout(26.04, "metric")).toBe("26 m");
    expect(formatAbout(26.04, "imperial")).toBe("85 ft");
  });
  it.each([
    [0, '0"'],
    [0.0127, '½"'],
    [0.0254, '1"'],
    [0.1651, '6½"'],
    [0.3048, "1' 0\""],
    [3.6703, "12' 0½\""],
    [3.8227, "12' 6½\""],
    [-0.6096, "−2' 0\""],
    [-0.001, '0"'],
  ])("%f m read in feet and inches", (metres, words) => expect(formatLength(metres, "imperial")).toBe(words));
  it("gives an area square metres to a tenth, or whole square feet", () => {
    expect(formatArea(14.24, "metric")).toBe("14.2 m²");
    expect(formatArea(14.2, "imperial")).toBe("153 sq ft"); // 14.2 / 0.09290304 = 152.85
  });
  it("carries twelve inches over", () => expect(formatLength(0.3048 * 4 - 0.001, "imperial")).toBe("4' 0\""));
});

const box = (x0: number, y0: number, x1: number, y1: number): Segment[] => {
  const p: Point[] = [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
  return p.map((start, i) => ({ start, end: p[(i + 1) % 4]! }));
};

describe("rooms that walls enclose", () => {
  it("finds the room on either side of a wall that ends on others", () => {
    const walls = [...box(0, 0, 6, 4), { start: [2, 0], end: [2, 4] } as Segment];
    expect(areaOf(faceAround(walls, [1, 1])!)).toBeCloseTo(8);
    expect(areaOf(faceAround(walls, [5, 1])!)).toBeCloseTo(16);
  });
  it("finds none where the walls do not close", () => expect(faceAround(box(0, 0, 6, 4).slice(1), [1, 1])).toBeNull());
  it("is not misled by a wall that ends in the room", () => {
    const face = faceAround([...box(0, 0, 6, 4), { start: [3, 0], end: [3, 2] }], [1, 1])!;
    expect(areaOf(face)).toBeCloseTo(24);
    expect(face.length).toBe(4);
  });
  it("shares out the whole of a house cut by crossing walls", () => {
    const walls = [
      ...box(0, 0, 6, 4),
      { start: [0, 1], end: [6, 1] } as Segment,
      { start: [2, 0], end: [2, 4] } as Segment,
    ];
    const faces = facesOf(walls);
    expect(faces.length).toBe(4);
    expect(faces.reduce((sum, face) => sum + areaOf(face), 0)).toBeCloseTo(24);
  });
});

describe("contours", () => {
  const grid = (f: (x: number, y: number) => number, rows = 9, cols = 12) => {
    const values = new Float32Array(rows * cols);
    for (let y = 0; y < rows; y++) for (let x = 0; x < cols; x++) values[y * cols + x] = f(x, y);
    return { rows, cols, values };
  };
  it("of a plane lie exactly on it", () => {
    const out: number[] = [];
    const used = contourSegments(
      grid((x, y) => 2 * x + 3 * y),
      11.5,
      out,
    );
    expect(used).toBeGreaterThan(0);
    for (let i = 0; i < used; i += 2) expect(2 * out[i]! + 3 * out[i + 1]!).toBeCloseTo(11.5, 4);
  });
  it("of a hill are as long as its circle, to a tenth", () => {
    const out: number[] = [];
    const used = contourSegments(
      grid((x, y) => -Math.hypot(x - 20, y - 20), 41, 41),
      -10,
      out,
    );
    let long = 0;
    for (let i = 0; i < used; i += 4) long += Math.hypot(out[i]! - out[i + 2]!, out[i + 1]! - out[i + 3]!);
    expect(Math.abs(long - 2 * Math.PI * 10)).toBeLessThan(1);
  });
  it("stop where nothing is known", () => {
    const out: number[] = [];
    expect(
      contourSegments(
        grid(() => NaN),
        1,
        out,
      ),
    ).toBe(0);
  });
  it("are labelled at least once and well apart", () => {
    const out: number[] = [];
    const used = contourSegments(
      grid((x) => x, 40, 40),
      20.5,
      out,
    );
    const labels: Label[] = [];
    labelPlaces(out, used, 20.5, 10, labels);
    expect(labels.length).toBe(4);
  });
  it("have levels inside the span only", () => {
    expect(rateLevels(4, 340)).toEqual([5, 10, 25, 50, 100, 200, 300]);
    expect(evenLevels(-91, -29, 10)).toEqual([-90, -80, -70, -60, -50, -40, -30]);
  });
});
