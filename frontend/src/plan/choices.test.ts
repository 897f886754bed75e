import { afterEach, describe, expect, it, vi } from "vitest";
import { Choices } from "./choices.svelte";

function store(first: Record<string, string> = {}) {
  const kept = new Map(Object.entries(first));
  vi.stubGlobal("localStorage", {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => kept.set(key, value),
  });
  return kept;
}
afterEach(() => vi.unstubAllGlobals());
const DOOR = { kind: "door", width_m: 0.73, height_m: 1.98, sill_m: 0.02, construction: "solid door" } as const;

describe("how somebody draws", () => {
  it("is first along centre lines, with usual sizes", () => {
    store();
    const choices = new Choices("mill");
    expect([choices.measure, choices.below, choices.plate]).toEqual(["centre", true, null]);
    expect(choices.sizesOf("door")).toEqual({ width_m: 0.8, height_m: 2, sill_m: 0, construction: "unknown" });
    expect(choices.sizesOf("window")).toEqual({ width_m: 1.2, height_m: 1.2, sill_m: 0.9, construction: "unknown" });
    expect(choices.sizesOf("gap")).toEqual({ width_m: 0.9, height_m: 2, sill_m: 0, construction: "unknown" });
  });
  it("is remembered for that job on this device", () => {
    store();
    const choices = new Choices("mill");
    choices.measure = "inside";
    choices.below = false;
    choices.rememberOpening({ ...DOOR, id: "X1" } as never);
    choices.rememberPlate({ kind: "coax", height_m: 0.4, id: "1-01" } as never);
    const again = new Choices("mill");
    expect([again.measure, again.below, again.plate]).toEqual(["inside", false, { kind: "coax", height_m: 0.4 }]);
    const { kind: _, ...sizes } = DOOR;
    expect(again.sizesOf("door")).toEqual(sizes);
    expect(again.sizesOf("window").width_m).toBe(1.2);
    expect(new Choices("barn").measure).toBe("centre");
    expect(new Choices().measure).toBe("centre");
  });
  it("lasts as long as the page where nothing can be kept, or what was kept is not to be read", () => {
    const kept = store({ "drawing mill": "{", "drawing barn": "[1]", "drawing hut": "null" });
    for (const job of ["mill", "barn", "hut"]) expect(new Choices(job).measure).toBe("centre");
    const none = new Choices();
    none.measure = "inside";
    expect([none.measure, kept.size]).toEqual(["inside", 3]);
    vi.stubGlobal("localStorage", {
      getItem: () => null,
      setItem: () => {
        throw new Error("full");
      },
    });
    const full = new Choices("mill");
    full.measure = "inside";
    expect(full.measure).toBe("inside");
    vi.stubGlobal("localStorage", undefined);
    new Choices("mill").below = false;
  });
});
