/** Lines of equal value on a grid, by marching squares; NaN is outside. */

export type Grid = { rows: number; cols: number; values: Float32Array }; // (y, x), low y first
export type Label = { x: number; y: number; turn: number; level: number };

/**
 * Segments of one level as x1, y1, x2, y2 in cells, four numbers each, written into `out`.
 * Returns how many numbers were written.
 */
export function contourSegments(grid: Grid, level: number, out: number[]): number {
  const { rows, cols, values } = grid;
  let used = 0;
  for (let y = 0; y + 1 < rows; y++) {
    for (let x = 0; x + 1 < cols; x++) {
      const i = y * cols + x;
      const a = values[i]! - level;
      const b = values[i + 1]! - level;
      const c = values[i + cols + 1]! - level;
      const d = values[i + cols]! - level;
      const sides = (a >= 0 ? 1 : 0) | (b >= 0 ? 2 : 0) | (c >= 0 ? 4 : 0) | (d >= 0 ? 8 : 0);
      if (sides === 0 || sides === 15 || a + b + c + d !== a + b + c + d) continue;
      const low = x + a / (a - b);
      const right = y + b / (b - c);
      const high = x + d / (d - c);
      const left = y + a / (a - d);
      const put = (x1: number, y1: number, x2: number, y2: number) => {
        out[used++] = x1;
        out[used++] = y1;
        out[used++] = x2;
        out[used++] = y2;
      };
      switch (sides) {
        case 1:
        case 14:
          put(x, left, low, y);
          break;
        case 2:
        case 13:
          put(low, y, x + 1, right);
          break;
        case 3:
        case 12:
          put(x, left, x + 1, right);
          break;
        case 4:
        case 11:
          put(x + 1, right, high, y + 1);
          break;
        case 6:
        case 9:
          put(low, y, high, y + 1);
          break;
        case 7:
        case 8:
          put(x, left, high, y + 1);
          break;
        case 5:
        case 10: {
          const middle = a + b + c + d >= 0;
          if ((sides === 5) === middle) {
            put(x, left, high, y + 1);
            put(low, y, x + 1, right);
          } else {
            put(x, left, low, y);
            put(x + 1, right, high, y + 1);
          }
        }
      }
    }
  }
  return used;
}

/** Places for a level's figures: well apart from those that stand, readable from below. */
export function labelPlaces(
  segments: readonly number[],
  used: number,
  level: number,
  apart: number,
  standing: Label[],
): void {
  const apart2 = apart * apart;
  for (let i = 0; i < used; i += 4) {
    const x = (segments[i]! + segments[i + 2]!) / 2;
    const y = (segments[i + 1]! + segments[i + 3]!) / 2;
    if (standing.some((one) => (one.x - x) ** 2 + (one.y - y) ** 2 < apart2)) continue;
    let turn = Math.atan2(segments[i + 3]! - segments[i + 1]!, segments[i + 2]! - segments[i]!);
    if (turn > Math.PI / 2) turn -= Math.PI;
    if (turn <= -Math.PI / 2) turn += Math.PI;
    standing.push({ x, y, turn, level });
  }
}

// Rates people know, closer together where plans are sold; powers every 10 dB.
const RATES = [1, 2, 5, 10, 25, 50, 100, 200, 300, 400, 500, 750, 1000, 1500, 2000, 3000, 5000, 8000];

/** Contour levels of rates [Mb/s] between two values, at most `most`. */
export function rateLevels(low: number, high: number, most = 8): number[] {
  return RATES.filter((rate) => rate > low && rate < high).slice(-most);
}

/** Round levels between two values, `step` apart and wider where they would be more than `most`. */
export function evenLevels(low: number, high: number, step: number, most = 8): number[] {
  let wide = step;
  while ((high - low) / wide > most) wide *= 2;
  const levels: number[] = [];
  for (let level = Math.ceil(low / wide) * wide; level < high; level += wide) if (level > low) levels.push(level);
  return levels;
}
