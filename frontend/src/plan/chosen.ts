/** The chosen thing of a sheet and what is done to it: moved, its outline changed, taken away. */

import type { Point } from "../maths/geometry";
import type { Change, Kind, Room } from "../job/types";
import type { Session } from "../net/session.svelte";
import { droppedGroup, isIn, madeOf, movedGroup } from "./group";
import { nudged } from "./handling";
import { addedCorner, draggedOutline, outlined, withoutCorner, type Outline } from "./outline";
import type { Under } from "./picking";
import { nextHand, type OnStorey, type Picked } from "./storey";
import { say } from "../words/say";
import { kindWord } from "./kinds";

/** What of a sheet this is about. */
type OnSheet = {
  readonly session: Session;
  readonly on: OnStorey | null;
  picked: Picked | null;
  group: readonly Picked[];
  tell(words: string): void;
};

/** A room is dragged by its corners and edges only, a cable not at all. */
export function canDrag(hit: Under): boolean {
  return hit.kind !== "run" && (hit.kind !== "room" || hit.vertex !== undefined || hit.edge !== undefined);
}

export class Chosen {
  constructor(private readonly sheet: OnSheet) {}

  pick(hit: Under | null): void {
    if (hit?.edge !== undefined) this.outline((room) => addedCorner(room.polygon, hit.edge!), hit.edge + 1);
    else this.sheet.picked = hit ? { kind: hit.kind, id: hit.id, vertex: hit.vertex } : null;
  }

  /** One thing more, or one less where it was among them. */
  add(hit: Picked | null): void {
    if (!hit) return;
    const { kind, id } = hit;
    const now = this.all;
    this.set(isIn(now, hit) ? now.filter((one) => one.kind !== kind || one.id !== id) : [...now, { kind, id }]);
  }
  set(things: readonly Picked[]): void {
    this.sheet.picked = things.length === 1 ? things[0]! : null;
    this.sheet.group = things.length > 1 ? things : [];
  }
  none(): void {
    this.set([]);
  }
  has(one: Picked): boolean {
    return isIn(this.all, one);
  }
  /** Everything that is chosen. */
  get all(): readonly Picked[] {
    const { group, picked } = this.sheet;
    return group.length ? group : picked ? [picked] : [];
  }
  /** All walls among several made of one thing. */
  make(construction: string): void {
    const changes = madeOf(this.sheet.group, construction);
    if (changes.length) this.sheet.session.submit(say("page_plan.make_of_walls", { n: changes.length }), changes);
  }

  /** The chosen door hung or opening otherwise; false where no door is chosen. */
  turnDoor(): boolean {
    const { session, on, picked } = this.sheet;
    const door = picked?.kind === "opening" ? on?.openings.find((one) => one.id === picked.id) : undefined;
    if (door?.kind !== "door") return false;
    session.submit(say("page_plan.turn_a_door"), [{ do: "set", kind: "opening", id: door.id, fields: nextHand(door) }]);
    return true;
  }

  /** A drag that ended: its changes as one edit; of a room, the outline or why it cannot be. */
  dropped(hit: Under, changes: Change[], p: Point, reach_m: number): void {
    const { session, on, group } = this.sheet;
    if (isIn(group, hit)) {
      if (changes.length) session.submit(say("page_plan.move_things", { n: group.length }), changes);
    } else if (hit.kind === "room") {
      this.outline(
        (room) => draggedOutline(on!, room, hit, p, reach_m, session.job!.units),
        hit.vertex ?? hit.edge! + 1,
      );
    } else if (changes.length) {
      this.sheet.picked = { kind: hit.kind, id: hit.id };
      session.submit(say("page_plan.move", { kind: kindWord(hit.kind), id: hit.id }), changes);
    }
  }

  /** Moved by a key; false where there is nothing that a key moves. */
  nudge(by: Point): boolean {
    const { session, on, picked, group } = this.sheet;
    if (group.length && on) {
      const changes = movedGroup(session.job!, on, group, by);
      if (changes.length) session.submit(say("page_plan.move_things", { n: group.length }), changes);
      return true;
    }
    if (!picked || !on || (picked.kind === "room" && picked.vertex === undefined)) return false;
    const changes = nudged(session.job!, on, picked, by);
    if (changes.length) session.submit(say("page_plan.move", { kind: kindWord(picked.kind), id: picked.id }), changes);
    else if (picked.kind === "room") this.sheet.tell(say("page_plan.the_outline_would_cross_or_touch"));
    return true;
  }

  /** Keys on the corners of the chosen room; true where the key was one of them. */
  cornerKey(key: string): boolean {
    const room = this.room;
    if (!room) return false;
    const [many, now] = [room.polygon.length, this.sheet.picked!.vertex];
    const choose = (vertex?: number) => {
      this.sheet.picked = { kind: "room", id: room.id, vertex };
    };
    if (key === "PageDown") choose(now === undefined ? 0 : (now + 1) % many);
    else if (key === "PageUp") choose(((now ?? 0) + many - 1) % many);
    else if (now === undefined || !room.polygon[now]) return false;
    else if (key === "Insert") this.outline((one) => addedCorner(one.polygon, now), now + 1);
    else if (key === "Delete" || key === "Backspace") this.outline((one) => withoutCorner(one.polygon, now));
    else if (key === "Escape") choose();
    else return false;
    return true;
  }

  /** Off the sheet; of a cable only its route goes. */
  remove(): void {
    const { session, picked, group, on } = this.sheet;
    if (group.length && on) {
      session.submit(say("page_plan.delete_things", { n: group.length }), droppedGroup(on, group));
      this.none();
    }
    if (!picked) return;
    if (picked.kind === "run") {
      session.submit(say("page_common.take_the_route_of_away", { id: picked.id }), [
        { do: "set", kind: "run", id: picked.id, fields: { route: [] } },
      ]);
      return;
    }
    session.submit(say("page_plan.delete", { kind: kindWord(picked.kind), id: picked.id }), [
      { do: "drop", kind: picked.kind as Kind, id: picked.id },
    ]);
    this.sheet.picked = null;
  }

  private get room(): Room | undefined {
    const { on, picked } = this.sheet;
    return picked?.kind === "room" ? on?.rooms.find((one) => one.id === picked.id) : undefined;
  }

  private outline(change: (room: Room) => Outline, vertex?: number): void {
    const room = this.room;
    if (!room) return;
    const next = change(room);
    if (typeof next === "string") {
      this.sheet.tell(next);
      return;
    }
    this.sheet.session.submit(say("page_common.outline_of", { name: room.name }), outlined(room, next));
    this.sheet.picked = { kind: "room", id: room.id, vertex };
  }
}
