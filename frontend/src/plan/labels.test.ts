import { describe, expect, it } from "vitest";
import type { Point } from "../maths/geometry";
import { placedWords } from "./labels";

const ring: Point[] = [
  [0, 0],
  [400, 0],
  [400, 300],
  [0, 300],
];
const name = { key: "R1", x: 200, y: 150, half: 26.25, below: 20, ring };
const reading = (key: string, x: number, y: number) => ({ key, x, y, half: 6, text: "−61 dBm", side: 8, up: 4 });

describe("words on a sheet", () => {
  it("stand where they always do while nothing is in the way", () => {
    const { names, tags } = placedWords([name], [reading("Q1", 40, 40)]);
    expect(names.get("R1")).toEqual({ x: 200, y: 150, anchor: "middle" });
    expect(tags.get("Q1")).toEqual({ x: 48, y: 44, anchor: "start" });
  });

  it("a name gives way to a mark that stands on it", () => {
    expect(placedWords([name], [reading("Q1", 200, 150)]).names.get("R1")!.y).toBe(120); // above it
    const two = [reading("Q1", 200, 150), reading("Q2", 200, 120)];
    expect(placedWords([name], two).names.get("R1")!.y).toBe(180); // above stands another
  });

  it("a name stays in its room, and in its place where there is no other", () => {
    const low = { ...name, y: 20 }; // 30 px up is outside
    expect(placedWords([low], [reading("Q1", 200, 20)]).names.get("R1")!.y).toBe(50);
    const ys = [10, 40, 70, 100, 130, 160, 190, 220, 250, 280].map((y, i) => reading(`Q${i}`, 200, y));
    expect(placedWords([name], ys).names.get("R1")!.y).toBe(150);
  });

  it("a name is as wide as it says", () => {
    // 20 letters of 7.5 px reach 75 px to either side, and a mark 6 px farther.
    const wide = { ...name, half: 75 };
    expect(placedWords([wide], [reading("Q1", 280, 150)]).names.get("R1")!.y).toBe(120);
    expect(placedWords([wide], [reading("Q1", 282, 150)]).names.get("R1")!.y).toBe(150);
  });

  it("a figure goes above its mark where names stand on both sides, and below where one stands there too", () => {
    const short = (key: string, x: number, y: number) => ({
      ...name,
      key,
      x,
      y,
      half: 15,
    });
    const mark = reading("Q1", 200, 150); // its figure is 49 px wide
    const beside = [short("A", 240, 150), short("B", 160, 150)];
    expect(placedWords(beside, [mark]).tags.get("Q1")).toEqual({ x: 200, y: 140, anchor: "middle" });
    expect(placedWords([...beside, short("C", 200, 120)], [mark]).tags.get("Q1")).toEqual({
      x: 200,
      y: 170,
      anchor: "middle",
    });
  });

  it("a figure goes farther above where names stand all around, and farther below where one stands there too", () => {
    const short = (key: string, x: number, y: number) => ({
      ...name,
      key,
      x,
      y,
      half: 15,
    });
    const mark = reading("Q1", 200, 150);
    // To the left; and to the right as high as to be in the way above and below, 132 to 168.
    const around = [short("A", 160, 150), short("B", 222, 148)];
    expect(placedWords(around, [mark]).tags.get("Q1")).toEqual({ x: 200, y: 124, anchor: "middle" });
    expect(placedWords([...around, short("C", 200, 100)], [mark]).tags.get("Q1")).toEqual({
      x: 200,
      y: 186,
      anchor: "middle",
    });
    const below = short("D", 200, 200); // no place is left: beside it, as always
    expect(placedWords([...around, short("C", 200, 100), below], [mark]).tags.get("Q1")).toEqual({
      x: 208,
      y: 154,
      anchor: "start",
    });
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

it("goes aside where a mark stands in the middle of a room, as far as the room is wide enough", () => {
  const wide: Point[] = [[0, 0], [200, 0], [200, 80], [0, 80]]; // prettier-ignore
  const name = { key: "R1", x: 100, y: 30, half: 30, below: 40, ring: wide };
  const cross = { key: "M1", x: 100, y: 45, half: 6, text: "", side: 8, up: 4 };
  const at = placedWords([name], [cross]).names.get("R1")!;
  expect(at.y).toBe(30);
  expect(Math.abs(at.x - 100)).toBe(40);
  const slim = { ...name, ring: wide.map(([x, y]): Point => [60 + (x * 80) / 200, y]) };
  expect(placedWords([slim], [cross]).names.get("R1")!.x).toBe(100);
});
