/** The rooms that walls enclose: faces of the plane cut by their centre lines. */

import { along, areaOf, contains, cross, crossing, distance, type Point, type Segment } from "./geometry";

const JOIN_M = 0.05; // wall ends this near are one corner

/** The smallest face around a point, as a polygon turning left; null where the walls do not close. */
export function faceAround(walls: readonly Segment[], point: Point): Point[] | null {
  const around = facesOf(walls).filter((face) => contains(face, point));
  around.sort((a, b) => areaOf(a) - areaOf(b));
  return around[0] ?? null;
}

/** Every face with something inside. */
export function facesOf(walls: readonly Segment[]): Point[][] {
  const { nodes, next } = graphOf(walls);
  const seen = new Set<string>();
  const faces: Point[][] = [];
  for (const [from, neighbours] of next.entries()) {
    for (const to of neighbours) {
      if (seen.has(`${from} ${to}`)) continue;
      const face: number[] = [];
      let a = from;
      let b = to;
      while (!seen.has(`${a} ${b}`)) {
        seen.add(`${a} ${b}`);
        face.push(a);
        const turns = next[b]!;
        const back = turns.indexOf(a);
        const onward = turns[(back + turns.length - 1) % turns.length]!; // the sharpest left turn
        [a, b] = [b, onward];
      }
      const polygon = straightened(withoutSpurs(face).map((node) => nodes[node]!));
      if (polygon.length >= 3 && areaOf(polygon) > 0.05) faces.push(polygon);
    }
  }
  return faces;
}

/** Corners, and the corners next to each, by angle. */
function graphOf(walls: readonly Segment[]): { nodes: Point[]; next: number[][] } {
  const nodes: Point[] = [];
  const nodeAt = (p: Point): number => {
    const found = nodes.findIndex((node) => distance(node, p) < JOIN_M);
    return found >= 0 ? found : nodes.push(p) - 1;
  };
  const links = new Map<number, Set<number>>();
  for (const wall of walls) {
    const stops = [wall.start, wall.end];
    for (const other of walls) {
      if (other === wall) continue;
      const at = crossing(wall, other);
      if (at) stops.push(at);
      for (const end of [other.start, other.end]) {
        const near = along(wall, end);
        if (near.off_m < JOIN_M) stops.push(near.point);
      }
    }
    const ordered = stops.map((p) => ({ p, at: along(wall, p).at_m })).sort((a, b) => a.at - b.at);
    for (let i = 0; i + 1 < ordered.length; i++) {
      const [a, b] = [nodeAt(ordered[i]!.p), nodeAt(ordered[i + 1]!.p)];
      if (a === b) continue;
      for (const [from, to] of [
        [a, b],
        [b, a],
      ] as const) {
        if (!links.has(from)) links.set(from, new Set());
        links.get(from)!.add(to);
      }
    }
  }
  const next = nodes.map((node, i) =>
    [...(links.get(i) ?? [])].sort((a, b) => angle(node, nodes[a]!) - angle(node, nodes[b]!)),
  );
  return { nodes, next };
}

function angle(from: Point, to: Point): number {
  return Math.atan2(to[1] - from[1], to[0] - from[0]);
}

/** A wall that ends inside a room is walked out and back; that says nothing of the room's shape. */
function withoutSpurs(face: number[]): number[] {
  const ring = [...face];
  for (let i = 0; i < ring.length && ring.length > 2;) {
    const before = (i + ring.length - 1) % ring.length;
    const after = (i + 1) % ring.length;
    if (ring[before] === ring[after]) {
      ring.splice(Math.max(i, after), 1);
      ring.splice(Math.min(i, after), 1);
      i = 0;
    } else i++;
  }
  return ring;
}

function straightened(ring: Point[]): Point[] {
  return ring.filter((p, i) => {
    const a = ring[(i + ring.length - 1) % ring.length]!;
    const b = ring[(i + 1) % ring.length]!;
    const ab: Point = [p[0] - a[0], p[1] - a[1]];
    const bc: Point = [b[0] - p[0], b[1] - p[1]];
    return Math.abs(cross(ab, bc)) > 1e-4;
  });
}
