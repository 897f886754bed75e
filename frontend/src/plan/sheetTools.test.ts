import { describe, expect, it } from "vitest";
import { wall } from "../../tests/live";
import { close, drawnAnew, handOn, sheetOf, square, type Made, press } from "../../tests/sheet";
import type { Point } from "../maths/geometry";
import { ALL_KEYS, TOOLS } from "./tools";
import { Trail } from "./trail.svelte";

drawnAnew();

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
  it("a door is as the last one was made, and is turned by a key", () => {
    const made = sheetOf(square, "door");
    const hand = handOn(made);
    made.sheet.choices.rememberOpening({ kind: "door", width_m: 0.7, height_m: 1.9, sill_m: 0.1, construction: "oak" });
    hand.click([2, 0.05]);
    const door = () => made.job().house.openings[0]!;
    expect(door()).toMatchObject({ width_m: 0.7, height_m: 1.9, sill_m: 0.1, construction: "oak" });
    press(made, "h");
    expect(door()).toMatchObject({ hinge: "far", swing: "left" });
    press(made, "H");
    expect(door()).toMatchObject({ hinge: "far", swing: "right" });
    expect(made.edits.at(-1)!.label).toBe("Turn a door");
    made.sheet.tool = "window";
    hand.click([2, 3]);
    press(made, "h");
    expect(made.job().house.openings[1]).toMatchObject({ kind: "window", hinge: "unknown", width_m: 1.2 });
    expect(made.edits.length).toBe(4);
  });
  it("plates stay in hand, and are of the kind and height of the last one", () => {
    const made = sheetOf(square, "outlet");
    const hand = handOn(made);
    hand.click([2, 0.1]);
    expect([made.sheet.tool, made.job().house.outlets[0]!.kind]).toEqual(["outlet", "unknown"]);
    made.sheet.choices.rememberPlate({ kind: "coax", height_m: 1.1 });
    hand.click([3, 0.1]);
    expect(made.job().house.outlets[1]).toMatchObject({ kind: "coax", height_m: 1.1 });
  });
  it("a room is named where it was pressed, and no other thing", () => {
    const made = sheetOf([...square, { do: "drop", kind: "room", id: "R" }], "room");
    const hand = handOn(made);
    hand.click([1, 2]);
    expect(made.sheet.naming).toEqual({ room: made.sheet.picked!.id, at: [1, 2] });
    hand.click([1, 1]);
    expect(made.sheet.naming).toBeNull();
    made.sheet.tool = "door";
    hand.click([2, 0]);
    expect(made.sheet.naming).toBeNull();
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
  it("what stands is the same object until the house, boxes, readings, storey or a moved router are others", () => {
    const made = sheetOf();
    const seen = new Set([made.sheet.on]);
    const after = (kind: string, fields: Record<string, unknown>) => {
      made.sheet.session.submit("", [{ do: "set", kind, fields } as never]);
      seen.add(made.sheet.on);
      return seen.size;
    };
    expect(after("job", { title: "Mill" })).toBe(1);
    expect(after("job", { readings: [] })).toBe(2);
    expect(after("job", { boxes: [] })).toBe(3);
    expect(after("house", { built_year: 1901 })).toBe(4);
    Object.assign(made.sheet.laid, { moved: { box: "BX", storey: "1", position: [3, 2] } });
    expect(after("job", { title: "Mill House" })).toBe(5);
    Object.assign(made.sheet.laid, { storey: "9" });
    expect(after("job", { title: "Mill" })).toBe(6);
    expect(made.sheet.on).toBeNull();
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
  it("a letter is one tool's alone, and says what to press", () => {
    expect(new Set(ALL_KEYS).size).toBe(TOOLS.length);
    const taken = Object.fromEntries(
      [...ALL_KEYS].map((letter) => {
        const made = sheetOf(square, "route");
        press(made, letter);
        return [letter, made.sheet.tool];
      }),
    );
    expect(taken).toEqual({
      v: "select", w: "wall", r: "room", e: "outside", d: "door", n: "window", g: "gap", o: "outlet",
      m: "meeting", a: "box", b: "body", t: "reading", c: "route", p: "probe",
    }); // prettier-ignore
    expect(TOOLS.filter((row) => !/^[A-Z]/.test(row.name) || !/[.:]/.test(row.hint))).toEqual([]);
  });
  it("digits are typed only while a wall is under way", () => {
    const made = sheetOf([], "wall");
    expect(press(made, "3")).toBe(false);
    made.sheet.from = [1, 1];
    expect(press(made, "3")).toBe(false);
    made.sheet.cursor = { point: [2, 1], to: "step", guides: [] };
    expect(press(made, "3")).toBe(true);
    expect(made.sheet.typing?.first).toBe("3");
    expect(press(made, "Escape")).toBe(false);
    expect([made.sheet.typing, made.sheet.from]).toEqual([null, [1, 1]]);
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
    expect(view.scale).toBeCloseTo(Math.min((800 - 80) / 4, (600 - 80) / 3), 6);
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
