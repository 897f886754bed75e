import { describe, expect, it, vi } from "vitest";

import { close, drawnAnew, handOn, sheetOf, square, press } from "../../tests/sheet";
import type { Change } from "../job/types";
import type { Point } from "../maths/geometry";

drawnAnew();

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
    expect(made.sheet.typing).toEqual({ what: "length", first: "3" });
    hand.move([3, 1]); // the direction stays while it is typed
    made.sheet.typedLength(3.81);
    expect(made.walls()[0]!.end).toEqual([1, 4.81]);
    expect(made.sheet.typing).toBeNull();
    press(made, "2");
    expect(made.told).toEqual(["Point which way the wall goes first."]);
    made.sheet.typedLength(2);
    expect(made.walls().length).toBe(1);
    expect(made.sheet.from).toEqual([1, 4.81]);
  });
  it("end at a corner that a typed length comes to, exactly or nearly", () => {
    for (const [last, told] of [
      [3, []],
      [2.97, ["Closed on the corner there; 30 mm were left over."]],
    ] as const) {
      const made = sheetOf([], "wall");
      const hand = handOn(made);
      hand.click([1, 1]);
      for (const [way, length] of [
        [[3, 1], 4],
        [[5, 3], 3],
        [[2, 4], 4],
        [[1, 2], last],
      ] as const) {
        hand.move([...way]);
        made.sheet.typedLength(length);
      }
      expect(made.walls().map((one) => [one.start, one.end])).toEqual([
        [[1, 1], [5, 1]], [[5, 1], [5, 4]], [[5, 4], [1, 4]], [[1, 4], [1, 1]],
      ]); // prettier-ignore
      expect(made.sheet.from).toBeNull();
      expect(made.told).toEqual(told);
      hand.move([3, 2]);
      made.sheet.typedLength(2); // nothing is in hand
      expect(made.walls().length).toBe(4);
      press(made, "Escape");
      expect(made.sheet.tool).toBe("wall");
      press(made, "Escape");
      expect(made.sheet.tool).toBe("select");
    }
  });
  it("are not drawn twice in one place", () => {
    const made = sheetOf(square, "wall");
    const hand = handOn(made);
    hand.click([1, 0]);
    hand.click([3, 0]);
    expect(made.edits).toEqual([]);
    expect(made.told).toEqual(["A wall stands there already."]);
    expect(made.sheet.from).toEqual([3, 0]);
    hand.click([6, 0]);
    expect(made.walls().filter((one) => one.start[1] === 0 && one.end[1] === 0).length).toBe(2);
    expect(made.walls().at(-1)).toMatchObject({ start: [4, 0], end: [6, 0] });
  });
  it("follow the keyboard alone: an arrow says which way, digits how long", () => {
    const made = sheetOf([], "wall");
    made.sheet.crosshair = [1, 1];
    press(made, "Enter");
    for (const [arrow, length] of [
      ["ArrowRight", 4],
      ["ArrowUp", 3],
      ["ArrowLeft", 4],
      ["ArrowDown", 3],
    ] as const) {
      press(made, arrow);
      press(made, String(length));
      expect(made.sheet.typing?.what).toBe("length");
      made.sheet.typedLength(length);
    }
    expect(made.walls().map((one) => one.end)).toEqual([[5, 1], [5, 4], [1, 4], [1, 1]]); // prettier-ignore
    expect([made.sheet.from, made.sheet.crosshair]).toEqual([null, [1, 1]]);
  });
  it("go on by keys from where the pointer left them", () => {
    const made = sheetOf([], "wall");
    const hand = handOn(made);
    hand.click([1, 1]);
    press(made, "ArrowUp");
    expect(made.sheet.crosshair).toEqual([1, 1.2]);
  });
  it("start so far from the nearest corner as was typed, before or after the press", () => {
    const made = sheetOf(square, "wall");
    const hand = handOn(made);
    hand.move([3.3, 0.02]);
    press(made, "1");
    expect(made.sheet.typing).toEqual({ what: "start", first: "1" });
    made.sheet.typedStart(1.25);
    expect(made.sheet.from).toEqual([2.75, 0]); // from the right
    made.sheet.leave();
    hand.click([1, 0]);
    expect(made.sheet.start).toMatchObject({ corner: [0, 0], measured_m: 1 });
    press(made, "1");
    expect(made.sheet.typing?.what).toBe("start");
    made.sheet.typedStart(1.33);
    expect(made.sheet.from).toEqual([1.33, 0]);
    hand.move([1.33, 2]);
    expect(made.sheet.typable).toBe("length");
    made.sheet.typedStart(9);
    expect(made.told).toEqual(["The wall is shorter than that."]);
    made.sheet.typedLength(3);
    expect(made.walls().at(-1)).toMatchObject({ start: [1.33, 0], end: [1.33, 3] });
    expect(made.sheet.start).toBeNull();
  });
  it("snap to those of the storey below where these are shown, and do not end at them", () => {
    const up: Change = { do: "put", kind: "storey", entity: { id: "2", name: "Up", elevation_m: 3 } };
    const made = sheetOf([...square, up], "wall", { storey: "2", below: "1" });
    const hand = handOn(made);
    hand.click([0.03, 0.03]);
    hand.click([4.04, 0.02]);
    expect(made.walls().at(-1)).toMatchObject({ storey: "2", start: [0, 0], end: [4, 0] });
    expect(made.sheet.from).toEqual([4, 0]);
    Object.assign(made.sheet.laid, { below: null });
    expect(made.sheet.faint).toEqual([]);
  });
  it("are measured between inside faces where somebody measures so", () => {
    const made = sheetOf([], "wall");
    const hand = handOn(made);
    made.sheet.choices.measure = "inside"; // a wall of no known make is 10 cm thick
    hand.click([1, 1]);
    for (const [way, length] of [
      [[3, 1], 4],
      [[5.1, 3], 3],
      [[2, 4.1], 4],
      [[1, 2], 3],
    ] as const) {
      hand.move([...way]);
      made.sheet.typedLength(length);
    }
    expect(made.walls().map((one) => one.end)).toEqual([[5.1, 1], [5.1, 4.1], [1, 4.1], [1, 1]]); // prettier-ignore
    expect(made.told).toEqual([]);
    made.sheet.tool = "select";
    made.sheet.tool = "wall";
    hand.click([1, 2]);
    hand.move([3, 2]);
    expect(made.sheet.drawn_m).toBeCloseTo(1.9);
  });
});

