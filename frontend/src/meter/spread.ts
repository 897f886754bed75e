/** What repeated measurements say: the middle one, and an interval for the true median that assumes no shape. */

export type Spread = {
  middle: number;
  low: number;
  high: number;
  sure_pct: number; // how surely the true median lies from low to high
  sd: number | null; // standard deviation, null of a single one
  count: number;
};

const WANTED = 0.9;

/** The narrowest interval by order statistics that holds the median with 90 %; the whole span where too few. */
export function spreadOf(values: readonly number[]): Spread | null {
  const sorted = [...values].sort((a, b) => a - b);
  const count = sorted.length;
  if (count === 0) return null;
  let left = 0; // how many are left out at each end
  while (2 * (left + 1) < count && sureness(count, left + 1) >= WANTED) left++;
  const half = Math.floor(count / 2);
  const middle = count % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
  const mean = sorted.reduce((sum, value) => sum + value, 0) / count;
  const sd = count > 1 ? Math.sqrt(sorted.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (count - 1)) : null;
  return {
    middle,
    low: sorted[left]!,
    high: sorted[count - 1 - left]!,
    sure_pct: 100 * sureness(count, left),
    sd,
    count,
  };
}

/** Chance that a median lies inside when `left` values are cut from each end: tosses of a fair coin. */
export function sureness(count: number, left: number): number {
  let outside = 0;
  let ways = 1;
  for (let k = 0; k <= left; k++) {
    outside += ways;
    ways = (ways * (count - k)) / (k + 1);
  }
  return 1 - (2 * outside) / 2 ** count;
}
