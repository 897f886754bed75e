import type * as Three from "three";
import { Color, Group, LineSegments, Mesh, type OrthographicCamera, type Scene } from "three";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { canvases, type FakeCanvas, fakeCanvases } from "../../tests/canvas";
import type { Point } from "../maths/geometry";
import type { FieldLink, Raster } from "../net/field";
import { SolidDrawing } from "./drawing";
import { paintFloor, PX_PER_M } from "./floorSheet";
import { inksOf } from "./inks";
import { StoreyMaps } from "./maps.svelte";
import type { Floor, Prism } from "./shape";

const shown: { scene: Scene; camera: OrthographicCamera; sizes: unknown[][]; ended: string[] } = {
  scene: null as never,
  camera: null as never,
  sizes: [],
  ended: [],
};
vi.mock("three", async (real) => ({
  ...(await real<typeof Three>()),
  WebGLRenderer: class {
    setPixelRatio = (ratio: number) => shown.sizes.push([ratio]);
    setSize = (...size: unknown[]) => shown.sizes.push(size);
    render = (scene: Scene, camera: OrthographicCamera) => Object.assign(shown, { scene, camera });
    dispose = () => shown.ended.push("dispose");
    forceContextLoss = () => shown.ended.push("lose");
  },
}));

beforeEach(() => {
  fakeCanvases();
  shown.sizes = [];
  shown.ended = [];
});
afterEach(() => vi.unstubAllGlobals());

const INKS = { paper: "#fafafa", sheet: "#ffffff", held: "#eeeeee", soft: "#808080", ink: "#101010" };
const SQUARE: Point[] = [
  [0, 0],
  [2, 0],
  [2, 1],
  [0, 1],
];
const prism = (more: Partial<Prism> = {}): Prism => ({
  corners: SQUARE,
  low_m: 0.5,
  high_m: 1.5,
  solid: true,
  uprights: [[0.5, 1.5], null, [0.5, 1], null],
  ...more,
});
const floor = (...prisms: Prism[]): Floor => ({
  storey: {} as never,
  prisms,
  rooms: [],
  voids: [
    [
      [0.5, 0.5],
      [1, 0.5],
      [1, 1],
    ],
  ],
  bounds: [-1, -2, 3, 4],
});
const orbit = { turn_deg: 0, tilt_deg: 90, px_per_m: 50, target: [1, 2, 3] as [number, number, number] };

function drawn(...prisms: Prism[]) {
  const drawing = new SolidDrawing({} as never);
  const cable = (known: boolean) => ({
    cable: { id: "C", known, stops: [] },
    points: [
      [0, 0, 0],
      [1, 0, 0],
      [1, 0, 2],
    ],
  });
  const sheet = { width: 4, height: 4 } as never;
  drawing.put([{ floor: floor(...prisms), sheet, base_m: 2.7 }], [cable(true), cable(false)] as never, INKS);
  drawing.draw(orbit, 400, 200);
  const house = shown.scene.children[0] as Group;
  const [storey, ...cables] = house.children as [Group, ...Mesh[]];
  const [ground, sides, edges] = storey.children as [Mesh, Mesh, LineSegments];
  const numbers = (thing: Mesh | LineSegments, name: string) => [...thing.geometry.getAttribute(name)!.array];
  return { drawing, house, storey, ground, sides, edges, cables, numbers };
}
const threes = (numbers: number[]) =>
  Array.from({ length: numbers.length / 3 }, (_, i) => numbers.slice(3 * i, 3 * i + 3) as [number, number, number]);

