import { describe, expect, it } from "vitest";
import { areaOf, contains, insideOf, type Point, type Segment } from "./geometry";
import { faceAround, facesOf } from "./faces";

const wall = (x1: number, y1: number, x2: number, y2: number): Segment => ({ start: [x1, y1], end: [x2, y2] });
const box = (x: number, y: number, wide: number, high: number): Segment[] => [
  wall(x, y, x + wide, y),
  wall(x + wide, y, x + wide, y + high),
  wall(x + wide, y + high, x, y + high),
  wall(x, y + high, x, y),
];
const areas = (walls: Segment[]) =>
  facesOf(walls)
    .map((face) => Math.round(areaOf(face) * 1000) / 1000)
    .sort((a, b) => a - b);

describe("rooms that walls enclose", () => {
  it("four walls are one room, turning left, by its corners alone", () => {
    const [face] = facesOf(box(1, 2, 4, 3));
    expect(areaOf(face!)).toBeCloseTo(12);
    expect(face).toHaveLength(4);
  });

  it("a wall across makes two, and where walls cross four", () => {
    expect(areas([...box(0, 0, 6, 4), wall(2, 0, 2, 4)])).toEqual([8, 16]);
    expect(areas([...box(0, 0, 6, 4), wall(2, 0, 2, 4), wall(0, 1, 6, 1)])).toEqual([2, 4, 6, 12]);
    expect(areas([...box(0, 0, 6, 4), wall(2, -1, 2, 5), wall(-1, 1, 7, 1)])).toEqual([2, 4, 6, 12]);
  });

  it("a wall that ends 4 cm before another ends on it, one that ends 6 cm before does not", () => {
    expect(areas([...box(0, 0, 6, 4), wall(2, 0.04, 2, 3.96)])).toHaveLength(2);
    expect(areas([...box(0, 0, 6, 4), wall(2, 0.06, 2, 3.96)])).toEqual([24]);
  });

  it("a wall that ends inside a room says nothing of its shape", () => {
    const [face] = facesOf([...box(0, 0, 6, 4), wall(2, 0, 2, 3)]);
    expect(areaOf(face!)).toBeCloseTo(24);
    expect(face).toHaveLength(4);
    const [bent] = facesOf([...box(0, 0, 6, 4), wall(2, 0, 2, 3), wall(2, 3, 4, 3)]);
    expect(bent).toHaveLength(4);
  });

  it("a gap of a hand's breadth leaves nothing enclosed, one of 4 cm is a corner", () => {
    const three = [wall(0, 0, 6, 0), wall(6, 0, 6, 4), wall(6, 4, 0, 4)];
    expect(areas([...three, wall(0, 4, 0, 0.1)])).toEqual([]);
    expect(areas([...three, wall(0, 4, 0, 0.04)])).toHaveLength(1);
  });

  it("what is smaller than a shaft is no room", () => {
    expect(areas(box(0, 0, 0.2, 0.2))).toEqual([]);
    expect(areas(box(0, 0, 0.3, 0.3))).toEqual([0.09]);
  });

  it("the room around a point is the smallest there, none outside", () => {
    const walls = [...box(0, 0, 10, 10), ...box(4, 4, 2, 2)];
    expect(areaOf(faceAround(walls, [5, 5])!)).toBeCloseTo(4);
    expect(areaOf(faceAround(walls, [1, 1])!)).toBeCloseTo(100);
    expect(faceAround(walls, [11, 5])).toBeNull();
    expect(faceAround([], [0, 0])).toBeNull();
  });

  it("two walls over each other are one", () => {
    expect(areas([...box(0, 0, 6, 4), wall(0, 0, 6, 0), wall(1, 0, 3, 0)])).toEqual([24]);
  });
});

describe("a place well inside", () => {
  const ell: Point[] = [
    [0, 0],
    [10, 0],
    [10, 1],
    [1, 1],
    [1, 10],
    [0, 10],
  ];
  it("is the centroid where that lies inside", () => {
    expect(insideOf([[0, 0], [6, 0], [6, 4], [0, 4]])).toEqual([3, 2]); // prettier-ignore
    const [x, y] = insideOf([[0, 0], [9, 0], [0, 6]]); // prettier-ignore
    expect([x, y]).toEqual([expect.closeTo(3), expect.closeTo(2)]);
  });
  it("lies inside where the centroid does not, in the widest stretch at its height", () => {
    expect(contains(ell, insideOf(ell))).toBe(true);
    const comb: Point[] = [[0, 0], [12, 0], [12, 9], [8, 9], [8, 1], [1, 1], [1, 9], [0, 9]]; // prettier-ignore
    expect(insideOf(comb)[0]).toBeCloseTo(10);
    const mirrored = comb.map(([x, y]): Point => [12 - x, y]).reverse();
    expect(insideOf(mirrored)[0]).toBeCloseTo(2);
  });
});
