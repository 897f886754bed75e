/** A sheet of a small job, and a hand over it, without a browser. */
import { afterEach, beforeEach, vi } from "vitest";
import { applied } from "../src/job/apply";
import type { Change, Job } from "../src/job/types";
import type { Point } from "../src/maths/geometry";
import { keyOn } from "../src/plan/keys";
import { Pointers } from "../src/plan/pointers";
import { Sheet, type Laid } from "../src/plan/sheet.svelte";
import type { Tool } from "../src/plan/tools";
import { ALL_KEYS } from "../src/plan/tools";
import { freshBrowser, jobWith } from "./live";

/** Each test begins in a browser that knows nothing. */
export function drawnAnew(): void {
  beforeEach(freshBrowser);
  afterEach(() => {
    vi.useRealTimers();
    vi.unstubAllGlobals();
  });
}

export const put = (kind: "room" | "box" | "outlet" | "opening" | "body" | "run", entity: { id: string }): Change => ({
  do: "put",
  kind,
  entity: entity as never,
});
export const square: Change[] = [
  { do: "put", kind: "wall", entity: { id: "A", storey: "1", start: [0, 0], end: [4, 0] } },
  { do: "put", kind: "wall", entity: { id: "B", storey: "1", start: [4, 0], end: [4, 3] } },
  { do: "put", kind: "wall", entity: { id: "C", storey: "1", start: [4, 3], end: [0, 3] } },
  { do: "put", kind: "wall", entity: { id: "D", storey: "1", start: [0, 3], end: [0, 0] } },
  put("room", {
    id: "R",
    storey: "1",
    name: "Room",
    polygon: [
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ],
  } as never),
  put("box", { id: "BX", storey: "1", name: "Router", equipment: "r", position: [2, 1.5] } as never),
];

/** A sheet of that job, 100 pixels for a metre, the metre [0, 8] at its upper left; and all that comes of it. */
export function sheetOf(changes: Change[] = square, tool: Tool = "select", more: Partial<Laid> = {}) {
  let job: Job = jobWith(...changes);
  const edits: { label: string; changes: Change[] }[] = [];
  const asked: { ask: Record<string, unknown>; at_ms: number }[] = [];
  const told: string[] = [];
  const heard: unknown[][] = [];
  const session = {
    get job() {
      return job;
    },
    alone: false,
    submit: (label: string, made: Change[]) => {
      edits.push({ label, changes: made });
      job = applied(job, made);
    },
  };
  const laid = {
    session,
    mark: "a",
    storey: "1",
    known: new Map(),
    keys: ALL_KEYS,
    ramp: null,
    field: { map: (ask: Record<string, unknown>, at_ms: number) => asked.push({ ask, at_ms }) },
    ...more,
  } as unknown as Laid;
  const sheet = new Sheet(
    laid,
    {
      tell: (words) => told.push(words),
      spot: (at, moves) => heard.push(["spot", at, moves]),
      measured: (a, b) => heard.push(["measured", a, b]),
      shifted: (by, done) => heard.push(["shifted", by, done]),
      routed: () => heard.push(["routed"]),
      tried: (move) => heard.push(["tried", move]),
    },
    tool,
  );
  Object.assign(sheet.view, { scale: 100, left_m: 0, top_m: 8, width_px: 800, height_px: 600 });
  const captured: number[] = [];
  sheet.paper = {
    getBoundingClientRect: () => ({ left: 10, top: 20 }),
    setPointerCapture: (id: number) => captured.push(id),
    focus: () => heard.push(["focus"]),
  } as never;
  const walls = () => job.house.walls;
  return { sheet, edits, asked, told, heard, captured, walls, job: () => job };
}

export type Made = ReturnType<typeof sheetOf>;

/** A hand over that sheet, its places in metres. */
export function handOn({ sheet }: Made, more: Partial<PointerEvent> = {}) {
  const pointers = new Pointers(sheet);
  const event = (at: Point, extra: object = {}) =>
    ({
      clientX: at[0] * 100 + 10,
      clientY: (8 - at[1]) * 100 + 20,
      pointerId: 1,
      pointerType: "mouse",
      button: 0,
      buttons: 1,
      timeStamp: 77,
      preventDefault: () => {},
      ...more,
      ...extra,
    }) as unknown as PointerEvent & WheelEvent;
  const down = (at: Point, extra = {}) => pointers.down(event(at, extra));
  const move = (at: Point, extra = {}) => pointers.move(event(at, extra));
  const up = (at: Point, extra = {}) => pointers.up(event(at, extra));
  const click = (at: Point) => {
    down(at);
    up(at);
  };
  const drag = (from: Point, to: Point) => {
    down(from);
    move(to);
    up(to);
  };
  return { pointers, event, down, move, up, click, drag };
}

export const close = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-9;

/** A key on that sheet; whether the browser is kept from it. */
export function press({ sheet }: Made, key: string, more: object = {}): boolean {
  let kept = false;
  keyOn(sheet, {
    key,
    ctrlKey: false,
    metaKey: false,
    altKey: false,
    shiftKey: false,
    preventDefault: () => (kept = true),
    ...more,
  });
  return kept;
}
