import { describe, expect, it } from "vitest";
import { sharing } from "./sharing";

const copy = <T>(thing: T): T => JSON.parse(JSON.stringify(thing)) as T;

describe("what comes anew", () => {
  it("is what stood where it says the same", () => {
    const before = { rooms: [{ name: "Hall", rate: 1 }, { name: "Attic" }], notes: [] as string[], price: null };
    expect(sharing(before, copy(before))).toBe(before);
  });
  it("shares every part that says the same, however deep, and none that does not", () => {
    const before = {
      rooms: [
        { name: "Hall", at: [1, 2] },
        { name: "Attic", at: [3, 4] },
      ],
      notes: ["a"],
      price: {},
    };
    const after = copy(before);
    after.rooms[1]!.name = "Loft";
    const found = sharing(before, after);
    expect(found).not.toBe(before);
    expect(found.rooms).not.toBe(before.rooms);
    expect(found.rooms[0]).toBe(before.rooms[0]);
    expect(found.rooms[1]).toEqual({ name: "Loft", at: [3, 4] });
    expect(found.rooms[1]!.at).toBe(before.rooms[1]!.at);
    expect(found.notes).toBe(before.notes);
    expect(found.price).toBe(before.price);
  });
  it.each([
    [{ a: 1 }, { a: 1, b: 1 }],
    [{ a: 1, b: 1 }, { a: 1 }],
    [{ a: 1 }, { b: 1 }],
    [{ a: undefined }, { b: undefined }],
    [[1], [1, 2]],
    [[1, 2], [1]],
    [[], {}],
    [{}, []],
    [null, {}],
    [{}, null],
    [null, { a: null }],
    [{ a: 1 }, "a"],
    ["a", { a: 1 }],
    [{ a: [] }, { a: {} }],
    [{ a: null }, { a: {} }],
  ])("%j is not %j", (before, after) => {
    const said = copy(after);
    const found = sharing(before, after as unknown);
    expect(found).not.toBe(before);
    expect(found).toEqual(said);
  });
  it("says what it said, whatever stood before", () => {
    let state = 7;
    const drawn = (most: number) => (state = (state * 48271) % 2147483647) % most;
    const value = (deep: number): unknown => {
      const kind = drawn(deep ? 6 : 4);
      if (kind < 4) return [null, drawn(3), "ab"[drawn(2)], drawn(2) === 0][kind];
      const parts = Array.from({ length: drawn(4) }, () => value(deep - 1));
      return kind === 4 ? parts : Object.fromEntries(parts.map((part, i) => ["abcd"[i]!, part]));
    };
    let shared = 0;
    for (let turn = 0; turn < 2000; turn++) {
      const [before, after] = [value(3), value(3)];
      const [stood, said] = [copy(before), copy(after)];
      const found = sharing(before, after);
      expect(found).toEqual(said);
      expect(before).toEqual(stood);
      expect(found === before).toBe(JSON.stringify(said) === JSON.stringify(stood));
      shared += Number(found === before);
    }
    expect(shared).toBeGreaterThan(50);
  });
});