describe("a house in three dimensions", () => {
  it("stands on its floors, each sheet as large as its bounds and just above them", () => {
    const { storey, ground, numbers } = drawn(prism());
    expect(storey.position.z).toBe(2.7);
    const corners = threes(numbers(ground, "position"));
    expect(corners.map(([x, y]) => [x, y])).toEqual([
      [-1, -2],
      [3, -2],
      [3, 4],
      [-1, 4],
    ]);
    for (const [, , z] of corners) expect(z).toBeCloseTo(0.02);
    expect(numbers(ground, "uv")).toEqual([0, 0, 1, 0, 1, 1, 0, 1]);
    expect([...ground.geometry.index!.array]).toEqual([0, 1, 2, 0, 2, 3]);
  });
  it("has walls that are closed: four sides and a top, all of its height", () => {
    const { sides, numbers } = drawn(prism());
    const points = threes(numbers(sides, "position"));
    expect(points.length).toBe(3 * (2 * 4 + 2));
    // Twice the area of all triangles: sides of 2, 1, 2 and 1 m by 1 m, and a top of 2 m².
    let area = 0;
    for (let i = 0; i < points.length; i += 3) {
      const [a, b, c] = [points[i]!, points[i + 1]!, points[i + 2]!];
      const [u, v] = [b.map((one, k) => one - a[k]!), c.map((one, k) => one - a[k]!)] as [number[], number[]];
      const normal = [u[1]! * v[2]! - u[2]! * v[1]!, u[2]! * v[0]! - u[0]! * v[2]!, u[0]! * v[1]! - u[1]! * v[0]!];
      area += Math.hypot(...normal) / 2;
    }
    expect(area).toBeCloseTo(2 + 1 + 2 + 1 + 2, 6);
    expect(new Set(points.map(([, , z]) => z))).toEqual(new Set([0.5, 1.5]));
  });
  it("is cut in ink where it is solid, and shaded the more it looks west", () => {
    const shade = (made: ReturnType<typeof drawn>, triangle: number) =>
      threes(made.numbers(made.sides, "color"))[3 * triangle]!;
    const made = drawn(prism());
    const ink = new Color(INKS.ink);
    expect(shade(made, 8)).toEqual([ink.r, ink.g, ink.b].map((one) => Math.fround(one)));
    const hollow = drawn(prism({ solid: false }));
    expect(shade(hollow, 8)).toEqual([1, 1, 1]);
    const [light, dark] = [new Color(INKS.sheet), new Color(INKS.soft)];
    const between = (share: number) => Math.fround(light.clone().lerp(dark, share).r);
    // In order: the sides that look south, east, north and west.
    expect([0, 2, 4, 6].map((one) => shade(made, one)[0]!.toFixed(5))).toEqual(
      [0.45, 0.15, 0.45, 0.75].map((share) => between(share).toFixed(5)),
    );
    const long: Point[] = [[1, 0], [2, 0], [2, 2], [1, 2]]; // prettier-ignore
    const other = drawn(prism({ corners: long })); // however long they are and wherever they stand
    expect([2, 6].map((one) => shade(other, one)[0]!.toFixed(5))).toEqual(
      [0.15, 0.75].map((share) => between(share).toFixed(5)),
    );
  });
  it("has edges round foot and top, and upright ones where they are drawn", () => {
    const { edges, numbers } = drawn(prism());
    const ends = threes(numbers(edges, "position"));
    expect(ends.length).toBe(2 * (8 + 2));
    expect(ends.slice(0, 2)).toEqual([
      [0, 0, 0.5],
      [0, 0, 1.5],
    ]);
    const upright = ends
      .filter((_, i) => i % 2 === 0)
      .flatMap((one, i) => {
        const other = ends[2 * i + 1]!;
        return one[0] === other[0] && one[1] === other[1] ? [[one, other]] : [];
      });
    expect(upright.length).toBe(2);
    expect(upright[1]).toEqual([
      [2, 1, 0.5],
      [2, 1, 1],
    ]);
  });
  it("shows cables through everything, those not known dashed", () => {
    const { cables } = drawn(prism());
    const looks = cables.map((one) => one.material as never as Record<string, unknown>);
    expect(looks.map((one) => [one.dashed, one.linewidth, one.depthTest])).toEqual([
      [false, 2.5, false],
      [true, 1.8, false],
    ]);
    expect(cables.map((one) => one.renderOrder)).toEqual([1, 1]);
    const start = cables[0]!.geometry.getAttribute("instanceStart")!;
    expect(start.count).toBe(2);
    expect([start.getX(1), start.getY(1), start.getZ(1)]).toEqual([1, 0, 0]);
    expect(cables[1]!.geometry.getAttribute("instanceDistanceEnd")).toBeDefined();
    const drawing = new SolidDrawing({} as never);
    drawing.put([], [], INKS);
    drawing.draw(orbit, 10, 10);
    expect((shown.scene.children[0] as Group).children).toEqual([]);
  });
  it("is seen from afar towards its middle, as large as asked, on paper", () => {
    vi.stubGlobal("devicePixelRatio", 3);
    drawn(prism());
    const { camera, scene } = shown;
    expect([camera.left, camera.right, camera.bottom, camera.top]).toEqual([-4, 4, -2, 2]);
    expect(camera.position.toArray().map((one) => Math.round(one))).toEqual([1, 2, 503]);
    expect(camera.near).toBeLessThan(1);
    expect(camera.far).toBeGreaterThan(600);
    expect(shown.sizes).toEqual([[2], [400, 200, false]]);
    expect((scene.background as Color).getHexString()).toBe("fafafa");
    const ahead = camera.getWorldDirection(new (Object.getPrototypeOf(camera.position).constructor)());
    expect(ahead.z).toBeCloseTo(-1);
    expect(camera.up.toArray()).toEqual([0, 0, 1]);
  });
  it("gives back what it took of the graphics when it is drawn anew and at its end", () => {
    const { drawing, ground, sides, edges } = drawn(prism());
    const freed: string[] = [];
    const watch = (name: string, thing: { addEventListener: (kind: "dispose", heard: () => void) => void }) =>
      thing.addEventListener("dispose", () => freed.push(name));
    watch("sheet", (ground.material as never as { map: Three.Texture }).map);
    watch("ground", ground.geometry);
    watch("paint", ground.material as Three.Material);
    watch("sides", sides.geometry);
    watch("edges", edges.geometry);
    drawing.put([], [], INKS);
    expect(freed.sort()).toEqual(["edges", "ground", "paint", "sheet", "sides"]);
    drawing.draw(orbit, 10, 10);
    expect((shown.scene.children[0] as Group).children).toEqual([]);
    drawing.close();
    expect(shown.ended).toEqual(["dispose", "lose"]);
  });
});

