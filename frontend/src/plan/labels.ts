/** Where words stand on a sheet so that they do not cover one another: room names give way to marks, figures to names. */

import { contains, type Point } from "../maths/geometry";

export type Mark = { key: string; x: number; y: number; half: number; text: string; side: number; up: number };
/** A room's words: how far they reach right and left of their middle, and below the name. All in pixels. */
export type Name = { key: string; x: number; y: number; half: number; below: number; ring: readonly Point[] };
export type Spot = { x: number; y: number; anchor: "start" | "middle" | "end" };

type Frame = [left: number, top: number, right: number, bottom: number];
const TAG_PX = { wide: 7, above: 12, below: 4 };
const NAME_ABOVE_PX = 16;
const BASELINE_PX = 6; // of the last line, above the end of what is written
type Step = readonly [across: number, down: number];
const STILL: Step = [0, 0];
const STEPS_PX: readonly Step[] = [
  STILL,
  ...[-30, 30, -56, 56].map((down): Step => [0, down]),
  ...[0, -30, 30].flatMap((down): Step[] => [-40, 40, -70, 70].map((across): Step => [across, down])),
];

export function placedWords(
  names: readonly Name[],
  marks: readonly Mark[],
): { names: Map<string, Spot>; tags: Map<string, Spot> } {
  const symbols = marks.map(({ x, y, half }): Frame => [x - half, y - half, x + half, y + half]);
  const nameFrames: Frame[] = [];
  const tagFrames: Frame[] = [];
  const placed = { names: new Map<string, Spot>(), tags: new Map<string, Spot>() };
  for (const name of names) {
    const inside = ([across, down]: Step): boolean =>
      (across ? [across - name.half, across + name.half] : [0]).every((x) =>
        [0, name.below - BASELINE_PX].every((y) => contains(name.ring, [name.x + x, name.y + down + y])),
      );
    const free = STEPS_PX.find((step) => inside(step) && clear(frameOfName(name, step), symbols));
    const step = free ?? STEPS_PX.find(inside) ?? STILL;
    nameFrames.push(frameOfName(name, step));
    placed.names.set(name.key, { x: name.x + step[0], y: name.y + step[1], anchor: "middle" });
  }
  marks.forEach((mark, i) => {
    const others = [...tagFrames, ...symbols.filter((_, j) => j !== i)];
    const spots = spotsOf(mark);
    const offNames = spots.filter((one) => clear(frameOfTag(mark, one), nameFrames));
    const spot = offNames.find((one) => clear(frameOfTag(mark, one), others)) ?? offNames[0] ?? spots[0]!;
    tagFrames.push(frameOfTag(mark, spot));
    placed.tags.set(mark.key, spot);
  });
  return placed;
}

/** Right of the mark, left, above, below, then farther above and below. */
function spotsOf({ x, y, half, side, up }: Mark): Spot[] {
  return [
    { x: x + side, y: y + up, anchor: "start" },
    { x: x - side, y: y + up, anchor: "end" },
    { x, y: y - half - 4, anchor: "middle" },
    { x, y: y + half + TAG_PX.above + 2, anchor: "middle" },
    { x, y: y - half - 20, anchor: "middle" },
    { x, y: y + half + TAG_PX.above + 18, anchor: "middle" },
  ];
}

function frameOfTag({ text }: Mark, { x, y, anchor }: Spot): Frame {
  const wide = text.length * TAG_PX.wide;
  const left = anchor === "start" ? x : anchor === "end" ? x - wide : x - wide / 2;
  return [left, y - TAG_PX.above, left + wide, y + TAG_PX.below];
}

function frameOfName({ x, y, half, below }: Name, [across, down]: Step): Frame {
  return [x + across - half, y + down - NAME_ABOVE_PX, x + across + half, y + down + below];
}

const clear = (frame: Frame, others: readonly Frame[]): boolean =>
  others.every((one) => frame[2] <= one[0] || one[2] <= frame[0] || frame[3] <= one[1] || one[3] <= frame[1]);
