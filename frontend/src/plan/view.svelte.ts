/** Between metres on the sheet (y up) and pixels on the screen (y down). */

import type { Point } from "../maths/geometry";

const MIN_SCALE = 6;

/** How far in from each edge something lies over the sheet; `foot` is what of the bottom lies under all of it. */
export type Covered = { left: number; right: number; top: number; bottom: number; foot?: number };

export class View {
  scale = $state(60); // pixels for a metre
  left_m = $state(-1);
  top_m = $state(8);
  width_px = $state(800);
  height_px = $state(600);
  covered = $state.raw<Covered>({ left: 0, right: 0, top: 0, bottom: 0 });

  x = (x_m: number): number => (x_m - this.left_m) * this.scale;
  y = (y_m: number): number => (this.top_m - y_m) * this.scale;

  point(px: number, py: number): Point {
    return [px / this.scale + this.left_m, this.top_m - py / this.scale];
  }

  /** The middle of what is to be seen. */
  get middle(): Point {
    const { left, right, top, bottom } = this.covered;
    return this.point((this.width_px + left - right) / 2, (this.height_px + top - bottom) / 2);
  }

  /** Whether anything within these bounds (left, bottom, right, top) is on the screen. */
  shows([x0, y0, x1, y1]: [number, number, number, number]): boolean {
    const [right_m, bottom_m] = this.point(this.width_px, this.height_px);
    return x0 < right_m && x1 > this.left_m && y0 < this.top_m && y1 > bottom_m;
  }

  /** All of it, in what is to be seen. */
  fit(bounds: [number, number, number, number] | null): void {
    const [x0, y0, x1, y1] = bounds ?? [0, 0, 12, 9];
    const { left, right, top, bottom } = this.covered;
    const [free_px, free_high_px] = [this.width_px - left - right, this.height_px - top - bottom];
    const margin_px = Math.min(48, free_px * 0.05);
    const wide = Math.max(x1 - x0, 1);
    const high = Math.max(y1 - y0, 1);
    this.scale = Math.max(
      MIN_SCALE,
      Math.min((free_px - 2 * margin_px) / wide, (free_high_px - 2 * margin_px) / high, 220),
    );
    this.left_m = (x0 + x1) / 2 - (left + free_px / 2) / this.scale;
    this.top_m = (y0 + y1) / 2 + (top + free_high_px / 2) / this.scale;
  }

  zoom(times: number, px = this.width_px / 2, py = this.height_px / 2): void {
    const [x, y] = this.point(px, py);
    this.scale = Math.min(600, Math.max(MIN_SCALE, this.scale * times));
    this.left_m = x - px / this.scale;
    this.top_m = y + py / this.scale;
  }

  pan(dx_px: number, dy_px: number): void {
    this.left_m -= dx_px / this.scale;
    this.top_m += dy_px / this.scale;
  }
}
