import { describe, expect, it } from "vitest";
import { Fingers } from "./fingers";
import { View } from "./view.svelte";

/** 100 pixels for a metre, 800 by 600 of them, the metre [0, 8] at the upper left. */
function viewOf(more: Partial<View> = {}): View {
  return Object.assign(new View(), { scale: 100, left_m: 0, top_m: 8, width_px: 800, height_px: 600 }, more);
}
const shown = (view: View) => [...view.point(0, view.height_px), ...view.point(view.width_px, 0)];

describe("a view", () => {
  it("has metres upwards and pixels downwards", () => {
    const view = viewOf();
    expect([view.x(2), view.y(5)]).toEqual([200, 300]);
    expect(view.point(200, 300)).toEqual([2, 5]);
    expect(view.middle).toEqual([4, 5]);
  });
  it("knows whether anything of a frame is on the screen", () => {
    const view = viewOf(); // 8 m wide, 6 m high, from [0, 2] to [8, 8]
    expect(view.shows([-5, -5, 0.1, 2.1])).toBe(true);
    expect(view.shows([-5, -5, 20, 20])).toBe(true);
    expect(view.shows([-5, 3, 0, 4])).toBe(false);
    expect(view.shows([8, 3, 9, 4])).toBe(false);
    expect(view.shows([3, -5, 4, 2])).toBe(false);
    expect(view.shows([3, 8, 4, 9])).toBe(false);
  });
  it("moves as the hand moves the paper", () => {
    const view = viewOf();
    view.pan(50, -100); // right and up
    expect(view.point(0, 0)).toEqual([-0.5, 7]);
  });
  it("shows all of it in the middle, 5 % of its width free on each side, 48 px at most", () => {
    const phone = viewOf({ width_px: 360, height_px: 400 });
    phone.fit([0, 0, 4, 3]);
    expect(phone.scale).toBeCloseTo((360 - 2 * 18) / 4); // 81 for a metre
    expect([phone.x(0), phone.x(4)]).toEqual([expect.closeTo(18), expect.closeTo(342)]);
    expect([phone.y(0), phone.y(3)]).toEqual([expect.closeTo(200 + 1.5 * 81), expect.closeTo(200 - 1.5 * 81)]);
    const wide = viewOf({ width_px: 2000, height_px: 696 });
    wide.fit([0, 0, 40, 30]);
    expect([wide.y(30), wide.y(0)]).toEqual([expect.closeTo(48), expect.closeTo(648)]);
  });
  it("shows all of it beside what lies over the sheet, and takes the middle from there", () => {
    const view = viewOf({ covered: { left: 100, right: 300, top: 60, bottom: 40, foot: 20 } });
    view.fit([0, 0, 4, 3]);
    const free = [100, 500, 60, 560];
    const margin = 0.05 * 400;
    expect([view.x(0), view.x(4)]).toEqual([expect.closeTo(free[0]! + margin), expect.closeTo(free[1]! - margin)]);
    expect((view.y(0) + view.y(3)) / 2).toBeCloseTo(310);
    expect(view.middle).toEqual([expect.closeTo(2), expect.closeTo(1.5)]);
    const narrow = viewOf({ covered: { left: 500, right: 500, top: 0, bottom: 0 } });
    narrow.fit([0, 0, 4, 3]); // nothing is left to be seen: no smaller than can be drawn, and never inside out
    expect(narrow.scale).toBe(6);
  });
  it("shows a cupboard no larger than 220 px for a metre, and 12 m by 9 of an empty sheet", () => {
    const view = viewOf();
    view.fit([1, 1, 1.5, 1.2]);
    expect(view.scale).toBe(220);
    expect(view.middle).toEqual([expect.closeTo(1.25), expect.closeTo(1.1)]);
    view.fit(null);
    expect(view.scale).toBeCloseTo((600 - 2 * 40) / 9);
    expect(view.middle).toEqual([expect.closeTo(6), expect.closeTo(4.5)]);
  });
  it("comes nearer about a place that stays, from 6 to 600 px for a metre", () => {
    const view = viewOf();
    view.zoom(2, 200, 300);
    expect([view.scale, ...view.point(200, 300)]).toEqual([200, 2, 5]);
    expect(shown(view)).toEqual([1, 3.5, 5, 6.5]);
    view.zoom(0.5);
    expect(view.middle).toEqual([3, 5]);
    view.zoom(1000);
    expect(view.scale).toBe(600);
    view.zoom(1e-6);
    expect(view.scale).toBe(6);
  });
});

describe("fingers", () => {
  it("two that part by half as much again make the paper half as large again, their middle going along", () => {
    const view = viewOf();
    const fingers = new Fingers();
    fingers.put(1, [200, 300]);
    expect(fingers.moved(1, [200, 300], view)).toBe(false); // one alone
    fingers.put(2, [400, 300]);
    expect(fingers.moved(2, [500, 300], view)).toBe(true);
    expect(view.scale).toBeCloseTo(150);
    expect(view.point(350, 300)).toEqual([expect.closeTo(3), expect.closeTo(5)]); // was under 300, 300
    expect(fingers.moved(3, [1, 1], view)).toBe(false); // never put down
    fingers.put(3, [10, 10]);
    expect(fingers.moved(3, [20, 20], view)).toBe(false); // three say nothing
    fingers.lift(3);
    fingers.lift(2);
    expect(fingers.count).toBe(1);
  });
  it("two that lie together move the paper and do not stretch it", () => {
    const view = viewOf();
    const fingers = new Fingers();
    fingers.put(1, [200, 300]);
    fingers.put(2, [204, 300]);
    fingers.moved(2, [224, 300], view);
    expect(view.scale).toBe(100);
    expect(view.left_m).toBeCloseTo(-0.1); // half of what one of them went
    fingers.liftAll();
    expect(fingers.count).toBe(0);
  });
});
