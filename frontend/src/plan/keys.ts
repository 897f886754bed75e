/** Keys on a sheet: arrows move a mark or the chosen thing, letters take up tools, digits type a wall's length. */

import { add, neat, scaled, type Point } from "../maths/geometry";
import { formatLength } from "../maths/lengths";
import type { Sheet } from "./sheet.svelte";
import { stepOf } from "./snap";
import { TOOLS } from "./tools";
import { say } from "../words/say";

const NUDGES: Record<string, Point> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const REACH_M = 0.02; // of the keyboard's mark: it says where it is

type Key = Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey" | "altKey" | "shiftKey" | "preventDefault">;

export function keyOn(sheet: Sheet, event: Key): void {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  if (taken(sheet, event)) event.preventDefault();
  else other(sheet, event.key);
}

/** Keys that would else scroll, press or type; true where it was one. */
function taken(sheet: Sheet, { key, shiftKey }: Key): boolean {
  if (sheet.tool === "select" && sheet.chosen.cornerKey(key)) return true;
  const way = NUDGES[key];
  if (way) arrow(sheet, way, shiftKey);
  else if (/^[0-9.]$/.test(key) && digit(sheet, key)) return true;
  else if (key === "Enter" || key === " ") enter(sheet, key);
  else return false;
  return true;
}

/** The first digit of a length; false where none can be typed now. */
function digit(sheet: Sheet, key: string): boolean {
  const what = sheet.typable;
  if (what === "chosen" && key === "0") return false;
  if (what) sheet.typing = { what, first: key };
  else if (sheet.from) sheet.tell(say("page_plan.point_which_way_first"));
  return what !== null;
}

function arrow(sheet: Sheet, way: Point, fine: boolean): void {
  const { units } = sheet;
  const step = stepOf(units) * (fine ? 1 : units === "imperial" ? 6 : 4);
  if (sheet.tool === "select" && sheet.chosen.nudge(scaled(way, step))) return;
  const mark = neat(add(sheet.crosshair ?? sheet.from ?? neat(sheet.view.middle), scaled(way, step)));
  sheet.crosshair = mark;
  sheet.hover(mark, REACH_M);
  sheet.tell(say("page_plan.right_up", { right: formatLength(mark[0], units), up: formatLength(mark[1], units) }));
}

function enter(sheet: Sheet, key: string): void {
  const { crosshair } = sheet;
  const routeEnds = sheet.tool === "route" && key === "Enter" && !crosshair && sheet.laid.trail?.presses.length;
  if (routeEnds) return sheet.heard.routed?.();
  sheet.crosshair = crosshair ?? neat(sheet.view.middle);
  sheet.press(sheet.snapAt(sheet.crosshair, REACH_M));
}

function other(sheet: Sheet, key: string): void {
  if (key === "Escape") escape(sheet);
  else if (sheet.tool === "route" && key === "Backspace") sheet.laid.trail?.back();
  else if (key === "Delete" || key === "Backspace") sheet.chosen.remove();
  else if (key.toLowerCase() === "h" && sheet.chosen.turnDoor()) return;
  else if (key === "+" || key === "=") sheet.view.zoom(1.25);
  else if (key === "-") sheet.view.zoom(0.8);
  else if (key === "0") sheet.fit();
  else if (key.length === 1 && sheet.laid.keys.includes(key.toLowerCase())) {
    sheet.tool = TOOLS.find((row) => row.key === key.toLowerCase())!.tool;
    sheet.leave();
  }
}

/** Lays down what is in hand, one thing a press: what is typed, the chain of walls, the tool, what is chosen. */
function escape(sheet: Sheet): void {
  if (sheet.typing) sheet.typing = null;
  else if (sheet.from) sheet.leave();
  else if (sheet.chain.closed) sheet.chain.closed = false;
  else if (sheet.tool !== "select") sheet.tool = "select";
  else {
    sheet.chosen.none();
    sheet.crosshair = null;
  }
  sheet.cursor = null;
}