describe("the sheet on a floor", () => {
  const rooms = [
    {
      name: "Hall",
      polygon: [
        [0, 0],
        [2, 0],
        [2, 2],
        [0, 2],
      ] as Point[],
    },
  ];
  const raster = { rows: 2, cols: 2, x0_m: 0, y0_m: 0, step_m: 1, values: new Float32Array(4) } as Raster;
  const map = { raster, ramp: new Uint32Array(256), scale: { low: 0, high: 1, place: () => 0, levels: [], unit: "" } };
  const paint = (more: typeof map | null = map, figure_px = 20) =>
    paintFloor(floor(), rooms, more, INKS, figure_px) as never as FakeCanvas;

  it("is as large as the floor, its rooms in the sheet's colour under the map", () => {
    const sheet = paint();
    expect([sheet.width, sheet.height]).toEqual([4 * PX_PER_M, 6 * PX_PER_M]);
    const at = (x: number, y: number) => [(x + 1) * PX_PER_M, (4 - y) * PX_PER_M];
    expect(
      sheet
        .of("moveTo", "lineTo")
        .slice(0, 4)
        .map((one) => one.args),
    ).toEqual([at(0, 0), at(2, 0), at(2, 2), at(0, 2)]);
    const strokes = sheet.of("moveTo", "lineTo").map((one) => one.name);
    expect(strokes.slice(0, 5)).toEqual(["moveTo", "lineTo", "lineTo", "lineTo", "moveTo"]); // each ring by itself
    expect(sheet.of("fill")[0]!.style.fillStyle).toBe(INKS.sheet);
    const names = sheet.calls.map((one) => one.name);
    expect(names.indexOf("fill")).toBeLessThan(names.indexOf("drawImage"));
    expect(names.indexOf("drawImage")).toBeLessThan(names.indexOf("fillText"));
    expect(sheet.of("drawImage")[0]!.args.slice(1)).toEqual([0, 0, 4 * PX_PER_M, 6 * PX_PER_M]);
    expect(sheet.of("setTransform")[0]!.args).toEqual([1, 0, 0, 1, 0, 0]);
  });
  it("names the rooms in their middles, no larger than they are wide", () => {
    const [name] = paint().of("fillText");
    expect(name!.args).toEqual(["Hall", 2 * PX_PER_M, 3 * PX_PER_M]);
    expect(name!.style).toMatchObject({
      fillStyle: INKS.ink,
      strokeStyle: INKS.sheet,
      textAlign: "center",
      lineWidth: 5,
    });
    expect(name!.style.font).toMatch(/^italic 20\.0px /);
    expect(paint(map, 200).of("fillText")[0]!.style.font).toMatch(/^italic 42\.0px /); // 1.5 · 112 px / 4 letters
    expect(paint().of("strokeText").length).toBe(1);
  });
  it("has holes where the floor has", () => {
    const holes = paint()
      .of("fill")
      .filter((one) => one.style.globalCompositeOperation === "destination-out");
    expect(holes.length).toBe(1);
  });
  it("shows a map only where there is one", () => {
    paint(null);
    const drawing = canvases.flatMap((one) => one.of("putImageData"));
    expect(drawing).toEqual([]);
    paint();
    expect(canvases.flatMap((one) => one.of("putImageData")).length).toBe(1);
  });
});

