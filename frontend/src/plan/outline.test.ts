import { describe, expect, it } from "vitest";
import type { Point } from "../maths/geometry";
import { addedCorner, draggedOutline, movedCorner, withoutCorner } from "./outline";

const SQUARE: Point[] = [
  [0, 0],
  [4, 0],
  [4, 3],
  [0, 3],
];

describe("an outline", () => {
  it("takes a corner elsewhere, gets one more, gives one up", () => {
    expect(movedCorner(SQUARE, 2, [5, 4])).toEqual([
      [0, 0],
      [4, 0],
      [5, 4],
      [0, 3],
    ]);
    expect(addedCorner(SQUARE, 3)).toEqual([...SQUARE, [0, 1.5]]);
    expect(withoutCorner(SQUARE, 0)).toEqual([
      [4, 0],
      [4, 3],
      [0, 3],
    ]);
  });

  it("keeps three corners at least", () => {
    expect(withoutCorner(SQUARE.slice(1), 0)).toMatch("three corners");
  });

  it("never crosses, touches or folds onto itself", () => {
    expect(movedCorner(SQUARE, 0, [5, 2])).toMatch("cross itself");
    expect(movedCorner(SQUARE, 0, [4, 1])).toMatch("touch itself");
    expect(movedCorner(SQUARE, 0, [0, 3])).toMatch("in one place");
    expect(
      movedCorner(
        [
          [0, 0],
          [4, 0],
          [2, 2],
        ],
        2,
        [2, 0],
      ),
    ).toMatch("touch itself");
  });

  it("snaps to the corners of the room beside", () => {
    const room = { id: "A", polygon: SQUARE };
    const on = {
      walls: [],
      rooms: [
        room,
        {
          id: "B",
          polygon: [
            [4.5, 0],
            [9, 0],
            [9, 3.2],
            [4.5, 3.2],
          ],
        },
      ],
    };
    expect(draggedOutline(on as never, room as never, { vertex: 2 }, [4.45, 3.15], 0.2, "metric")).toEqual([
      [0, 0],
      [4, 0],
      [4.5, 3.2],
      [0, 3],
    ]);
    expect(draggedOutline(on as never, room as never, { edge: 1 }, [4.45, 1.5], 0.2, "metric")).toHaveLength(5);
  });
});