describe("a typed length", () => {
  it("goes to the chosen wall, but 0 shows all of it", () => {
    const made = sheetOf();
    expect(press(made, "4")).toBe(false);
    made.sheet.picked = { kind: "wall", id: "A" };
    press(made, "0");
    expect(made.sheet.typing).toBeNull();
    expect(press(made, "4")).toBe(true);
    expect(made.sheet.typing).toEqual({ what: "chosen", first: "4" });
    press(made, "Escape");
    expect([made.sheet.typing, made.sheet.picked?.id]).toEqual([null, "A"]);
    made.sheet.picked = { kind: "box", id: "BX" };
    expect(press(made, "4")).toBe(false);
  });
});

describe("several things", () => {
  it("are chosen by pressing with Shift, and left out so again", () => {
    const made = sheetOf();
    const hand = handOn(made, { shiftKey: true });
    hand.click([2, 1.5]);
    expect([made.sheet.picked?.id, made.sheet.group]).toEqual(["BX", []]);
    hand.click([2, 0]);
    expect([made.sheet.picked, made.sheet.group.map((one) => one.id)]).toEqual([null, ["BX", "A"]]);
    hand.click([2, 1.5]);
    expect([made.sheet.picked?.id, made.sheet.group]).toEqual(["A", []]);
    hand.click([7, 7]);
    expect(made.sheet.picked?.id).toBe("A");
  });
  it("are framed with Shift over empty paper, moved by a drag or by keys, and deleted at once", () => {
    const made = sheetOf();
    const hand = handOn(made, { shiftKey: true });
    hand.down([1, 1]);
    hand.move([3, 2]);
    expect(made.sheet.frame).toEqual([[1, 1], [3, 2]]); // prettier-ignore
    hand.up([3, 2]);
    expect([made.sheet.frame, made.sheet.picked?.id]).toEqual([null, "BX"]);
    hand.drag([-0.5, -0.5], [4.5, 0.5]);
    expect(made.sheet.group.map((one) => one.id)).toEqual(["BX", "A"]);
    handOn(made).drag([2, 0], [2, -1]);
    expect(made.edits.map((one) => one.label)).toEqual(["Move 2 things"]);
    expect(made.walls()[0]).toMatchObject({ start: [0, -1], end: [4, -1] });
    expect(made.job().boxes[0]!.position).toEqual([2, 0.5]);
    expect(made.sheet.group.length).toBe(2);
    press(made, "ArrowUp");
    expect(made.walls()[0]).toMatchObject({ start: [0, -0.8], end: [4, -0.8] });
    made.sheet.chosen.make("stone");
    expect(made.walls()[0]!.construction).toBe("stone");
    press(made, "Delete");
    expect([made.walls().length, made.job().boxes.length, made.sheet.group]).toEqual([3, 0, []]);
    expect(made.edits.length).toBe(4);
  });
  it("are none after Escape, after another choice, and after a frame around nothing", () => {
    const made = sheetOf();
    made.sheet.chosen.set([
      { kind: "wall", id: "A" },
      { kind: "wall", id: "B" },
    ]);
    expect(made.sheet.chosen.has({ kind: "wall", id: "B" })).toBe(true);
    press(made, "Escape");
    expect(made.sheet.chosen.all).toEqual([]);
    made.sheet.chosen.set([
      { kind: "wall", id: "A" },
      { kind: "wall", id: "B" },
    ]);
    handOn(made).click([2, 1.5]);
    expect([made.sheet.group, made.sheet.picked?.id]).toEqual([[], "BX"]);
    handOn(made, { shiftKey: true }).drag([6, 6], [7, 7]);
    expect(made.sheet.picked?.id).toBe("BX");
  });
});

describe("the focus", () => {
  it("comes to a sheet that was not there yet when it was asked for", () => {
    const made = sheetOf();
    const { paper } = made.sheet;
    made.sheet.paper = null;
    made.sheet.focus();
    expect(made.heard).toEqual([]);
    made.sheet.paper = paper;
    expect(made.heard).toEqual([["focus"]]);
    made.sheet.paper = null;
    made.sheet.paper = paper;
    expect(made.heard.length).toBe(1);
  });
});

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
  it("trembles more as a finger than as a mouse before it drags", () => {
    const dragged = (more: object, px: number) => {
      const made = sheetOf();
      const hand = handOn(made, more);
      hand.down([2, 1.5]);
      hand.move([2, 1.5 + px / 100]);
      return made.sheet.dragging;
    };
    expect([3, 5].map((px) => dragged({}, px))).toEqual([false, true]);
    expect([5, 8, 10].map((px) => dragged({ pointerType: "touch" }, px))).toEqual([false, false, true]);
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
