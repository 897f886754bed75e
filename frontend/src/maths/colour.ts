/** The one colour scale: perceptually uniform and safe for colour-blind eyes; its steps come from the facts. */

export type Step = { place_on_scale: number; red: number; green: number; blue: number };

export type Ramp = Uint32Array; // 256 entries, little-endian RGBA, dark first

const TINT = 0.62; // share of the colour, the rest paper: ink stays readable over it

/** The scale thinned with paper, as 256 pixels ready to be copied. */
export function rampOf(steps: readonly Step[], paper: readonly [number, number, number]): Ramp {
  const ramp = new Uint32Array(256);
  for (let i = 0; i < 256; i++) {
    const place = i / 255;
    let k = 0;
    while (k + 2 < steps.length && steps[k + 1]!.place_on_scale < place) k++;
    const [a, b] = [steps[k]!, steps[k + 1]!];
    const share = (place - a.place_on_scale) / (b.place_on_scale - a.place_on_scale);
    const mix = (low: number, high: number, sheet: number) =>
      Math.round(TINT * (low + share * (high - low)) + (1 - TINT) * sheet);
    ramp[i] =
      (255 << 24) |
      (mix(a.blue, b.blue, paper[2]) << 16) |
      (mix(a.green, b.green, paper[1]) << 8) |
      mix(a.red, b.red, paper[0]);
  }
  return ramp;
}

export function cssOf(ramp: Ramp, place: number): string {
  const pixel = ramp[Math.round(Math.min(1, Math.max(0, place)) * 255)]!;
  return `rgb(${pixel & 255} ${(pixel >> 8) & 255} ${(pixel >> 16) & 255})`;
}

/** From a value to its place on the scale, 0 to 1. */
export type Place = (value: number) => number;

/** Rates by their logarithm: twice as fast looks the same step everywhere. */
export function ratePlace(low: number, high: number): Place {
  const from = Math.log(Math.max(low, 0.5));
  const wide = Math.log(Math.max(high, 1)) - from || 1;
  return (value) => (Math.log(Math.max(value, 0.5)) - from) / wide;
}

export function evenPlace(low: number, high: number): Place {
  const wide = high - low || 1;
  return (value) => (value - low) / wide;
}
