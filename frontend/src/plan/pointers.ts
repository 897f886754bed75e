/** Pointers on a sheet: one draws, drags or moves the paper, two move and stretch it. */

import { distance, neat, sub, type Point } from "../maths/geometry";
import type { Move } from "../net/field";
import { canDrag } from "./chosen";
import { Fingers, type Pixel } from "./fingers";
import { framed, isIn, movedGroup } from "./group";
import { dragged } from "./handling";
import { under, type Under } from "./picking";
import type { Sheet } from "./sheet.svelte";
import { stepOf } from "./snap";

type Drag = { hit: Under | null; start: Point; px: Pixel; moved: boolean; plan?: string; more: boolean };

export class Pointers {
  #drag: Drag | null = null;
  readonly #fingers = new Fingers();
  /** Between frames, where the browser tells (not on plain http in the network): the map need not wait for one. */
  readonly #tellsBetween = "onpointerrawupdate" in window;

  constructor(readonly sheet: Sheet) {}

  down = (event: PointerEvent): void => {
    if (event.button > 1) return;
    const { sheet } = this;
    const px = this.#pixel(event);
    this.#fingers.put(event.pointerId, px);
    sheet.paper!.setPointerCapture(event.pointerId);
    if (this.#fingers.count === 2) return this.#cancelDrag();
    const start = sheet.view.point(...px);
    const reach = this.#reach(event);
    const plan = sheet.planned.find((one) => distance(one.position, start) <= reach);
    const { on } = sheet;
    const takes = sheet.tool === "select" && on && event.button === 0;
    const hit = takes ? under(on, start, reach, sheet.laid.known, sheet.picked) : null;
    const more = event.shiftKey && sheet.tool === "select"; // one thing more, or a frame around several
    this.#drag = { hit: plan ? null : hit, start, px, moved: false, plan: plan?.id, more };
    sheet.crosshair = null;
  };

  move = (event: PointerEvent): void => {
    const px = this.#pixel(event);
    const { sheet } = this;
    if (this.#fingers.moved(event.pointerId, px, sheet.view)) return;
    const p = sheet.view.point(...px);
    const drag = this.#drag;
    if (!drag) return sheet.hover(p, this.#reach(event));
    const least_px = event.pointerType === "mouse" ? 4 : 9;
    if (!drag.moved && Math.hypot(px[0] - drag.px[0], px[1] - drag.px[1]) < least_px) return;
    drag.moved = true;
    if (sheet.tool === "picture") sheet.heard.shifted?.(sub(p, drag.start), false);
    else if (drag.more && !this.#takes(drag)) sheet.frame = [drag.start, p];
    else if (drag.plan || this.#takes(drag)) {
      sheet.dragging = true;
      if (drag.plan) sheet.moves = this.#tried(drag.plan, p);
      else sheet.draft = this.#changes(drag, p, event);
      if (!this.#tellsBetween) sheet.want(event.timeStamp);
    } else if (sheet.tool === "select" || sheet.tool === "probe" || event.buttons === 4) {
      sheet.view.pan(px[0] - drag.px[0], px[1] - drag.px[1]);
      drag.px = px;
    } else sheet.hover(p, this.#reach(event));
  };

  raw = (event: PointerEvent): void => {
    const { sheet } = this;
    const drag = this.#drag;
    if (!sheet.dragging || !drag || this.#fingers.count > 1) return;
    const p = sheet.view.point(...this.#pixel(event));
    if (drag.plan) sheet.want(event.timeStamp, [], this.#tried(drag.plan, p));
    else if (drag.hit) sheet.want(event.timeStamp, this.#changes(drag, p, event));
  };

  up = (event: PointerEvent): void => {
    this.#fingers.lift(event.pointerId);
    const { sheet } = this;
    const ended = this.#drag;
    this.#drag = null;
    if (!ended || this.#fingers.count) return;
    const p = sheet.view.point(...this.#pixel(event));
    const reach = this.#reach(event);
    const { tool } = sheet;
    if (tool === "picture" && ended.moved) sheet.heard.shifted?.(sub(p, ended.start), true);
    else if (sheet.frame) this.#framed(ended.start, p);
    else if (sheet.dragging) this.#finish(ended.hit, p, reach);
    else if (tool === "select") {
      if (ended.moved) return;
      if (ended.more) sheet.chosen.add(ended.hit);
      else sheet.chosen.pick(ended.hit);
    } else if (!ended.moved || tool === "wall" || tool === "scale") {
      if (ended.moved && tool === "wall" && !sheet.from) sheet.press(sheet.snapAt(ended.start, reach));
      sheet.press(sheet.snapAt(p, reach), reach);
    }
  };

  cancel = (): void => {
    this.#fingers.liftAll();
    this.#cancelDrag();
  };

  leave = (): void => {
    if (!this.#drag && !this.sheet.from) this.sheet.cursor = null;
  };

  wheel = (event: WheelEvent): void => {
    event.preventDefault();
    this.sheet.view.zoom(Math.exp(-event.deltaY * 0.0015), ...this.#pixel(event));
  };

  #finish(hit: Under | null, p: Point, reach_m: number): void {
    const { sheet } = this;
    const { draft, moves } = sheet;
    sheet.dragging = false;
    if (!hit && moves.length) sheet.heard.tried?.(moves.at(-1)!);
    sheet.draft = [];
    if (hit) sheet.chosen.dropped(hit, draft, p, reach_m);
  }

  /** Whether what was pressed goes along with the pointer. */
  #takes({ hit }: Drag): boolean {
    return hit !== null && (canDrag(hit) || isIn(this.sheet.group, hit));
  }

  /** What lies within the frame is chosen with what was. */
  #framed(a: Point, b: Point): void {
    const { sheet } = this;
    sheet.frame = null;
    const before = sheet.chosen.all;
    const found = sheet.on ? framed(sheet.on, a, b) : [];
    sheet.chosen.set([...before, ...found.filter((one) => !isIn(before, one))]);
  }

  #cancelDrag(): void {
    this.#drag = null;
    this.sheet.frame = null;
    this.sheet.dragging = false;
    this.sheet.draft = [];
  }

  #tried(plan: string, p: Point): Move[] {
    return [...this.sheet.moves.filter((one) => one.id !== plan), { id: plan, position: neat(p) }];
  }

  #changes(drag: Drag, p: Point, event: PointerEvent) {
    const { session, on, laid, group, units } = this.sheet;
    if (isIn(group, drag.hit!)) {
      const step = stepOf(units);
      const by = sub(p, drag.start).map((one) => Math.round(one / step) * step) as Point;
      return movedGroup(session.job!, on!, group, by);
    }
    return dragged(session.job!, on!, drag.hit!, drag.start, p, this.#reach(event), laid.known);
  }

  #pixel(event: PointerEvent | WheelEvent): Pixel {
    const box = this.sheet.paper!.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  #reach(event: PointerEvent): number {
    return (event.pointerType === "mouse" ? 10 : 24) / this.sheet.view.scale;
  }
}
