/** The fingers on a sheet: two of them move and stretch it. */

import type { View } from "./view.svelte";

export type Pixel = [number, number];

export class Fingers {
  private readonly down = new Map<number, Pixel>();

  get count(): number {
    return this.down.size;
  }

  put(id: number, at: Pixel): void {
    this.down.set(id, at);
  }

  lift(id: number): void {
    this.down.delete(id);
  }

  liftAll(): void {
    this.down.clear();
  }

  /** Note where a finger went; true where that moved the sheet, since there are two. */
  moved(id: number, to: Pixel, view: View): boolean {
    const was = this.down.get(id);
    if (!was) return false;
    this.down.set(id, to);
    if (this.down.size !== 2) return false;
    const other = [...this.down].find(([one]) => one !== id)![1];
    const before = Math.hypot(was[0] - other[0], was[1] - other[1]);
    const after = Math.hypot(to[0] - other[0], to[1] - other[1]);
    view.pan((to[0] - was[0]) / 2, (to[1] - was[1]) / 2);
    if (before > 5) view.zoom(after / before, (to[0] + other[0]) / 2, (to[1] + other[1]) / 2);
    return true;
  }
}
