import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { answering, freshBrowser, settled } from "../../tests/live";
import { learnWords } from "../../tests/words";
import { bands, same, worded } from "./options";
import { Photos } from "./photos.svelte";

beforeEach(async () => {
  freshBrowser();
  vi.resetModules();
  await learnWords();
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

it("rows of pick lists are values with their words", () => {
  expect(same(["a", "b"])).toEqual([
    ["a", "a"],
    ["b", "b"],
  ]);
  expect(worded({ b: "Bee", a: "Ay" })).toEqual([
    ["b", "Bee"],
    ["a", "Ay"],
  ]);
  expect(bands(["2.4", "5"])).toEqual([
    ["2.4", "2.4 GHz"],
    ["5", "5 GHz"],
  ]);
});

describe("lists from the fact tables", () => {
  const TABLES: Record<string, Record<string, string | number>[]> = {
    constructions: [
      { name: "stud", label: "Stud wall", use: "wall", layers_mm: "12.5 + 75 + 12.5; 100" },
      { name: "joists", label: "Joists", use: "floor", layers_mm: "20 + 200" },
    ],
    calibration_numbers: [
      { name: "other", value: -1 },
      { name: "hearing_floor", value: -95 },
    ],
    equipment: [
      { name: "ap", label: "Access point", kind: "access point" },
      { name: "rt", label: "Router", kind: "router" },
      { name: "md", label: "Modem", kind: "modem" },
      { name: "sw", label: "Switch", kind: "switch" },
      { name: "tv", label: "Television", kind: "other" },
    ],
    access_point_radios: [{ name: "ap", band: 5 }],
    client_radios: [{ name: "phone" }, { name: "phone" }, { name: "laptop" }],
    room_needs: [{ use: "mail", down_mbps: 1, up_mbps: 2, more: 3 }],
    wifi_channels: [
      { band: 2.4, width_mhz: 20, first: 1, last: 3, step: 1 },
      { band: 5, width_mhz: 20, first: 36, last: 44, step: 4 },
      { band: 5, width_mhz: 40, first: 38, last: 46, step: 8 },
    ],
    colour_scale: [
      { place_on_scale: 0, red: 0, green: 0, blue: 0 },
      { place_on_scale: 1, red: 255, green: 255, blue: 255 },
    ],
  };
  async function asked(dark = false) {
    const mode = { matches: dark, change: () => {}, listeners: 0 };
    vi.stubGlobal("matchMedia", () => ({
      get matches() {
        return mode.matches;
      },
      addEventListener: (_: string, heard: () => void) => {
        mode.change = heard;
        mode.listeners++;
      },
    }));
    const calls = answering((_, path) => TABLES[path.split("/").at(-1)!]);
    const { factLists } = await import("./Facts.svelte");
    factLists.ask();
    await settled();
    return { factLists, calls, mode };
  }

  it("are asked for once, and the page turning dark is listened for once", async () => {
    const { factLists, calls, mode } = await asked();
    factLists.ask();
    await settled();
    expect([calls.length, mode.listeners]).toEqual([8, 1]);
  });
  it("name what can be picked", async () => {
    const { factLists } = await asked();
    expect(factLists.walls()).toEqual([
      ["unknown", "Not known"],
      ["stud", "Stud wall"],
    ]);
    expect(factLists.ofUse("floor")).toEqual([
      ["unknown", "Not known"],
      ["joists", "Joists"],
    ]);
    expect(factLists.constructions.get("stud")!.thickness_m).toBeCloseTo(0.1);
    expect(factLists.equipment.map(([name]) => name)).toEqual(["ap", "rt", "md", "sw"]);
    expect(factLists.equipment[0]![1]).toBe("Access point");
    expect(factLists.clients).toEqual([
      ["phone", "phone"],
      ["laptop", "laptop"],
    ]);
    expect([...factLists.radios]).toEqual(["ap"]);
    expect(factLists.hearingFloor).toBe(-95);
    expect(factLists.uses).toEqual([{ name: "mail", down_mbps: 1, up_mbps: 2 }]);
    expect(factLists.channels).toEqual({ "2.4": [1, 2, 3], "5": [36, 40, 44] });
  });
  it("mix the colours anew when the page turns dark", async () => {
    const { factLists, mode } = await asked();
    const light = factLists.ramp![0]! & 255;
    expect(light).toBe(Math.round(0.38 * 255));
    mode.matches = true;
    mode.change();
    expect(factLists.ramp![0]! & 255).toBe(Math.round(0.38 * 35));
  });
  it("are asked for again after a failure", async () => {
    vi.stubGlobal("matchMedia", () => ({ matches: false, addEventListener: () => {} }));
    const failed = answering(() => {
      throw new Error("gone");
    });
    const { factLists } = await import("./Facts.svelte");
    factLists.ask();
    await settled();
    expect(factLists.ramp).toBeNull();
    const before = failed.length;
    const again = answering((_, path) => TABLES[path.split("/").at(-1)!]);
    factLists.ask();
    await settled();
    expect([before, again.length]).toEqual([8, 8]);
  });
});

it("photos of steps are added, listed by step and dropped", async () => {
  let kept = [{ picture: "p 1", step: "s", width_px: 1, height_px: 1 }];
  const calls = answering((method) => {
    if (method === "DELETE") kept = [];
    return kept;
  });
  const photos = new Photos("a job");
  await photos.add("step 1", new File(["x"], "x.jpg"));
  expect(calls).toEqual(["POST /api/jobs/a%20job/pictures?step=step%201", "GET /api/jobs/a%20job/pictures"]);
  expect(photos.of("s")).toEqual(kept);
  expect(photos.of("t")).toEqual([]);
  expect(photos.imageUrl(kept[0]!)).toBe("/api/jobs/a%20job/pictures/p%201");
  await photos.drop(photos.all[0]!);
  expect(calls[2]).toBe("DELETE /api/jobs/a%20job/pictures/p%201");
  expect(photos.all).toEqual([]);
});
