import { describe, expect, it } from "vitest";
import type { PlacedPlug, TraceReading } from "../job/types";
import type { Answer, Plug } from "../net/tracing";
import { nextOf } from "./traced";

const plug = (outlet: string): Plug => ({
  outlet,
  name: outlet.toUpperCase(),
  ties: [[1, 2]],
  resistors: [],
  made: "",
});
const answer = (...rounds: string[][]): Answer =>
  ({
    rounds: rounds.map((outlets) => outlets.map(plug)),
    may_tie: { ends: ["C1", "C2"], plates: ["a", "b"] },
  }) as unknown as Answer;
const inRound = (outlet: string, round = 1): PlacedPlug => ({ id: `${outlet}${round}`, outlet, round }) as PlacedPlug;
const read = (end: string, round = 1, more: Partial<TraceReading> = {}): TraceReading =>
  ({ id: `${end}${round}`, kind: "continuity", end, round, ties: [], ...more }) as TraceReading;

describe("one thing at a time", () => {
  it("puts plugs in first, one after the other, while the reader waits", () => {
    const first = nextOf(answer(["a", "b"]), [], [], "walk");
    expect(first).toMatchObject({ do: "plug", plug: plug("a"), placed: 0, plugs: 2, left: 2 });
    expect(nextOf(answer(["a", "b"]), [inRound("a")], [], "both")).toMatchObject({
      do: "plug",
      plug: plug("b"),
      left: 1,
    });
    expect(nextOf(answer(["a", "b"]), [inRound("a")], [], "read")).toMatchObject({
      do: "wait",
      for: "plugs",
      placed: 1,
    });
  });

  it("comes to plates that were not found after the others, the one that was left longest first", () => {
    const find = (...later: string[]) => nextOf(answer(["a", "b", "c"]), [inRound("c")], [], "walk", later);
    expect(find("a")).toMatchObject({ plug: plug("b") });
    expect(find("a", "b")).toMatchObject({ plug: plug("a") });
    expect(find("b", "a")).toMatchObject({ plug: plug("b") });
  });

  it("reads the cables of a round once its plugs are in, while the walker waits", () => {
    const all = [inRound("a"), inRound("b")];
    expect(nextOf(answer(["a", "b"]), all, [], "both")).toMatchObject({ do: "read", end: "C1", read: 0, cables: 2 });
    expect(nextOf(answer(["a", "b"]), all, [read("C1")], "read")).toMatchObject({ do: "read", end: "C2", read: 1 });
    expect(nextOf(answer(["a", "b"]), all, [read("C1")], "walk")).toMatchObject({ do: "wait", for: "readings" });
    expect(nextOf(answer(["a", "b"]), all, [read("C1"), read("C2")], "both")).toMatchObject({ do: "done", read: 2 });
  });

  it("does not count what was withdrawn, is of another kind or of another round", () => {
    const all = [inRound("a"), inRound("b")];
    const mistaken = [read("C1"), { id: "W", kind: "withdrawn", other: "C11" } as TraceReading];
    expect(nextOf(answer(["a", "b"]), all, mistaken, "read")).toMatchObject({ do: "read", end: "C1" });
    expect(nextOf(answer(["a", "b"]), all, [read("C1", 2)], "read")).toMatchObject({ do: "read", end: "C1" });
    expect(nextOf(answer(["a", "b"]), all, [read("C1", 1, { kind: "tone" })], "read")).toMatchObject({ end: "C1" });
    expect(nextOf(answer(["a", "b"]), [inRound("a", 2)], [], "walk")).toMatchObject({ plug: plug("a") });
  });

  it("goes to the next round when the one before is read", () => {
    const rounds = answer(["a", "b"], ["b"]);
    const all = [inRound("a"), inRound("b")];
    expect(nextOf(rounds, all, [read("C1")], "walk")).toMatchObject({ do: "wait", round: 1, rounds: 2 });
    const second = nextOf(rounds, all, [read("C1"), read("C2")], "walk");
    expect(second).toMatchObject({ do: "plug", plug: plug("b"), round: 2, placed: 0, plugs: 1 });
  });

  it("has nothing to do where nothing may be tied", () => {
    expect(nextOf(answer(), [], [], "both")).toMatchObject({ do: "done", plugs: 0, round: 1 });
    expect(nextOf(answer([]), [], [], "both")).toMatchObject({ do: "done" });
  });
});
