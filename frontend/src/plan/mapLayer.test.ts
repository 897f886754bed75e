import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { canvases, FakeCanvas, fakeCanvases } from "../../tests/canvas";
import { cssOf, evenPlace, ratePlace, rampOf } from "../maths/colour";
import type { Raster } from "../net/field";
import { MapLayer, mapScale, mapWords } from "./mapLayer";
import { View } from "./view.svelte";

beforeEach(() => fakeCanvases());
afterEach(() => vi.unstubAllGlobals());

const GREY = [
  { place_on_scale: 0, red: 0, green: 0, blue: 0 },
  { place_on_scale: 0.5, red: 100, green: 50, blue: 20 },
  { place_on_scale: 1, red: 200, green: 250, blue: 120 },
];

describe("the colour scale", () => {
  const ramp = rampOf(GREY, [255, 255, 255]);
  const parts = (i: number) => [ramp[i]! & 255, (ramp[i]! >>> 8) & 255, (ramp[i]! >>> 16) & 255, ramp[i]! >>> 24];

  it("is thinned with paper by the same share everywhere, and opaque", () => {
    const thin = (colour: number) => Math.round(0.62 * colour + 0.38 * 255);
    expect(parts(0)).toEqual([thin(0), thin(0), thin(0), 255]);
    expect(parts(255)).toEqual([thin(200), thin(250), thin(120), 255]);
    const share = (64 / 255 - 0) / 0.5;
    expect(parts(64)).toEqual([thin(share * 100), thin(share * 50), thin(share * 20), 255]);
    const after = (192 / 255 - 0.5) / 0.5;
    expect(parts(192)).toEqual([thin(100 + after * 100), thin(50 + after * 200), thin(20 + after * 100), 255]);
  });
  it("is named for the page, kept on the scale", () => {
    expect(cssOf(ramp, 0)).toBe(`rgb(${parts(0).slice(0, 3).join(" ")})`);
    expect(cssOf(ramp, 1)).toBe(`rgb(${parts(255).slice(0, 3).join(" ")})`);
    expect(cssOf(ramp, 9)).toBe(cssOf(ramp, 1));
    expect(cssOf(ramp, -9)).toBe(cssOf(ramp, 0));
    expect(cssOf(ramp, 0.5)).toBe(`rgb(${parts(128).slice(0, 3).join(" ")})`);
  });
  it("takes rates by their ratio and powers by their difference", () => {
    const rate = ratePlace(2, 200);
    expect(rate(2)).toBe(0);
    expect(rate(200)).toBeCloseTo(1, 12);
    expect(rate(20)).toBeCloseTo(0.5, 12);
    expect(rate(0)).toBeCloseTo(rate(0.5), 12); // what is nearly nothing is no further down
    expect(ratePlace(0.1, 0.2)(1)).toBeCloseTo(1, 12);
    expect(ratePlace(1, 1)(Math.E)).toBeCloseTo(1, 12);
    const even = evenPlace(-90, -30);
    expect([even(-90), even(-60), even(-30)]).toEqual([0, 0.5, 1]);
    expect(evenPlace(3, 3)(4)).toBe(1);
  });
});

describe("the scale of a map", () => {
  const paid = { down_mbps: 100, up_mbps: 20 };
  it("ends where the plan paid for ends, that of powers is the same for all", () => {
    expect(mapScale("down_mbps", paid)).toMatchObject({ low: 2, high: 100, unit: "Mb/s", levels: [5, 10, 25, 50] });
    expect(mapScale("high_mbps", { ...paid, down_mbps: 1 }).high).toBe(50);
    expect(mapScale("up_mbps", paid)).toMatchObject({ low: 1, high: 20, levels: [2, 5, 10] });
    expect(mapScale("up_low_mbps", { ...paid, up_mbps: 1 }).high).toBe(10);
    const power = mapScale("power_dbm", paid);
    expect(power).toMatchObject({ low: -90, high: -30, unit: "dBm", levels: [-90, -80, -70, -60, -50, -40, -30] });
    expect([power.place(-90), power.place(-30)]).toEqual([0, 1]);
    const unsure = mapScale("power_sd_db", paid);
    expect(unsure).toMatchObject({ low: 0, high: 12, unit: "dB", levels: [2, 4, 6, 8, 10] });
    expect(unsure.place(12)).toBe(1);
    const down = mapScale("down_mbps", paid);
    expect([down.place(2), down.place(100)].map((one) => one.toFixed(9))).toEqual(["0.000000000", "1.000000000"]);
  });
  it("has words", () => {
    expect(mapWords("power_dbm")).toBe("Power");
    expect(mapWords("up_mbps")).toBe("Rate up at a spot, middling");
  });
});

