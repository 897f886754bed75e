/** What stands on one storey, and what a drawing needs to know of it. */

import { along, direction, add, scaled, boundsOf, type Point } from "../maths/geometry";
import type { Body, Box, Job, MeetingPoint, Opening, Outlet, Reading, Room, Run, Storey, Wall } from "../job/types";

export type OnStorey = {
  storey: Storey;
  walls: Wall[];
  openings: Opening[];
  rooms: Room[];
  bodies: Body[];
  outlets: Outlet[];
  meetings: MeetingPoint[];
  boxes: Box[];
  readings: Reading[];
  runs: DrawnRun[];
};

/** Kinds of things that are chosen on a plan. */
export const PICKED = ["wall", "opening", "room", "body", "outlet", "meeting_point", "box", "reading", "run"] as const;
export type Picked = {
  kind: (typeof PICKED)[number];
  id: string;
  vertex?: number;
};

export function onStorey(job: Job, id: string): OnStorey | null {
  const storey = job.house.storeys.find((one) => one.id === id);
  if (!storey) return null;
  const here = <T extends { storey: string | null }>(things: readonly T[]) => things.filter((one) => one.storey === id);
  const walls = here(job.house.walls);
  const names = new Set(walls.map((wall) => wall.id));
  return {
    storey,
    walls,
    openings: job.house.openings.filter((one) => names.has(one.wall)),
    rooms: here(job.house.rooms).sort((a, b) => Number(a.outside) - Number(b.outside)), // a garden drawn round the house comes last
    bodies: here(job.house.bodies),
    outlets: here(job.house.outlets),
    meetings: here(job.house.meeting_points),
    boxes: here(job.boxes),
    readings: job.readings.filter((one) => one.storey === id && one.position),
    runs: drawnRuns(job, id),
  };
}

/** Where a plan puts a box that stands elsewhere today. */
export type Moved = { box: string; storey: string; position: Point | null };

/** The job as drawn with that box where the plan puts it. */
export function withMoved(job: Job, moved: Moved): Job {
  const { box, storey, position } = moved;
  return position
    ? { ...job, boxes: job.boxes.map((one) => (one.id === box ? { ...one, storey, position } : one)) }
    : job;
}

export function boundsOfStorey(on: OnStorey): [number, number, number, number] | null {
  const points: Point[] = [
    ...on.walls.flatMap((wall) => [wall.start, wall.end]),
    ...on.rooms.flatMap((room) => room.polygon),
    ...on.outlets.flatMap((one) => (one.position ? [one.position] : [])),
    ...[...on.boxes, ...on.meetings].map((one) => one.position),
  ];
  return boundsOf(points);
}

/** Storeys from the top down, as they stand. */
export function stacked(job: Job): Storey[] {
  return [...job.house.storeys].sort((a, b) => b.elevation_m - a.elevation_m);
}

/** The storey to open first: the one with most rooms, the lower of equals. */
export function fullest(job: Job): Storey | null {
  const rooms = (storey: Storey) => job.house.rooms.filter((room) => room.storey === storey.id).length;
  return stacked(job)
    .reverse()
    .reduce<Storey | null>((best, one) => (!best || rooms(one) > rooms(best) ? one : best), null);
}

export type Constructions = Map<string, { label: string; use: string; thickness_m: number }>;

export function constructionsFrom(rows: Record<string, string | number>[]): Constructions {
  return new Map(
    rows.map((row) => {
      const usual = String(row.layers_mm).split(";")[0]!; // the commonest section where there are several
      const thick_mm = [...usual.matchAll(/(\d+(?:\.\d+)?)\s*(?:\+|\s*$)/g)].reduce(
        (sum, one) => sum + Number(one[1]),
        0,
      );
      return [String(row.name), { label: String(row.label), use: String(row.use), thickness_m: thick_mm / 1000 }];
    }),
  );
}

export function thicknessOf(wall: Wall, known: Constructions): number {
  const layers = wall.layers.reduce((sum, layer) => sum + layer.thickness_m, 0);
  return wall.thickness_m ?? (layers || known.get(wall.construction)?.thickness_m || 0.1);
}

