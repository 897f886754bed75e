import { describe, expect, it } from "vitest";
import type { Point } from "../maths/geometry";
import { placedWords } from "./labels";

const ring: Point[] = [
  [0, 0],
  [400, 0],
  [400, 300],
  [0, 300],
];
const name = { key: "R1", x: 200, y: 150, lines: ["Living", "21.4 m²"] as [string, string], ring };
const reading = (key: string, x: number, y: number) => ({ key, x, y, half: 6, text: "−61 dBm", side: 8, up: 4 });

describe("words on a sheet", () => {
  it("stand where they always do while nothing is in the way", () => {
    const { names, tags } = placedWords([name], [reading("Q1", 40, 40)]);
    expect(names.get("R1")).toEqual({ x: 200, y: 150, anchor: "middle" });
    expect(tags.get("Q1")).toEqual({ x: 48, y: 44, anchor: "start" });
  });

  it("a name gives way to a mark that stands on it", () => {
    expect(placedWords([name], [reading("Q1", 200, 150)]).names.get("R1")!.y).not.toBe(150);
  });

  it("a figure goes to the other side of its mark where a name is", () => {
    const { names, tags } = placedWords([name], [reading("Q1", 160, 150)]);
    expect(names.get("R1")!.y).toBe(150);
    expect(tags.get("Q1")!.anchor).toBe("end");
  });

  it("two marks close together do not share a place for their figures", () => {
    const { tags } = placedWords([], [reading("Q1", 40, 40), reading("Q2", 60, 40)]);
    expect(tags.get("Q1")!.anchor).toBe("end");
    expect(tags.get("Q2")!.anchor).toBe("start");
  });
});
