import { describe, expect, it } from "vitest";
import type { Tick } from "../job/types";
import type { Task } from "../net/planSchema";
import { dayOf, visitAtHand } from "./day";

const task = (id: string, more: Partial<Task> = {}): Task => ({
  id,
  key: `key ${id}`,
  title: id,
  stage: "run",
  visit: 1,
  place: "Study",
  minutes: 10,
  minutes_90: 15,
  needs: [],
  tools: [],
  cautions: [],
  because: [],
  held: "",
  photo: false,
  start_min: null,
  person: 1,
  norm: "",
  by: "us",
  storey: "G",
  stop: false,
  hole: false,
  touches: [],
  passes: [],
  ...more,
});
const tick = (id: string): Tick => ({ id: `K${id}`, task: `key ${id}`, by: "Ann", time: "", note: "", despite: "" });
const ids = (tasks: readonly Task[]): string[] => tasks.map((one) => one.id);

describe("a visit as a list of a day", () => {
  it("begins with the first step that nothing holds and nothing comes before", () => {
    const tasks = [
      task("A", { held: "Nan's pendant hangs on it." }),
      task("B", { needs: ["A2"] }),
      task("A2", { place: "Hall" }),
      task("C"),
    ];
    const day = dayOf(tasks, [], 1, null);
    expect(ids(day.now)).toEqual(["A2"]);
    expect(ids(day.held)).toEqual(["A"]);
    expect(day.later.map((one) => [one.place, ids(one.tasks)])).toEqual([["Study", ["B", "C"]]]);
    expect(day.minutes).toBe(30); // what is held takes nobody's time today
  });

  it("gives each person one thing to do now, and the rest of the room next", () => {
    const tasks = [
      task("A"),
      task("B"),
      task("C", { person: 2, place: "Hall" }),
      task("D", { person: 2, place: "Loft" }),
    ];
    const day = dayOf(tasks, [], 1, null);
    expect(ids(day.now)).toEqual(["A", "C"]);
    expect(ids(day.next)).toEqual(["B"]);
    expect(day.later.map((one) => one.place)).toEqual(["Loft"]);
    const mine = dayOf([...tasks, task("E", { person: null, place: "Attic" })], [], 1, 2);
    expect(ids(mine.now)).toEqual(["C", "E"]); // what nobody is named for is everybody's
    expect(ids(mine.next)).toEqual([]);
  });

  it("goes on as steps are ticked, by their keys", () => {
    const tasks = [task("A"), task("B", { needs: ["A"] }), task("C", { visit: 2 })];
    expect(ids(dayOf(tasks, [], 1, null).now)).toEqual(["A"]);
    const day = dayOf(tasks, [tick("A")], 1, null);
    expect([ids(day.done), ids(day.now), day.minutes]).toEqual([["A"], ["B"], 10]);
    expect(ids(dayOf([task("A", { key: "" })], [{ ...tick("A"), task: "A" }], 1, null).done)).toEqual(["A"]);
  });

  it("says what holds for many steps once, and of more steps first", () => {
    const dust = "Damp the plaster.";
    const ladder = "Foot the ladder.";
    const tasks = [
      task("A", { cautions: [ladder, dust] }),
      task("B", { cautions: [dust, ladder] }),
      task("C", { cautions: [dust, ladder], held: "Ask first." }),
      task("D", { cautions: [dust] }),
      task("E", { cautions: ["Mains behind the plate."] }),
    ];
    expect(dayOf(tasks, [], 1, null).always).toEqual([
      { caution: dust, steps: 4 },
      { caution: ladder, steps: 3 },
    ]);
    expect(dayOf(tasks, [tick("A"), tick("B")], 1, null).always).toEqual([]); // only two are left of each
  });

  it("opens at the first visit with something to do, ours before the household's", () => {
    const tasks = [task("H", { visit: 0 }), task("A"), task("B", { visit: 2 }), task("C", { visit: 2, held: "Ask." })];
    expect(visitAtHand(tasks, [])).toBe(1);
    expect(visitAtHand(tasks, [tick("A")])).toBe(2);
    expect(visitAtHand(tasks, [tick("A"), tick("B")])).toBe(0);
    expect(visitAtHand(tasks, [tick("A"), tick("B"), tick("H")])).toBe(2);
    expect(visitAtHand([], [])).toBe(1);
  });
});
