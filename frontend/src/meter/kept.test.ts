import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { keep, recall, type Kept } from "./kept";

const kept: Kept = { room: "R1", device: "D1", wired: false, box: "", band: "5", stage: "after" };
let store: Map<string, string>;
beforeEach(() => {
  store = new Map();
  vi.stubGlobal("localStorage", {
    getItem: (name: string) => store.get(name) ?? null,
    setItem: (name: string, value: string) => store.set(name, value),
  });
});
afterEach(() => vi.unstubAllGlobals());

it("what was said once of a device is known the next time, for that job alone", () => {
  expect(recall("one")).toEqual({});
  keep("one", kept);
  expect(recall("one")).toEqual(kept);
  expect(recall("two")).toEqual({});
});

it("what cannot be read counts as never said, and what cannot be kept is not missed", () => {
  keep("one", kept);
  for (const name of store.keys()) store.set(name, "{");
  expect(recall("one")).toEqual({});
  const full = () => {
    throw new DOMException("full", "QuotaExceededError");
  };
  vi.stubGlobal("localStorage", { getItem: full, setItem: full });
  expect(() => keep("one", kept)).not.toThrow();
  expect(recall("one")).toEqual({});
});
