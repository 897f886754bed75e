/** Ticking steps of the work off: what must come first is asked about, and going ahead all the same is noted. */

import { freshIds } from "../job/ids";
import type { Tick } from "../job/types";
import type { Me } from "../net/api";
import type { Task } from "../net/planSchema";
import type { Session } from "../net/session.svelte";
import { keyOf, waitsOf } from "../parts/day";
import { say } from "../words/say";

const MOST_NOTED = 2000; // letters

export class Ticking {
  asked = $state(""); // the step that somebody wants to tick off before its turn

  constructor(
    readonly session: Session,
    readonly me: Me,
  ) {}

  get tasks(): readonly Task[] {
    return this.session.result?.order ?? [];
  }
  #ticks = $derived.by(() => new Map(this.session.job!.ticks.map((tick) => [tick.task, tick])));

  tickOf(task: Task): Tick | undefined {
    return this.#ticks.get(keyOf(task));
  }
  /** Steps that come first and are not ticked off. */
  readonly waitsFor = $derived.by(() => waitsOf(this.tasks, this.session.job!.ticks));
  /** Ticks of steps that are no longer in the plan. */
  get gone(): Tick[] {
    const { tasks } = this;
    return tasks.length ? this.session.job!.ticks.filter((tick) => !tasks.some((one) => keyOf(one) === tick.task)) : [];
  }

  turn(task: Task, knowingly = false): void {
    const own = this.tickOf(task);
    const waits = this.waitsFor(task);
    if (!own && waits.length && !knowingly) {
      this.asked = keyOf(task);
      return;
    }
    this.asked = "";
    if (own) {
      const label = say("page_work.not_done_after_all", { title: task.title });
      this.session.submit(label, [{ do: "drop", kind: "tick", id: own.id }]);
      return;
    }
    const entity: Tick = {
      id: freshIds(this.session.job!, "tick", this.me.mark)[0]!,
      task: keyOf(task),
      by: this.me.name,
      time: new Date().toISOString().slice(0, 19),
      note: "",
      despite: waits
        .map((one) => `${one.id} ${one.title}`)
        .join(", ")
        .slice(0, MOST_NOTED),
    };
    this.session.submit(say("page_work.done_title", { title: task.title }), [{ do: "put", kind: "tick", entity }]);
  }
}
