/** Between metres on the sheet (y up) and pixels on the screen (y down). */

import type { Point } from "../maths/geometry";

export class View {
  scale = $state(60); // pixels for a metre
  left_m = $state(-1);
  top_m = $state(8);
  width_px = $state(800);
  height_px = $state(600);

  x = (x_m: number): number => (x_m - this.left_m) * this.scale;
  y = (y_m: number): number => (this.top_m - y_m) * this.scale;

  point(px: number, py: number): Point {
    return [px / this.scale + this.left_m, this.top_m - py / this.scale];
  }

  get middle(): Point {
    return this.point(this.width_px / 2, this.height_px / 2);
  }

  /** Whether anything within these bounds (left, bottom, right, top) is on the screen. */
  shows([x0, y0, x1, y1]: [number, number, number, number]): boolean {
    const [right_m, bottom_m] = this.point(this.width_px, this.height_px);
    return x0 < right_m && x1 > this.left_m && y0 < this.top_m && y1 > bottom_m;
  }

  fit(bounds: [number, number, number, number] | null): void {
    const [x0, y0, x1, y1] = bounds ?? [0, 0, 12, 9];
    const margin_px = Math.min(70, this.width_px * 0.08);
    const wide = Math.max(x1 - x0, 1);
    const high = Math.max(y1 - y0, 1);
    this.scale = Math.min((this.width_px - 2 * margin_px) / wide, (this.height_px - 2 * margin_px) / high, 220);
    this.left_m = (x0 + x1) / 2 - this.width_px / 2 / this.scale;
    this.top_m = (y0 + y1) / 2 + this.height_px / 2 / this.scale;
  }

  zoom(times: number, px = this.width_px / 2, py = this.height_px / 2): void {
    const [x, y] = this.point(px, py);
    this.scale = Math.min(600, Math.max(6, this.scale * times));
    this.left_m = x - px / this.scale;
    this.top_m = y + py / this.scale;
  }

  pan(dx_px: number, dy_px: number): void {
    this.left_m -= dx_px / this.scale;
    this.top_m += dy_px / this.scale;
  }
}
