/** Plane geometry for drawing. Points are [x, y] in metres. */

export type Point = [number, number];
export type Segment = { start: Point; end: Point };

export const add = (a: Point, b: Point): Point => [a[0] + b[0], a[1] + b[1]];
export const sub = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1]];
export const scaled = (a: Point, k: number): Point => [a[0] * k, a[1] * k];
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1];
export const cross = (a: Point, b: Point): number => a[0] * b[1] - a[1] * b[0];
export const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
export const lengthOf = (s: Segment): number => distance(s.start, s.end);
export const same = (a: Point, b: Point, within_m = 0.005): boolean => distance(a, b) <= within_m;

/** To the millimetre, so that what is typed back is what was drawn. */
export const neat = (a: Point): Point => [Math.round(a[0] * 1000) / 1000, Math.round(a[1] * 1000) / 1000];

export function direction(s: Segment): Point {
  const long = lengthOf(s);
  return long > 0 ? scaled(sub(s.end, s.start), 1 / long) : [1, 0];
}

/** Where along a segment (metres from its start, kept on it) a point lies nearest, and how far off. */
export function along(s: Segment, p: Point): { at_m: number; off_m: number; point: Point } {
  const d = direction(s);
  const at_m = Math.min(lengthOf(s), Math.max(0, dot(sub(p, s.start), d)));
  const point = add(s.start, scaled(d, at_m));
  return { at_m, off_m: distance(point, p), point };
}

/** Where two segments cross inside both (ends included); null where they do not, or run alike. */
export function crossing(a: Segment, b: Segment): Point | null {
  const r = sub(a.end, a.start);
  const s = sub(b.end, b.start);
  const turn = cross(r, s);
  if (Math.abs(turn) < 1e-9 * (lengthOf(a) * lengthOf(b) + 1e-9)) return null;
  const between = sub(b.start, a.start);
  const t = cross(between, s) / turn;
  const u = cross(between, r) / turn;
  const slack = 1e-6;
  return t < -slack || t > 1 + slack || u < -slack || u > 1 + slack ? null : add(a.start, scaled(r, t));
}

export function areaOf(polygon: readonly Point[]): number {
  return polygon.reduce((sum, p, i) => sum + cross(p, polygon[(i + 1) % polygon.length]!), 0) / 2;
}

/** A point well inside: the centroid, or the middle of the widest stretch at its height. */
export function insideOf(polygon: readonly Point[]): Point {
  const area = areaOf(polygon) || 1e-9;
  let centre: Point = [0, 0];
  polygon.forEach((p, i) => {
    const q = polygon[(i + 1) % polygon.length]!;
    centre = add(centre, scaled(add(p, q), cross(p, q) / (6 * area)));
  });
  if (contains(polygon, centre)) return centre;
  const hits = crossingsAt(polygon, centre[1]);
  let best: Point = centre;
  let widest = -1;
  for (let i = 0; i + 1 < hits.length; i += 2) {
    if (hits[i + 1]! - hits[i]! > widest) {
      widest = hits[i + 1]! - hits[i]!;
      best = [(hits[i]! + hits[i + 1]!) / 2, centre[1]];
    }
  }
  return best;
}

export function contains(polygon: readonly Point[], p: Point): boolean {
  return crossingsAt(polygon, p[1]).filter((x) => x > p[0]).length % 2 === 1;
}

function crossingsAt(polygon: readonly Point[], y: number): number[] {
  const found: number[] = [];
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length]!;
    if (a[1] > y !== b[1] > y) found.push(a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]));
  });
  return found.sort((one, two) => one - two);
}

/** Left, bottom, right, top of some points; null of none. */
export function boundsOf(points: readonly Point[]): [number, number, number, number] | null {
  if (points.length === 0) return null;
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}
