import { describe, expect, it } from "vitest";
import type { Job, Opening, Storey, Wall } from "../job/types";
import type { Point } from "../maths/geometry";
import type { Raster } from "../net/field";
import { figureSize, LEGIBLE_PX, PX_PER_M } from "./floorSheet";
import { ABOVE, axesOf, CORNER, fitted, FRONT, nearer, onSheet, pushed, turned, type Orbit } from "./orbit";
import { shapeOf, wallPrisms, type Prism, type Point3 } from "./shape";
import { rangeIn, roomWords } from "./words";

const storey = (id: string, elevation_m: number): Storey => ({
  id,
  name: `Storey ${id}`,
  elevation_m,
  height_m: 2.5,
  access: "unknown",
  ceiling: "unknown",
  floor: { construction: "unknown", layers: [], thickness_m: 0.3, voids: [], outlines: [] },
});
const wall = (id: string, start: Point, end: Point): Wall => ({
  id,
  storey: "1",
  start,
  end,
  thickness_m: 0.2,
  height_m: null,
  base_m: 0,
  construction: "unknown",
  layers: [],
  fire_rated: null,
  drilling: "unknown",
  note: "",
});
const opening = (
  kind: Opening["kind"],
  offset_m: number,
  width_m: number,
  sill_m: number,
  height_m: number,
): Opening => ({
  id: `${kind}${offset_m}`,
  wall: "a",
  kind,
  offset_m,
  width_m,
  height_m,
  sill_m,
  construction: "unknown",
  open: null,
  hinge: "unknown",
  swing: "unknown",
});

const known = new Map();
const area = (corners: Point[]) =>
  corners.reduce((sum, [x, y], i) => {
    const [u, v] = corners[(i + 1) % corners.length]!;
    return sum + (x * v - u * y) / 2;
  }, 0);
const volume = (prisms: Prism[]) => prisms.reduce((sum, one) => sum + area(one.corners) * (one.high_m - one.low_m), 0);

describe("walls as prisms", () => {
  const one = wall("a", [0, 0], [4, 0]);
  it("holds all of a wall but its openings", () => {
    const holes = [opening("window", 2.5, 1.2, 0.9, 1.1), opening("door", 0.5, 0.8, 0, 2)];
    expect(volume(wallPrisms(one, [one], holes, storey("1", 0), known))).toBeCloseTo(
      (4 * 2.5 - 1.2 * 1.1 - 0.8 * 2) * 0.2,
      9,
    );
    expect(volume(wallPrisms(one, [one], [], storey("1", 0), known))).toBeCloseTo(4 * 2.5 * 0.2, 9);
  });
  it("an opening up to the end and as high as the wall leaves nothing there", () => {
    const prisms = wallPrisms(one, [one], [opening("gap", 3, 1, 0, 2.5)], storey("1", 0), known);
    expect(prisms).toHaveLength(1);
    expect(volume(prisms)).toBeCloseTo(3 * 2.5 * 0.2, 9);
  });
  it("fills a corner and stops against a wall that goes on", () => {
    const across = wall("b", [4, -2], [4, 2]);
    const corner = wall("c", [4, 0], [4, 2]);
    const reach = (walls: Wall[]) =>
      Math.max(...wallPrisms(one, walls, [], storey("1", 0), known).flatMap((prism) => prism.corners.map((p) => p[0])));
    expect(reach([one, across])).toBeCloseTo(4, 9);
    expect(reach([one, corner])).toBeCloseTo(4.1, 9);
  });
  it("turns left at every corner, so that it is lit from outside", () => {
    for (const prism of wallPrisms(wall("a", [1, 1], [0, 3]), [], [], storey("1", 0), known))
      expect(area(prism.corners)).toBeGreaterThan(0);
  });
});

const job = (more: object = {}): Job =>
  ({
    house: {
      storeys: [storey("2", 3), storey("1", 0)],
      rooms: [
        {
          id: "R1",
          name: "Kitchen",
          storey: "1",
          polygon: [
            [0, 0],
            [4, 0],
            [4, 3],
            [0, 3],
          ],
          lived_in: true,
        },
      ],
      walls: [wall("a", [0, 0], [4, 0])],
      openings: [],
      bodies: [],
      outlets: [
        { id: "1-01", storey: "1", kind: "data", position: [1, 1], height_m: 0.3, room: null },
        { id: "2-01", storey: "2", kind: "data", position: [1, 2], height_m: 0.3, room: null },
      ],
      meeting_points: [{ id: "MP1", name: "Closet", storey: "1", position: [3, 2], height_m: 1 }],
      runs: [
        { id: "C1", ends: ["MP1", "2-01"], route: [] },
        { id: "C2", ends: ["MP1", "unknown"], route: [] },
        {
          id: "C3",
          ends: [],
          route: [
            [0, 0, 0.5],
            [0, 0, 3.4],
          ],
        },
      ],
    },
    boxes: [{ id: "B1", name: "Router", storey: "1", position: [2, 2], height_m: 1 }],
    ...more,
  }) as unknown as Job;

