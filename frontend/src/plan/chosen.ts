/** The chosen thing of a sheet and what is done to it: moved, its outline changed, taken away. */

import type { Point } from "../maths/geometry";
import type { Change, Kind, Room } from "../job/types";
import type { Session } from "../net/session.svelte";
import { nudged } from "./handling";
import { addedCorner, draggedOutline, outlined, withoutCorner, type Outline } from "./outline";
import type { Under } from "./picking";
import type { OnStorey, Picked } from "./storey";
import { say } from "../words/say";
import { kindWord } from "./kinds";

/** What of a sheet this is about. */
type OnSheet = {
  readonly session: Session;
  readonly on: OnStorey | null;
  picked: Picked | null;
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

  /** A drag that ended: its changes as one edit; of a room, the outline or why it cannot be. */
  dropped(hit: Under, changes: Change[], p: Point, reach_m: number): void {
    const { session, on } = this.sheet;
    if (hit.kind === "room") {
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
    const { session, on, picked } = this.sheet;
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
    const { session, picked } = this.sheet;
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
