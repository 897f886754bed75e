/** Looking at a house from outside, without perspective: turned about its middle, tilted, nearer or farther. */

import type { Point3 } from "./shape";

export type Orbit = { turn_deg: number; tilt_deg: number; px_per_m: number; target: Point3 };

export const CORNER = { turn_deg: -30, tilt_deg: 40 };
export const ABOVE = { turn_deg: 0, tilt_deg: 89.9 };
export const FRONT = { turn_deg: 0, tilt_deg: 8 };

/** From the house towards the eye, and the directions of the sheet's right and up, as unit vectors. */
export function axesOf({ turn_deg, tilt_deg }: Orbit): { eye: Point3; right: Point3; up: Point3 } {
  const [turn, tilt] = [(turn_deg * Math.PI) / 180, (tilt_deg * Math.PI) / 180];
  const [c, s] = [Math.cos(tilt), Math.sin(tilt)];
  const [east, south] = [Math.sin(turn), -Math.cos(turn)]; // turn 0 stands in the south, where a plan's foot is
  return { eye: [c * east, c * south, s], right: [-south, east, 0], up: [-s * east, -s * south, c] };
}

export function turned(orbit: Orbit, by_deg: number, up_deg: number): Orbit {
  const turn_deg = ((((orbit.turn_deg + by_deg + 180) % 360) + 360) % 360) - 180;
  return { ...orbit, turn_deg, tilt_deg: Math.min(89.9, Math.max(2, orbit.tilt_deg + up_deg)) };
}

export function nearer(orbit: Orbit, times: number): Orbit {
  return { ...orbit, px_per_m: Math.min(800, Math.max(4, orbit.px_per_m * times)) };
}

/** Moved on the sheet, as if the paper were pushed. */
export function pushed(orbit: Orbit, dx_px: number, dy_px: number): Orbit {
  const { right, up } = axesOf(orbit);
  const [across, along] = [-dx_px / orbit.px_per_m, dy_px / orbit.px_per_m];
  const target = orbit.target.map((at, i) => at + across * right[i]! + along * up[i]!) as Point3;
  return { ...orbit, target };
}

/** Pixels from the middle of the sheet, right and up. */
export function onSheet(orbit: Orbit, at: Point3): [number, number] {
  const { right, up } = axesOf(orbit);
  const off = at.map((value, i) => value - orbit.target[i]!);
  const along = (axis: Point3) => axis.reduce((sum, value, i) => sum + value * off[i]!, 0) * orbit.px_per_m;
  return [along(right), along(up)];
}

/** The same direction, with everything between two corners on the sheet. */
export function fitted(orbit: Orbit, low: Point3, high: Point3, width_px: number, height_px: number): Orbit {
  const middle = low.map((value, i) => (value + high[i]!) / 2) as Point3;
  const one: Orbit = { ...orbit, px_per_m: 1, target: middle };
  let [wide, tall] = [0.5, 0.5];
  for (let corner = 0; corner < 8; corner++) {
    const [x, y] = onSheet(one, [0, 1, 2].map((i) => (corner & (1 << i) ? high : low)[i]!) as Point3);
    [wide, tall] = [Math.max(wide, Math.abs(x)), Math.max(tall, Math.abs(y))];
  }
  return { ...one, px_per_m: Math.min(800, Math.max(4, 0.45 * Math.min(width_px / wide, height_px / tall))) };
}
