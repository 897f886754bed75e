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