/** A wall's centre line drawn on to the far faces of the walls it meets, so that corners are filled. */
export function drawnLine(wall: Wall, walls: readonly Wall[], known: Constructions): { start: Point; end: Point } {
  const d = direction(wall);
  const grown = (end: Point): number => {
    let half = 0;
    for (const other of walls) {
      if (other === wall || along(other, end).off_m > 0.02) continue;
      const across = Math.abs(d[0] * direction(other)[1] - d[1] * direction(other)[0]);
      if (across > 0.2) half = Math.max(half, thicknessOf(other, known) / 2);
    }
    return half;
  };
  return { start: add(wall.start, scaled(d, -grown(wall.start))), end: add(wall.end, scaled(d, grown(wall.end))) };
}

/** The two jambs of an opening on its wall's centre line. */
export function jambs(opening: Opening, wall: Wall): { a: Point; b: Point } {
  const d = direction(wall);
  return {
    a: add(wall.start, scaled(d, opening.offset_m)),
    b: add(wall.start, scaled(d, opening.offset_m + opening.width_m)),
  };
}

/** A door's leaf: where it hangs, where its tip stands when open, and where it shuts; drawn near and left where nobody
 *  said. `turns` is the way its tip goes to shut, on a screen: 1 clockwise. */
export function leafOf(opening: Opening, wall: Wall): { hinge: Point; tip: Point; latch: Point; turns: 0 | 1 } {
  const { a, b } = jambs(opening, wall);
  const [dx, dy] = direction(wall);
  const far = opening.hinge === "far";
  const right = opening.swing === "right";
  const side: Point = right ? [dy, -dx] : [-dy, dx];
  const [hinge, latch] = far ? [b, a] : [a, b];
  return { hinge, tip: add(hinge, scaled(side, opening.width_m)), latch, turns: far === right ? 1 : 0 };
}

type Hand = Pick<Opening, "hinge" | "swing">;
const HANDS: Hand[] = [
  { hinge: "near", swing: "left" },
  { hinge: "far", swing: "left" },
  { hinge: "far", swing: "right" },
  { hinge: "near", swing: "right" },
];

/** The next of the four hands of a door, as a key goes through them. */
export function nextHand({ hinge, swing }: Hand): Hand {
  const now = HANDS.findIndex(
    (one) => (one.hinge === "far") === (hinge === "far") && (one.swing === "right") === (swing === "right"),
  );
  return HANDS[(now + 1) % HANDS.length]!;
}

/** The storey that holds a height: the highest whose floor is not above it. */
export function storeyAt(job: Job, z_m: number): Storey | undefined {
  const falling = stacked(job);
  return falling.find((one) => one.elevation_m <= z_m + 0.01) ?? falling.at(-1);
}

/** A cable on one storey: its lines there, and where it leaves for another. */
export type DrawnRun = { run: Run; lines: Point[][]; leaves: Point[] };

/** Every cable with something to draw on a storey: along its route where that is known, else straight from end to end. */
export function drawnRuns(job: Job, storey: string): DrawnRun[] {
  return job.house.runs
    .map((run) => (run.route.length > 1 ? routeOn(job, run, storey) : straightOn(job, run, storey)))
    .filter((one) => one.lines.length || one.leaves.length);
}

function routeOn(job: Job, run: Run, storey: string): DrawnRun {
  const here = run.route.map(([, , z]) => storeyAt(job, z)?.id === storey);
  const drawn: DrawnRun = { run, lines: [], leaves: [] };
  run.route.forEach(([x, y], i) => {
    if (!here[i]) return;
    if (i && here[i - 1]) drawn.lines.at(-1)!.push([x, y]);
    else drawn.lines.push([[x, y]]);
    if ((i > 0 && !here[i - 1]) || (i + 1 < here.length && !here[i + 1])) drawn.leaves.push([x, y]);
  });
  return drawn;
}

function straightOn(job: Job, run: Run, storey: string): DrawnRun {
  const ends = run.ends.flatMap((end) => {
    const at =
      job.house.outlets.find((one) => one.id === end) ?? job.house.meeting_points.find((one) => one.id === end);
    return at?.position ? [{ storey: at.storey, position: at.position }] : [];
  });
  const points = ends.filter((end) => end.storey === storey).map((end) => end.position);
  return {
    run,
    lines: points.length > 1 ? [points] : [],
    leaves: points.length && points.length < ends.length ? [points[0]!] : [],
  };
}

export function nearestWall(
  walls: readonly Wall[],
  p: Point,
): { wall: Wall; at_m: number; off_m: number; point: Point } | null {
  let best: { wall: Wall; at_m: number; off_m: number; point: Point } | null = null;
  for (const wall of walls) {
    const found = along(wall, p);
    if (!best || found.off_m < best.off_m) best = { wall, ...found };
  }
  return best;
}
