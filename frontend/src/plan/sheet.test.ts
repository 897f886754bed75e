import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { freshBrowser, jobWith, wall } from "../../tests/live";
import { applied } from "../job/apply";
import type { Change, Job } from "../job/types";
import type { Point } from "../maths/geometry";
import { keyOn } from "./keys";
import { Pointers } from "./pointers";
import { Sheet, type Laid } from "./sheet.svelte";
import type { Tool } from "./tools";
import { ALL_KEYS } from "./tools";
import { Trail } from "./trail.svelte";

beforeEach(freshBrowser);
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const put = (kind: "room" | "box" | "outlet" | "opening" | "body" | "run", entity: { id: string }): Change => ({
  do: "put",
  kind,
  entity: entity as never,
});
const square: Change[] = [
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
function sheetOf(changes: Change[] = square, tool: Tool = "select", more: Partial<Laid> = {}) {
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
      typing: (first) => heard.push(["typing", first]),
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

type Made = ReturnType<typeof sheetOf>;

/** A hand over that sheet, its places in metres. */
function handOn({ sheet }: Made, more: Partial<PointerEvent> = {}) {
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

const close = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-9;

describe("walls", () => {
  it("are drawn press by press, on from each end, until a corner", () => {
    const made = sheetOf([], "wall");
    const hand = handOn(made);
    hand.click([1, 1]);
    expect(made.sheet.from).toEqual([1, 1]);
    expect(made.edits).toEqual([]);
    hand.click([3, 1]);
    expect(made.edits.map((one) => one.label)).toEqual(["Draw a wall"]);
    expect(made.walls()[0]).toMatchObject({ start: [1, 1], end: [3, 1], construction: "unknown", storey: "1" });
    expect(made.sheet.from).toEqual([3, 1]);
    made.sheet.construction = "stone";
    hand.click([3, 4]);
    expect(made.walls()[1]!.construction).toBe("stone");
    hand.click([1.02, 1.02]); // by the first corner
    expect(made.walls().length).toBe(3);
    expect(made.sheet.from).toBeNull();
  });
  it("are drawn by dragging from one end to the other", () => {
    const made = sheetOf([], "wall");
    handOn(made).drag([1, 1], [1, 3]);
    expect(made.walls()[0]).toMatchObject({ start: [1, 1], end: [1, 3] });
  });
  it("have the length that is typed, along the present direction", () => {
    const made = sheetOf([], "wall");
    const hand = handOn(made);
    made.sheet.typedLength(2);
    expect(made.walls()).toEqual([]);
    hand.click([1, 1]);
    hand.move([1, 2.5]);
    press(made, "3");
    expect(made.heard).toEqual([["typing", "3"]]);
    hand.move([3, 1]); // the direction stays while it is typed
    made.sheet.typedLength(3.81);
    expect(made.walls()[0]!.end).toEqual([1, 4.81]);
    expect(made.sheet.frozen).toBe(false);
    hand.click([5, 5]);
    made.sheet.cursor = { point: [5, 5], to: "step", guides: [] };
    made.sheet.from = [5, 5];
    made.sheet.typedLength(1);
    expect(made.walls().at(-1)!.end).toEqual([6, 5]); // to the right where there is no direction
  });
});

function press({ sheet }: Made, key: string, more: object = {}): boolean {
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

describe("a pointer", () => {
  it("picks what it presses, and nothing on bare paper", () => {
    const made = sheetOf();
    const hand = handOn(made);
    hand.click([2.05, 1.5]);
    expect(made.sheet.picked).toMatchObject({ kind: "box", id: "BX" });
    expect(made.captured).toEqual([1]);
    hand.click([7, 7]);
    expect(made.sheet.picked).toBeNull();
    hand.down([2, 1.5], { button: 2 });
    hand.up([2, 1.5]);
    expect(made.sheet.picked).toBeNull();
    hand.down([2, 1.5], { button: 1 });
    hand.up([2, 1.5]);
    expect(made.sheet.picked).toBeNull();
  });
  it("reaches farther as a finger than as a mouse", () => {
    const made = sheetOf();
    handOn(made).click([2.15, 1.5]);
    expect(made.sheet.picked).toMatchObject({ kind: "room" });
    handOn(made, { pointerType: "touch" }).click([2.15, 1.5]);
    expect(made.sheet.picked).toMatchObject({ kind: "box" });
  });
  it("drags a thing, shows it meanwhile, and saves it once", () => {
    const made = sheetOf();
    const hand = handOn(made);
    made.sheet.wish = { quantity: "down_mbps", band: null, boxes: "today" };
    made.sheet.crosshair = [1, 1];
    hand.down([2, 1.5]);
    expect(made.sheet.crosshair).toBeNull();
    hand.move([2.03, 1.5]); // a trembling hand
    expect(made.sheet.dragging).toBe(false);
    hand.move([3, 1]);
    expect(made.sheet.dragging).toBe(true);
    expect(made.sheet.on!.boxes[0]!.position).toEqual([3, 1]);
    expect(made.edits).toEqual([]);
    expect(made.asked.length).toBe(1);
    expect(made.asked[0]).toMatchObject({ at_ms: 77, ask: { storey: "1", boxes: "today", quantity: "down_mbps" } });
    expect((made.asked[0]!.ask.changes as Change[])[0]).toMatchObject({ id: "BX", fields: { position: [3, 1] } });
    hand.up([3, 1]);
    expect(made.sheet.dragging).toBe(false);
    expect(made.sheet.draft).toEqual([]);
    expect(made.edits.length).toBe(1);
    expect(made.edits[0]!.label).toBe("Move box BX");
    expect(made.job().boxes[0]!.position).toEqual([3, 1]);
  });
  it("asks for maps between frames where the browser tells, and then not with each frame", () => {
    vi.stubGlobal("onpointerrawupdate", null);
    const made = sheetOf();
    const hand = handOn(made);
    hand.pointers.raw(hand.event([3, 1])); // nothing is dragged
    hand.down([2, 1.5]);
    hand.move([3, 1]);
    hand.pointers.raw(hand.event([3, 1.2]));
    expect(made.asked).toEqual([]); // no map is wanted
    made.sheet.wish = { quantity: "down_mbps", band: null, boxes: "today" };
    hand.move([3, 1]);
    expect(made.asked).toEqual([]);
    hand.pointers.raw(hand.event([3, 1.2]));
    expect((made.asked[0]!.ask.changes as Change[])[0]).toMatchObject({ fields: { position: [3, 1.2] } });
    hand.down([5, 5], { pointerId: 2 });
    hand.pointers.raw(hand.event([3, 1.4]));
    expect(made.asked.length).toBe(1);
  });
  it("moves the paper where there is nothing to drag, a room neither", () => {
    const made = sheetOf();
    const hand = handOn(made);
    hand.drag([1, 1], [1.5, 2]);
    expect([made.sheet.view.left_m, made.sheet.view.top_m].map((one) => one.toFixed(3))).toEqual(["-0.500", "7.000"]);
    expect(made.edits).toEqual([]);
    expect(made.sheet.picked).toBeNull();
  });
  it("moves the paper by its middle button with any tool", () => {
    const made = sheetOf(square, "wall");
    const hand = handOn(made, { button: 1, buttons: 4 });
    hand.down([1, 1]);
    hand.move([2, 1]);
    hand.move([3, 1]);
    expect(made.sheet.view.left_m).toBeCloseTo(-2); // what it moved by goes on from where it was
  });
  it("shows where a wall would snap, and nothing once it left", () => {
    const made = sheetOf(square, "wall");
    const hand = handOn(made);
    hand.move([4.03, 2.97]);
    expect(made.sheet.cursor).toMatchObject({ point: [4, 3], to: "corner" });
    hand.pointers.leave();
    expect(made.sheet.cursor).toBeNull();
    made.sheet.from = [1, 1];
    hand.move([4.03, 2.97]);
    hand.pointers.leave();
    expect(made.sheet.cursor).not.toBeNull(); // a wall is under way
    made.sheet.tool = "door";
    hand.move([4.03, 2.97]);
    expect(made.sheet.cursor).toBeNull();
  });
  it("a second finger ends the drag, and both move and stretch the paper", () => {
    const made = sheetOf();
    const hand = handOn(made, { pointerType: "touch" });
    hand.down([2, 1.5]);
    hand.move([3, 1]);
    expect(made.sheet.dragging).toBe(true);
    hand.down([5, 1], { pointerId: 2 });
    expect(made.sheet.dragging).toBe(false);
    expect(made.sheet.draft).toEqual([]);
    const before = made.sheet.view.scale;
    hand.move([7, 1], { pointerId: 2 });
    expect(made.sheet.view.scale).toBeCloseTo(before * 2);
    hand.up([7, 1], { pointerId: 2 });
    hand.up([3, 1]);
    expect(made.edits).toEqual([]);
  });
  it("that the browser takes away leaves all as it was", () => {
    const made = sheetOf();
    const hand = handOn(made);
    hand.down([2, 1.5]);
    hand.move([3, 1]);
    hand.pointers.cancel();
    expect(made.sheet.dragging).toBe(false);
    expect(made.sheet.draft).toEqual([]);
    hand.up([3, 1]);
    expect(made.edits).toEqual([]);
  });
  it("turns its wheel to come nearer, about where it is", () => {
    const made = sheetOf();
    const hand = handOn(made);
    const kept = vi.fn();
    const place = made.sheet.view.point(200, 300);
    hand.pointers.wheel({ ...hand.event([2, 5]), deltaY: -200, preventDefault: kept } as never);
    expect(kept).toHaveBeenCalled();
    expect(made.sheet.view.scale).toBeCloseTo(100 * Math.exp(0.3));
    expect(close(made.sheet.view.point(200, 300), place)).toBe(true);
  });
  it("tries an access point of the plan elsewhere; nothing is saved", () => {
    const planned = [
      { id: "AP1", name: "One", storey: "1", position: [1, 1] as Point },
      { id: "AP2", name: "Two", storey: "2", position: [1, 1] as Point },
    ];
    const made = sheetOf(square, "probe", { planned });
    made.sheet.wish = { quantity: "down_mbps", band: null, boxes: "plan" };
    const hand = handOn(made);
    expect(made.sheet.planned.map((one) => one.id)).toEqual(["AP1"]);
    hand.down([1, 1]);
    hand.move([2.0004, 2]);
    expect(made.sheet.planned[0]!.position).toEqual([2, 2]);
    expect(made.asked.at(-1)!.ask.moves).toEqual([{ id: "AP1", position: [2, 2] }]);
    hand.pointers.raw(hand.event([2, 2.5]));
    expect(made.asked.at(-1)!.ask).toMatchObject({ moves: [{ id: "AP1", position: [2, 2.5] }], changes: [] });
    hand.up([2, 2]);
    expect(made.heard).toEqual([["tried", { id: "AP1", position: [2, 2] }]]);
    expect(made.edits).toEqual([]);
    hand.drag([2, 2], [3, 2]);
    expect(made.sheet.moves).toEqual([{ id: "AP1", position: [3, 2] }]);
    made.sheet.putBack();
    expect(made.sheet.planned[0]!.position).toEqual([1, 1]);
    expect(made.asked.at(-1)!.ask.moves).toEqual([]);
  });
  it("moves the picture under the sheet", () => {
    const made = sheetOf(square, "picture");
    const hand = handOn(made);
    hand.drag([1, 1], [2, 3]);
    expect(made.heard).toEqual([
      ["shifted", [1, 2], false],
      ["shifted", [1, 2], true],
    ]);
  });
});

describe("tools", () => {
  it("a spot is asked for with what is tried, not after a drag of the paper", () => {
    const made = sheetOf(square, "probe");
    const hand = handOn(made);
    made.sheet.moves = [{ id: "AP1", position: [2, 2] }];
    hand.click([1, 2]);
    expect(made.heard).toEqual([["spot", [1, 2], [{ id: "AP1", position: [2, 2] }]]]);
    expect(made.sheet.spot).toEqual([1, 2]);
    hand.drag([1, 1], [3, 3]);
    expect(made.heard.length).toBe(1);
  });
  it("a scale takes two presses", () => {
    const made = sheetOf(square, "scale");
    const hand = handOn(made);
    hand.click([0.02, 0.02]);
    expect(made.told).toEqual(["Now press the other end of the known length."]);
    hand.click([4, 0.03]);
    expect(made.heard).toEqual([["measured", [0, 0], [4, 0]]]);
    expect(made.sheet.from).toBeNull();
    expect(made.sheet.tool).toBe("scale");
  });
  it("aligning takes two presses and is laid down", () => {
    const made = sheetOf(square, "align");
    const hand = handOn(made);
    hand.click([1, 1]);
    expect(made.told).toEqual(["Now press the same corner or stair of the storey below."]);
    hand.click([2, 3]);
    expect(made.edits[0]!.label).toBe("Align a storey");
    expect(made.walls()[0]!.start).toEqual([1, 2]);
    expect(made.sheet.tool).toBe("select");
  });
  it("what is put is picked, or why it cannot be is told", () => {
    const made = sheetOf(square, "door");
    const hand = handOn(made);
    hand.click([2, 2]);
    expect(made.told).toEqual(["Press on a wall."]);
    hand.click([2, 0.05]);
    expect(made.edits[0]!.label).toBe("Add a door");
    expect(made.sheet.picked).toMatchObject({ kind: "opening" });
    expect(made.sheet.tool).toBe("door");
    made.sheet.tool = "body";
    hand.click([1, 1]);
    expect(made.sheet.picked).toMatchObject({ kind: "body" });
    expect(made.sheet.tool).toBe("select"); // one at a time
  });
  it("a route needs its cable, goes on press by press, and ends where it was pressed last", () => {
    const trail = new Trail();
    const made = sheetOf(square, "route", { trail });
    const hand = handOn(made);
    hand.click([1, 1]);
    expect(made.told).toEqual(["Choose the cable first, beside the sheet."]);
    trail.run = "C1";
    hand.click([1, 1]);
    hand.click([3, 1]);
    expect(trail.presses.map((one) => one.at)).toEqual([
      [1, 1],
      [3, 1],
    ]);
    expect(made.heard).toEqual([]);
    hand.click([3, 1]);
    expect(made.heard).toEqual([["routed"]]);
    press(made, "Backspace");
    expect(trail.presses.length).toBe(1);
    press(made, "Enter");
    expect(made.heard.length).toBe(2);
    made.sheet.crosshair = [2, 2];
    press(made, "Enter");
    expect(trail.presses.length).toBe(2);
    const none = sheetOf(square, "route");
    handOn(none).click([1, 1]);
    expect(none.told).toEqual([]);
  });
  it("another tool leaves what was begun, the same one does not", () => {
    const made = sheetOf([], "wall");
    handOn(made).click([1, 1]);
    made.sheet.tool = "wall";
    expect(made.sheet.from).toEqual([1, 1]);
    expect(made.sheet.cursor).not.toBeNull();
    made.sheet.tool = "door";
    expect(made.sheet.from).toBeNull();
    expect(made.sheet.cursor).toBeNull();
  });
  it("no sheet, no press", () => {
    const made = sheetOf([], "wall", { storey: "9" });
    made.sheet.press({ point: [1, 1], to: "step", guides: [] });
    expect(made.sheet.from).toBeNull();
    made.sheet.fit();
    expect(made.sheet.view.left_m).toBeLessThan(0);
  });
  it("a router that the plan moves stands where the plan puts it", () => {
    const moved = { box: "BX", storey: "1", position: [3, 2] as Point };
    expect(sheetOf(square, "select", { moved }).sheet.on!.boxes[0]!.position).toEqual([3, 2]);
  });
});

describe("keys", () => {
  it("arrows move a mark over the sheet, finely with Shift, and tell where it is", () => {
    const made = sheetOf(square, "wall");
    made.sheet.crosshair = [1, 1];
    expect(press(made, "ArrowRight")).toBe(true);
    expect(made.sheet.crosshair).toEqual([1.2, 1]);
    press(made, "ArrowUp", { shiftKey: true });
    expect(made.sheet.crosshair).toEqual([1.2, 1.05]);
    press(made, "ArrowLeft");
    press(made, "ArrowDown");
    expect(made.sheet.crosshair).toEqual([1, 0.85]);
    expect(made.told.at(-1)).toBe("1.00 m right, 0.85 m up");
    expect(made.sheet.cursor).not.toBeNull();
  });
  it("arrows start from the middle, in inches where lengths are in feet", () => {
    const made = sheetOf([...square, { do: "set", kind: "job", fields: { units: "imperial" } }], "wall");
    press(made, "ArrowRight");
    expect(made.sheet.crosshair![0]).toBeCloseTo(4 + 6 * 0.0254, 3);
    press(made, "ArrowRight", { shiftKey: true });
    expect(made.sheet.crosshair![0]).toBeCloseTo(4 + 7 * 0.0254, 2);
  });
  it("arrows move the chosen thing", () => {
    const made = sheetOf();
    made.sheet.picked = { kind: "box", id: "BX" };
    press(made, "ArrowLeft");
    expect(made.job().boxes[0]!.position).toEqual([1.8, 1.5]);
    expect(made.sheet.crosshair).toBeNull();
    made.sheet.tool = "wall";
    press(made, "ArrowLeft");
    expect(made.edits.length).toBe(1); // with another tool in hand it is the mark that moves
    expect(made.sheet.crosshair).not.toBeNull();
  });
  it("Enter and Space press where the mark is, or in the middle", () => {
    const made = sheetOf([], "wall");
    made.sheet.crosshair = [1, 1];
    expect(press(made, "Enter")).toBe(true);
    expect(made.sheet.from).toEqual([1, 1]);
    made.sheet.crosshair = null;
    expect(press(made, " ")).toBe(true);
    expect(made.sheet.crosshair).toEqual([4, 5]);
    expect(made.walls().length).toBe(1);
  });
  it("letters take up tools, of those the sheet has", () => {
    const made = sheetOf();
    expect(press(made, "W")).toBe(false);
    expect(made.sheet.tool).toBe("wall");
    made.sheet.from = [1, 1];
    press(made, "w");
    expect(made.sheet.from).toBeNull();
    press(made, "x");
    expect(made.sheet.tool).toBe("wall");
    const few = sheetOf(square, "probe", { keys: "pv" });
    press(few, "w");
    expect(few.sheet.tool).toBe("probe");
    press(few, "v", { ctrlKey: true });
    press(few, "v", { metaKey: true });
    press(few, "v", { altKey: true });
    expect(few.sheet.tool).toBe("probe");
    press(few, "v");
    expect(few.sheet.tool).toBe("select");
  });
  it("digits are typed only while a wall is under way", () => {
    const made = sheetOf([], "wall");
    expect(press(made, "3")).toBe(false);
    made.sheet.from = [1, 1];
    expect(press(made, "3")).toBe(false);
    made.sheet.cursor = { point: [2, 1], to: "step", guides: [] };
    expect(press(made, "3")).toBe(true);
    expect(made.sheet.frozen).toBe(true);
    expect(press(made, "Escape")).toBe(false);
    expect(made.sheet.frozen).toBe(false);
  });
  it("Escape lays down one thing at a time", () => {
    const made = sheetOf(square, "wall");
    made.sheet.picked = { kind: "box", id: "BX" };
    made.sheet.from = [1, 1];
    made.sheet.crosshair = [2, 2];
    press(made, "Escape");
    expect([made.sheet.from, made.sheet.tool]).toEqual([null, "wall"]);
    press(made, "Escape");
    expect([made.sheet.tool, made.sheet.picked?.id]).toEqual(["select", "BX"]);
    press(made, "Escape");
    expect([made.sheet.picked, made.sheet.crosshair]).toEqual([null, null]);
    made.sheet.cursor = { point: [2, 1], to: "step", guides: [] };
    press(made, "Escape");
    expect(made.sheet.cursor).toBeNull();
  });
  it.each(["Delete", "Backspace"])("%s deletes what is chosen", (key) => {
    const made = sheetOf();
    press(made, key);
    expect(made.edits).toEqual([]);
    made.sheet.picked = { kind: "box", id: "BX" };
    press(made, key);
    expect(made.edits[0]).toMatchObject({ label: "Delete box BX", changes: [{ do: "drop", kind: "box", id: "BX" }] });
    expect(made.sheet.picked).toBeNull();
  });
  it("of a cable only the route goes", () => {
    const made = sheetOf();
    made.sheet.picked = { kind: "run", id: "C1" };
    press(made, "Delete");
    expect(made.edits[0]!.changes).toEqual([{ do: "set", kind: "run", id: "C1", fields: { route: [] } }]);
    expect(made.sheet.picked).not.toBeNull();
  });
  it("+ and - come nearer and go farther, 0 shows all of it", () => {
    const made = sheetOf();
    press(made, "+");
    press(made, "=");
    expect(made.sheet.view.scale).toBeCloseTo(156.25);
    press(made, "-");
    expect(made.sheet.view.scale).toBeCloseTo(125);
    press(made, "0");
    const { view } = made.sheet;
    expect(close(view.middle, [2, 1.5])).toBe(true);
    expect(view.scale).toBeCloseTo(Math.min((800 - 128) / 4, (600 - 128) / 3), 6);
  });
  it("focus goes to the paper", () => {
    const made = sheetOf();
    made.sheet.focus();
    expect(made.heard).toEqual([["focus"]]);
  });
});

describe("the outline of a chosen room", () => {
  const corner = (made: Made) => made.sheet.picked?.vertex;
  const outline = (made: Made) => made.job().house.rooms[0]!.polygon;

  it("is walked along by Page Down and Page Up", () => {
    const made = sheetOf();
    expect(press(made, "PageDown")).toBe(false);
    made.sheet.picked = { kind: "room", id: "R" };
    expect(press(made, "PageDown")).toBe(true);
    expect(corner(made)).toBe(0);
    press(made, "PageUp");
    expect(corner(made)).toBe(3);
    press(made, "PageDown");
    expect(corner(made)).toBe(0);
    press(made, "PageDown");
    expect(corner(made)).toBe(1);
    press(made, "Escape");
    expect([made.sheet.picked?.id, corner(made)]).toEqual(["R", undefined]);
    press(made, "PageUp");
    expect(corner(made)).toBe(3);
  });
  it("takes a corner more by Insert, one less by Delete, and not less than three", () => {
    const made = sheetOf();
    made.sheet.picked = { kind: "room", id: "R", vertex: 0 };
    press(made, "Insert");
    expect(outline(made).length).toBe(5);
    expect(corner(made)).toBe(1);
    expect(outline(made)[1]).toEqual([2, 0]);
    expect(made.edits[0]!.label).toBe("Outline of Room");
    press(made, "Delete");
    expect(outline(made).length).toBe(4);
    made.sheet.picked = { kind: "room", id: "R", vertex: 0 };
    press(made, "Backspace");
    expect(outline(made).length).toBe(3);
    made.sheet.picked = { kind: "room", id: "R", vertex: 0 };
    press(made, "Delete");
    expect(outline(made).length).toBe(3);
    expect(made.told.length).toBe(1);
  });
  it("moves by its corner with the arrows, not as a whole", () => {
    const made = sheetOf();
    made.sheet.picked = { kind: "room", id: "R" };
    press(made, "ArrowRight");
    expect(made.edits).toEqual([]);
    made.sheet.picked = { kind: "room", id: "R", vertex: 2 };
    press(made, "ArrowRight");
    expect(outline(made)[2]).toEqual([4.2, 3]);
    expect(made.edits[0]!.label).toBe("Move room R");
  });
  it("says why a corner cannot go there", () => {
    const made = sheetOf();
    made.sheet.picked = { kind: "room", id: "R", vertex: 0 };
    for (let i = 0; i < 40; i++) press(made, "ArrowUp");
    expect(made.told.at(-1)).toBe("The outline would cross or touch itself there.");
  });
  it("is dragged by a corner and by the middle of an edge", () => {
    const made = sheetOf();
    const hand = handOn(made);
    made.sheet.picked = { kind: "room", id: "R" };
    hand.drag([4, 3], [5, 3.5]);
    expect(outline(made)[2]).toEqual([5, 3.5]);
    expect(corner(made)).toBe(2);
    const edge: Point = [2, 0];
    hand.drag(edge, [2, -1]);
    expect(outline(made).length).toBe(5);
    expect(outline(made)[1]).toEqual([2, -1]);
    expect(corner(made)).toBe(1);
    made.sheet.picked = { kind: "room", id: "R" };
    hand.click([(outline(made)[2]![0] + outline(made)[3]![0]) / 2, (outline(made)[2]![1] + outline(made)[3]![1]) / 2]);
    expect(outline(made).length).toBe(6);
    expect(corner(made)).toBe(3);
  });
});

it("a wall of another storey is no concern of this sheet", () => {
  const made = sheetOf([wall("W1"), { do: "put", kind: "storey", entity: { id: "2", name: "Up", elevation_m: 3 } }]);
  expect(made.sheet.on!.walls.length).toBe(1);
});
