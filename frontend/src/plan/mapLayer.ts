/** A map under the drawing: tints from the one scale, contours in ink, each with its figure. */

import { contourSegments, evenLevels, labelPlaces, rateLevels, type Label } from "../maths/contours";
import { evenPlace, ratePlace, type Place, type Ramp } from "../maths/colour";
import type { Boxes, Quantity, Raster } from "../net/field";
import type { View } from "./view.svelte";
import { say } from "../words/say";

/** Which map somebody wants to see. */
export type MapWish = { quantity: Quantity; band: string | null; boxes: Boxes };
export type MapScale = { low: number; high: number; place: Place; levels: number[]; unit: string };

/** The same scale for every map of a job, so that colours do not jump while something is dragged. */
export function mapScale(quantity: Quantity, paid: { down_mbps: number; up_mbps: number }): MapScale {
  if (quantity === "power_dbm")
    return { low: -90, high: -30, place: evenPlace(-90, -30), levels: evenLevels(-91, -29, 10), unit: "dBm" };
  if (quantity === "power_sd_db")
    return { low: 0, high: 12, place: evenPlace(0, 12), levels: evenLevels(0, 12, 2), unit: "dB" };
  if (quantity === "air_mbps") {
    const most = Math.max(2000, paid.down_mbps);
    return { low: 10, high: most, place: ratePlace(10, most), levels: rateLevels(10, most * 0.999), unit: "Mb/s" };
  }
  const up = quantity.startsWith("up");
  const [low, high] = up ? [1, Math.max(paid.up_mbps, 10)] : [2, Math.max(paid.down_mbps, 50)];
  return { low, high, place: ratePlace(low, high), levels: rateLevels(low, high * 0.999), unit: "Mb/s" };
}

export function mapWords(quantity: Quantity): string {
  const words: Record<Quantity, string> = {
    down_mbps: say("page_coverage.rate_at_a_spot_middling"),
    low_mbps: say("page_coverage.rate_at_the_least_5"),
    high_mbps: say("page_coverage.rate_at_best_95"),
    up_mbps: say("page_coverage.rate_up_at_a_spot_middling"),
    up_low_mbps: say("page_coverage.rate_up_at_the_least_5"),
    up_high_mbps: say("page_coverage.rate_up_at_best_95"),
    air_mbps: say("page_coverage.rate_of_the_air_alone"),
    power_dbm: say("page_common.power"),
    power_sd_db: say("page_coverage.how_unsure_the_power_is"),
  };
  return words[quantity];
}

export class MapLayer {
  readonly #context: CanvasRenderingContext2D;
  readonly #small = document.createElement("canvas");
  #image: ImageData | null = null;
  #segments: number[] = [];
  raster: Raster | null = null;
  ramp: Ramp | null = null;
  scale: MapScale | null = null;
  ink = "#1b1a17";
  paper = "#ffffff";
  figure_px = 12;

  constructor(readonly canvas: HTMLCanvasElement) {
    this.#context = canvas.getContext("2d")!;
  }

  clear(): void {
    this.raster = null;
    this.#context.setTransform(1, 0, 0, 1, 0, 0);
    this.#context.clearRect(0, 0, this.canvas.width, this.canvas.height);
  }

  draw(view: View): void {
    const { raster, ramp, scale } = this;
    const dense = Math.min(devicePixelRatio || 1, 2);
    const [wide, high] = [Math.round(view.width_px * dense), Math.round(view.height_px * dense)];
    if (this.canvas.width !== wide || this.canvas.height !== high)
      [this.canvas.width, this.canvas.height] = [wide, high];
    const pen = this.#context;
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, wide, high);
    if (!raster || !ramp || !scale) return;
    pen.setTransform(dense, 0, 0, dense, 0, 0);
    this.#tints(raster, ramp, scale, view);
    this.#contours(raster, scale, view);
  }

  #tints(raster: Raster, ramp: Ramp, scale: MapScale, view: View): void {
    const { rows, cols, values, step_m } = raster;
    if (!this.#image || this.#image.width !== cols || this.#image.height !== rows) {
      this.#image = new ImageData(cols, rows);
      [this.#small.width, this.#small.height] = [cols, rows];
    }
    const pixels = new Uint32Array(this.#image.data.buffer);
    for (let row = 0; row < rows; row++) {
      const to = (rows - 1 - row) * cols;
      for (let col = 0; col < cols; col++) {
        const value = values[row * cols + col]!;
        const place = scale.place(value);
        pixels[to + col] = value === value ? ramp[place <= 0 ? 0 : place >= 1 ? 255 : (place * 255) | 0]! : 0;
      }
    }
    this.#small.getContext("2d")!.putImageData(this.#image, 0, 0);
    const x = view.x(raster.x0_m - step_m / 2);
    const y = view.y(raster.y0_m + (rows - 0.5) * step_m);
    this.#context.imageSmoothingEnabled = true;
    this.#context.drawImage(this.#small, x, y, cols * step_m * view.scale, rows * step_m * view.scale);
  }

  #contours(raster: Raster, scale: MapScale, view: View): void {
    const pen = this.#context;
    const x = (cell: number) => view.x(raster.x0_m + cell * raster.step_m);
    const y = (cell: number) => view.y(raster.y0_m + cell * raster.step_m);
    const labels: Label[] = [];
    const apart = Math.max(130, 4 * this.figure_px) / (raster.step_m * view.scale);
    pen.strokeStyle = this.ink;
    pen.lineWidth = 0.9;
    pen.beginPath();
    for (const level of scale.levels) {
      const used = contourSegments(raster, level, this.#segments);
      for (let i = 0; i < used; i += 4) {
        pen.moveTo(x(this.#segments[i]!), y(this.#segments[i + 1]!));
        pen.lineTo(x(this.#segments[i + 2]!), y(this.#segments[i + 3]!));
      }
      labelPlaces(this.#segments, used, level, apart, labels);
    }
    pen.stroke();
    pen.font = `${this.figure_px}px 'Source Sans 3', sans-serif`;
    pen.textAlign = "center";
    pen.textBaseline = "middle";
    pen.lineJoin = "round";
    for (const label of labels) {
      pen.save();
      pen.translate(x(label.x), y(label.y));
      pen.rotate(-label.turn);
      pen.lineWidth = this.figure_px / 3;
      pen.strokeStyle = this.paper;
      const words = `${label.level < 0 ? "−" : ""}${Math.abs(label.level)}`;
      pen.strokeText(words, 0, 0);
      pen.fillStyle = this.ink;
      pen.fillText(words, 0, 0);
      pen.restore();
    }
  }
}

/** Name the times from a pointer's event to its map drawn and to the frame that shows it, for whoever measures. */
export function notePaint(asked_ms: number, took_ms: number): void {
  if (performance.getEntriesByType("measure").length > 4000) performance.clearMeasures();
  performance.measure("pointer to drawn", { start: asked_ms, end: performance.now(), detail: { took_ms } });
  requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => performance.measure("pointer to paint", { start: asked_ms, end: performance.now() });
    port2.postMessage(0);
  });
}