describe("a map on a canvas", () => {
  /** Values that grow by 1 a cell to the right: 4 rows of 8 cells of half a metre, the first at [1, 2]. */
  const raster = (value = (x: number, _y: number) => x): Raster => {
    const values = new Float32Array(32);
    for (let y = 0; y < 4; y++) for (let x = 0; x < 8; x++) values[y * 8 + x] = value(x, y);
    return {
      storey: "1",
      quantity: "down_mbps",
      band: null,
      rows: 4,
      cols: 8,
      x0_m: 1,
      y0_m: 2,
      step_m: 0.5,
      revision: 1,
      rooms: {},
      values,
    };
  };
  function drawn(one: Raster, levels: number[] = [], dense = 1) {
    fakeCanvases(dense);
    const canvas = new FakeCanvas();
    const layer = new MapLayer(canvas as never);
    const view = new View();
    Object.assign(view, { scale: 100, left_m: 0, top_m: 8, width_px: 800, height_px: 600 });
    Object.assign(layer, {
      raster: one,
      ramp: Uint32Array.from({ length: 256 }, (_, i) => 0xff000000 + i),
      scale: { low: 0, high: 7, place: evenPlace(0, 7), levels, unit: "" },
      ink: "ink",
      paper: "paper",
    });
    layer.draw(view);
    return { canvas, layer, view };
  }
  const pixelsOf = (layer: MapLayer) => {
    void layer;
    const [call] = canvases[0]!.of("putImageData");
    return new Uint32Array((call!.args[0] as ImageData).data.buffer);
  };

  it("has a pixel a cell, the top row first, and nothing where nothing is known", () => {
    const { layer } = drawn(raster((x, y) => (x === 0 && y === 3 ? NaN : y === 0 ? 99 : x === 1 ? -5 : x)));
    const pixels = pixelsOf(layer);
    expect(canvases[0]).toMatchObject({ width: 8, height: 4 });
    expect(pixels[0]).toBe(0); // the upper left cell
    expect(pixels[1]! & 255).toBe(0);
    expect(pixels[7]! & 255).toBe(255);
    expect(pixels[2]! & 255).toBe(Math.floor((2 / 7) * 255));
    expect(pixels[3 * 8 + 4]! & 255).toBe(255); // the lowest row is off the scale
  });
  it("lies where its cells are: their middles stand on the grid", () => {
    const { canvas } = drawn(raster());
    const [call] = canvas.of("drawImage");
    // From 0.75 m to 4.75 m across; up from 1.75 m to 3.75 m, so its upper edge is 4.25 m below the top.
    expect((call!.args as number[]).slice(1)).toEqual([75, 425, 400, 200]);
    expect(call!.style.imageSmoothingEnabled).toBe(true);
  });
  it("has a contour where the level is, in ink, with its figure on paper", () => {
    const { canvas } = drawn(raster(), [3.5]);
    const ends = canvas.of("moveTo", "lineTo").map((one) => one.args as [number, number]);
    expect(ends.length).toBe(6); // three squares of cells up
    for (const [x] of ends) expect(x).toBeCloseTo(100 * (1 + 3.5 * 0.5));
    expect(ends.map(([, y]) => y).sort((a, b) => a - b)).toEqual([450, 500, 500, 550, 550, 600]);
    expect(canvas.of("stroke")[0]!.style).toMatchObject({ strokeStyle: "ink", lineWidth: 0.9 });
    const [figure] = canvas.of("fillText");
    expect(figure!.args).toEqual(["3.5", 0, 0]);
    expect(figure!.style).toMatchObject({ fillStyle: "ink", strokeStyle: "paper", lineWidth: 4, textAlign: "center" });
    expect(figure!.style.font).toBe("12px 'Source Sans 3', sans-serif");
    expect(canvas.of("strokeText")[0]!.args).toEqual(["3.5", 0, 0]);
    const [at] = canvas.of("translate");
    expect(at!.args).toEqual([275, 575]);
    expect(Math.abs(canvas.of("rotate")[0]!.args[0] as number)).toBeCloseTo(Math.PI / 2);
    expect(canvas.of("save").length).toBe(canvas.of("restore").length);
  });
  it("writes what is below nothing with a minus", () => {
    const { canvas } = drawn(
      raster((x) => x - 20),
      [-15.5],
    );
    expect(canvas.of("fillText")[0]!.args[0]).toBe("−15.5");
  });
  it("keeps figures of one map well apart", () => {
    const { canvas } = drawn(raster(), [3.4, 3.5]);
    expect(canvas.of("fillText").length).toBe(1);
  });
  it("has two pixels for one where the screen has, and not more", () => {
    const { canvas } = drawn(raster(), [], 2);
    expect(canvas).toMatchObject({ width: 1600, height: 1200 });
    expect(canvas.of("setTransform").at(-1)!.args).toEqual([2, 0, 0, 2, 0, 0]);
    expect(drawn(raster(), [], 3).canvas.width).toBe(1600);
    expect(drawn(raster(), [], 0).canvas.width).toBe(800);
  });
  it("is taken off", () => {
    const { canvas, layer, view } = drawn(raster());
    layer.clear();
    expect(layer.raster).toBeNull();
    expect(canvas.of("clearRect").at(-1)!.args).toEqual([0, 0, 800, 600]);
    const before = canvas.of("drawImage").length;
    layer.draw(view);
    expect(canvas.of("drawImage").length).toBe(before);
    expect(canvas.of("setTransform").at(-1)!.args).toEqual([1, 0, 0, 1, 0, 0]);
  });
});