describe("maps of all storeys", () => {
  function maps() {
    const asked: [Record<string, unknown>, number][] = [];
    const field = { map: (ask: never, ticket: number) => asked.push([ask, ticket]) } as unknown as FieldLink;
    const made = new StoreyMaps(field);
    const answer = (i: number) => field.onRaster({ storey: asked[i]![0].storey } as Raster, asked[i]![1]);
    return { made, asked, field, answer };
  }
  const wish = { quantity: "down_mbps", band: null, boxes: "today" } as const;

  it("are asked for one after another", () => {
    const { made, asked, answer } = maps();
    made.ask(["1", "2"], wish);
    expect(asked.map(([ask]) => ask)).toEqual([{ storey: "1", ...wish }]);
    expect(made.working).toBe(true);
    answer(0);
    expect(asked[1]![0]).toEqual({ storey: "2", ...wish });
    answer(0); // an answer to an older question
    expect(asked.length).toBe(2);
    answer(1);
    expect([...made.rasters.keys()]).toEqual(["1", "2"]);
    expect(made.working).toBe(false);
  });
  it("stay until their successors come, unless they showed something else", () => {
    const { made, answer } = maps();
    made.ask(["1"], wish);
    answer(0);
    made.ask(["1"], { ...wish });
    expect(made.rasters.size).toBe(1);
    for (const other of [{ quantity: "up_mbps" }, { band: "5" }, { boxes: "plan" }] as const) {
      made.rasters = new Map([["1", {} as Raster]]);
      made.ask(["1"], { ...wish, ...other });
      expect(made.rasters.size).toBe(0);
      made.ask(["1"], wish);
    }
    made.ask(["1"], null);
    expect([made.rasters.size, made.working]).toEqual([0, false]);
  });
  it("say why there are none", () => {
    const { made, field, asked } = maps();
    made.ask(["1", "2"], wish);
    field.onRefusal({ code: "x", problem: "no box stands yet", where: "", remedy: "" });
    expect([made.words, made.working]).toEqual(["No box stands yet.", false]);
    made.ask(["1"], wish);
    expect([made.words, asked.length]).toEqual(["", 2]);
  });
});

it("inks are what the page's colours are now", () => {
  vi.stubGlobal("getComputedStyle", () => ({ getPropertyValue: (name: string) => ` ${name.slice(2)}-colour` }));
  expect(inksOf({} as Element)).toEqual({
    paper: "paper-colour",
    sheet: "sheet-colour",
    held: "held-colour",
    soft: "soft-colour",
    ink: "ink-colour",
  });
});
