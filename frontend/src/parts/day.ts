/** One visit as a list of a day: what to do now, what comes next here, what comes later and where. */

import type { Tick } from "../job/types";
import type { Task } from "../net/planSchema";

export type Day = {
  now: Task[]; // one for each person at work, or the first that may be done
  next: Task[]; // where `now` is, in their order
  later: { place: string; tasks: Task[] }[]; // by place, in the order in which one gets there
  held: Task[]; // not to be done before somebody signs
  done: Task[];
  minutes: number; // of what is open and not held
  always: { caution: string; steps: number }[]; // what holds for many steps, said once
};

const MANY = 3; // steps for which a caution is said once for all of them

export const keyOf = (task: Task): string => task.key || task.id;

/**
 * @param tasks of the plan, in the order of work
 * @param visit the visit to show; 0 is what the household does
 * @param person whose steps to show; null shows everybody's
 */
export function dayOf(tasks: readonly Task[], ticks: readonly Tick[], visit: number, person: number | null): Day {
  const ticked = new Set(ticks.map((tick) => tick.task));
  const waits = waitsOf(tasks, ticks);
  const own = tasks.filter(
    (task) => task.visit === visit && (person === null || task.person === null || task.person === person),
  );
  const done = own.filter((task) => ticked.has(keyOf(task)));
  const held = own.filter((task) => task.held && !ticked.has(keyOf(task)));
  const open = own.filter((task) => !task.held && !ticked.has(keyOf(task)));
  const free = open.filter((task) => !waits(task).length);
  const now: Task[] = [];
  for (const task of free) if (!now.some((one) => one.person === task.person)) now.push(task);
  const rest = open.filter((task) => !now.includes(task));
  const here = new Set(now.map((task) => task.place));
  const places = [...new Set(rest.filter((task) => !here.has(task.place)).map((task) => task.place))];
  return {
    now,
    next: rest.filter((task) => here.has(task.place)),
    later: places.map((place) => ({ place, tasks: rest.filter((task) => task.place === place) })),
    held,
    done,
    minutes: open.reduce((sum, task) => sum + task.minutes, 0),
    always: alwaysOf([...open, ...held]),
  };
}

/** What says of a step which others come first and are not ticked off. */
export function waitsOf(tasks: readonly Task[], ticks: readonly Tick[]): (task: Task) => Task[] {
  const ticked = new Set(ticks.map((tick) => tick.task));
  const byId = new Map(tasks.map((task) => [task.id, task]));
  return (task) =>
    task.needs.flatMap((id) => {
      const before = byId.get(id);
      return before && !ticked.has(keyOf(before)) ? [before] : [];
    });
}

/** Cautions of many steps, those of most first. */
function alwaysOf(tasks: readonly Task[]): Day["always"] {
  const counts = new Map<string, number>();
  for (const task of tasks) for (const caution of task.cautions) counts.set(caution, (counts.get(caution) ?? 0) + 1);
  return [...counts]
    .filter(([, steps]) => steps >= MANY)
    .map(([caution, steps]) => ({ caution, steps }))
    .sort((a, b) => b.steps - a.steps);
}

/** The first visit with something open, or the last. */
export function visitAtHand(tasks: readonly Task[], ticks: readonly Tick[]): number {
  const ticked = new Set(ticks.map((tick) => tick.task));
  const visits = [...new Set(tasks.map((task) => task.visit))].sort((a, b) => a - b);
  const open = (visit: number): boolean =>
    tasks.some((task) => task.visit === visit && !task.held && !ticked.has(keyOf(task)));
  const ours = visits.filter((visit) => visit > 0);
  return ours.find(open) ?? visits.find(open) ?? ours.at(-1) ?? visits[0] ?? 1;
}