describe("the view", () => {
  const view = () => Object.assign(new View(), { scale: 100, left_m: 0, top_m: 8, width_px: 800, height_px: 600 });
  it("is as large as all fits, a margin around, and no larger than 220 pixels a metre", () => {
    const one = view();
    one.fit([0, 0, 10, 1]);
    expect(one.scale).toBeCloseTo((800 - 80) / 10);
    expect(one.middle.map((at) => at.toFixed(6))).toEqual(["5.000000", "0.500000"]);
    one.fit([0, 0, 1, 10]);
    expect(one.scale).toBeCloseTo((600 - 80) / 10);
    one.width_px = 2000;
    one.fit([0, 0, 10, 1]);
    expect(one.scale).toBeCloseTo((2000 - 96) / 10);
    one.fit([3, 3, 3, 3]);
    expect(one.scale).toBe(220);
    one.fit(null);
    expect(one.middle.map((at) => at.toFixed(6))).toEqual(["6.000000", "4.500000"]);
  });
  it("comes nearer about a place, within limits", () => {
    const one = view();
    const place = one.point(200, 100);
    expect(place).toEqual([2, 7]);
    expect([one.x(2), one.y(7)]).toEqual([200, 100]);
    one.zoom(2, 200, 100);
    expect(one.scale).toBe(200);
    expect(one.point(200, 100)).toEqual(place);
    one.zoom(99);
    expect(one.scale).toBe(600);
    one.zoom(0.0001);
    expect(one.scale).toBe(6);
    const middle = view();
    middle.zoom(2);
    expect(middle.middle).toEqual([4, 5]);
    middle.pan(100, -50);
    expect(middle.middle).toEqual([3.5, 4.75]);
  });
});