describe("the shape of a house", () => {
  it("stacks storeys that hold something, cut where asked", () => {
    const shape = shapeOf(job(), known, 0.9, []);
    expect(shape.floors.map((one) => one.storey.id)).toEqual(["1"]);
    const walls = shape.floors[0]!.prisms.filter(
      (one) => one.corners.length === 4 && one.low_m === 0 && one.high_m === 0.9,
    );
    expect(walls).toHaveLength(1);
    for (const prism of shape.floors[0]!.prisms)
      for (const edge of prism.uprights) if (edge) expect(edge[1]).toBeLessThanOrEqual(prism.high_m + 1e-9);
  });
  it("draws a cable whose way is not known from end to end, one with a route along it, none with one end", () => {
    const { cables } = shapeOf(job(), known, 0.9, []);
    expect(cables.map(({ id, known: sure }) => [id, sure])).toEqual([
      ["C1", false],
      ["C3", true],
    ]);
    expect(cables[0]!.stops.map((stop) => stop.storey)).toEqual(["1", "2"]);
    expect(cables[1]!.stops[1]!.storey).toBe("2");
    expect(cables[1]!.stops[1]!.at[2]).toBeCloseTo(0.4, 9);
  });
});

describe("an orbit", () => {
  const orbit: Orbit = { ...CORNER, px_per_m: 50, target: [1, 2, 3] };
  it("has axes at right angles, of length one, right-handed", () => {
    for (const turn_deg of [-180, -30, 0, 77])
      for (const tilt_deg of [2, 35, 89.9]) {
        const { eye, right, up } = axesOf({ ...orbit, turn_deg, tilt_deg });
        const dot = (a: Point3, b: Point3) => a.reduce((sum, x, i) => sum + x * b[i]!, 0);
        for (const axis of [eye, right, up]) expect(dot(axis, axis)).toBeCloseTo(1, 12);
        for (const [a, b] of [
          [eye, right],
          [eye, up],
          [right, up],
        ] as const)
          expect(dot(a, b)).toBeCloseTo(0, 12);
        expect(right[0] * up[1] - right[1] * up[0]).toBeCloseTo(eye[2], 12);
      }
  });
  it("from above is the plan: x to the right, y up", () => {
    const above: Orbit = { ...orbit, ...ABOVE };
    const [x, y] = onSheet(above, [2, 2, 3]);
    expect([x, y]).toEqual([expect.closeTo(50, 1), expect.closeTo(0, 1)]);
    expect(onSheet(above, [1, 3, 3])[1]).toBeCloseTo(50, 1);
    expect(onSheet({ ...orbit, ...FRONT }, [1, 2, 4])[1]).toBeGreaterThan(49);
  });
  it("a full turn and a push forth and back come home", () => {
    let there = orbit;
    for (let i = 0; i < 24; i++) there = turned(there, 15, 0);
    expect(there.turn_deg).toBeCloseTo(orbit.turn_deg, 9);
    const back = pushed(pushed(orbit, 30, -20), -30, 20);
    back.target.forEach((value, i) => expect(value).toBeCloseTo(orbit.target[i]!, 9));
    expect(onSheet(pushed(orbit, 30, -20), orbit.target)).toEqual([expect.closeTo(30, 9), expect.closeTo(20, 9)]);
  });
  it("stays above the ground and within its scales", () => {
    expect(turned(orbit, 0, -500).tilt_deg).toBe(2);
    expect(turned(orbit, 0, 500).tilt_deg).toBe(89.9);
    expect(nearer(orbit, 1e9).px_per_m).toBe(800);
    expect(nearer(orbit, 1e-9).px_per_m).toBe(4);
    expect(turned({ ...orbit, turn_deg: 170 }, 20, 0).turn_deg).toBeCloseTo(-170);
    expect(turned({ ...orbit, turn_deg: -170 }, -20, 0).turn_deg).toBeCloseTo(170);
  });
  it("uses nine tenths of the sheet, across or along, whichever is scarce", () => {
    const from = { ...orbit, ...ABOVE };
    expect(fitted(from, [0, 0, 0], [10, 2, 0], 800, 500).px_per_m).toBeCloseTo(72, 2);
    expect(fitted(from, [0, 0, 0], [2, 10, 0], 800, 500).px_per_m).toBeCloseTo(45, 2);
    expect(fitted(from, [2, 4, 6], [4, 10, 8], 800, 500).target).toEqual([3, 7, 7]);
    expect(fitted(from, [1, 1, 1], [1, 1, 1], 800, 500).px_per_m).toBeCloseTo(450, 6); // a metre across at least
  });
  it("fits every corner on the sheet", () => {
    for (const from of [CORNER, ABOVE, FRONT]) {
      const fit = fitted({ ...orbit, ...from }, [0, 0, 0], [10, 8, 11], 800, 500);
      for (const x of [0, 10])
        for (const y of [0, 8])
          for (const z of [0, 11]) {
            const [right, up] = onSheet(fit, [x, y, z]);
            expect(Math.abs(right)).toBeLessThanOrEqual(400);
            expect(Math.abs(up)).toBeLessThanOrEqual(250);
          }
    }
  });
});

