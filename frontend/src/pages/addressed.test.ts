import { describe, expect, it } from "vitest";
import { chosenOf, chosenWords, mapOf, mapWords } from "./addressed";

describe("what a sheet keeps in its address", () => {
  it("says a map and reads it back", () => {
    const maps = [
      { quantity: "down_mbps", boxes: "plan", band: null },
      { quantity: "power_dbm", boxes: "today", band: "2.4" },
      { quantity: "air_mbps", boxes: "today", band: null },
    ] as const;
    for (const map of maps) expect(mapOf(mapWords(map))).toEqual(map);
    expect(mapWords(maps[1])).toBe("power_dbm.today.2.4");
    expect(mapOf(mapWords(null))).toBeNull();
  });

  it("leaves a map to the page where the address says none that there is", () => {
    for (const words of [undefined, "", "down_mbps", "down_mbps.soon", "heat.today"])
      expect(mapOf(words)).toBeUndefined();
  });

  it("says what is chosen and reads it back, points in the id too", () => {
    const room = { kind: "room", id: "G.1" } as const;
    expect(chosenWords(room)).toBe("room.G.1");
    expect(chosenOf("room.G.1")).toEqual(room);
    expect(chosenWords(null)).toBe("");
    for (const words of [undefined, "", "room", "room.", "storey.G"]) expect(chosenOf(words)).toBeNull();
  });
});