describe("figures that lie on a floor", () => {
  it("are as large as asked straight from above, twice that aslant by 30 degrees or at half the scale", () => {
    const from = (tilt_deg: number, px_per_m: number): Orbit => ({
      turn_deg: 0,
      tilt_deg,
      px_per_m,
      target: [0, 0, 0],
    });
    expect(figureSize(from(90, PX_PER_M))).toBe(12);
    expect(figureSize(from(30, PX_PER_M))).toBe(24); // twice 11.5, and the sine of 30 degrees is a hair below a half
    expect(figureSize(from(90, PX_PER_M / 2))).toBe(23);
  });
  it("are legible from the start, however they are turned", () => {
    for (const px_per_m of [12, 26.5, 80]) {
      const from: Orbit = { ...CORNER, px_per_m, target: [0, 0, 0] };
      const high_m = figureSize(from) / PX_PER_M;
      for (const turn of [0, 0.7, Math.PI / 2, 2.5]) {
        const [x, y] = onSheet(from, [-high_m * Math.sin(turn), high_m * Math.cos(turn), 0]);
        expect(Math.hypot(x, y)).toBeGreaterThanOrEqual(LEGIBLE_PX);
      }
    }
  });
});

describe("the same in words", () => {
  const raster = {
    rows: 2,
    cols: 3,
    x0_m: 0.5,
    y0_m: 0.5,
    step_m: 1,
    values: new Float32Array([5, 7, 900, NaN, 6, 800]),
  } as unknown as Raster;
  it("reads the map's least and most inside a room only", () => {
    expect(
      rangeIn(
        [
          [0, 0],
          [2, 0],
          [2, 2],
          [0, 2],
        ],
        raster,
      ),
    ).toEqual({ low: 5, high: 7 });
    expect(
      rangeIn(
        [
          [8, 8],
          [9, 8],
          [9, 9],
        ],
        raster,
      ),
    ).toBeNull();
    expect(
      rangeIn(
        [
          [0, 0],
          [2, 0],
          [2, 2],
        ],
        undefined,
      ),
    ).toBeNull();
  });
  it("reads nothing beyond the map of a room that goes on there", () => {
    const wide: Point[] = [[-5, -5], [9, -5], [9, 9], [-5, 9]]; // prettier-ignore
    expect(rangeIn(wide, raster)).toEqual({ low: 5, high: 900 });
    const beside: Point[] = [[3, 0], [9, 0], [9, 9], [3, 9]]; // prettier-ignore
    const full = { ...raster, values: new Float32Array([5, 7, 900, 4, 6, 800]) } as unknown as Raster;
    expect(rangeIn(beside, full)).toBeNull();
  });
  it("reads cells where they lie", () => {
    const fine = { ...raster, x0_m: 4, y0_m: 2, step_m: 0.5 } as unknown as Raster; // 4, 4.5, 5 by 2, 2.5
    const box = (x1: number, y1: number, x2: number, y2: number): [number, number][] => [
      [x1, y1],
      [x2, y1],
      [x2, y2],
      [x1, y2],
    ];
    expect(rangeIn(box(4.4, 1.9, 4.6, 2.1), fine)).toEqual({ low: 7, high: 7 });
    expect(rangeIn(box(4.4, 2.4, 5.1, 2.6), fine)).toEqual({ low: 6, high: 800 });
    expect(rangeIn(box(3.9, 2.4, 4.1, 2.6), fine)).toBeNull(); // nothing is known there
  });
  it("lists rooms from the highest storey down", () => {
    const { house } = job();
    const storeys = [storey("1", 0), storey("3", 6), storey("0", -3), storey("2", 3)];
    const rooms = ["0", "1", "2", "3"].map((id) => ({ ...house.rooms[0]!, id: `R${id}`, storey: id }));
    const rows = roomWords(job({ house: { ...house, storeys, rooms } }), new Map(), []);
    expect(rows.map((one) => one.room)).toEqual(["R3", "R2", "R1", "R0"]);
  });
  it("names what is in a room", () => {
    const [row] = roomWords(job(), new Map(), [
      { id: "AP1", name: "Hall", storey: "1", position: [1, 1], height_m: 2.4 },
    ]);
    expect(row).toMatchObject({
      name: "Kitchen",
      boxes: ["B1 Router", "AP1 Hall", "MP1 Closet"],
      outlets: ["1-01"],
      cables: ["C1", "C2"],
      range: null,
    });
  });
});
