import { describe, expect, it } from "vitest";
import { completed, numbered } from "./naming";

const USUAL = ["Living room", "Kitchen", "Bedroom", "Bathroom"];

describe("a room's name", () => {
  it("is completed from its beginning, large letters or small", () => {
    expect(completed("k", USUAL, [])).toBe("Kitchen");
    expect(completed("Ba", USUAL, [])).toBe("Bathroom");
    expect(completed("b", USUAL, [])).toBe("Bedroom");
    expect(completed("Kitchen", USUAL, [])).toBe("Kitchen");
    expect(completed("Parlour", USUAL, [])).toBe("");
    expect(completed("", USUAL, [])).toBe("");
    expect(completed("  ", USUAL, [])).toBe("");
  });
  it("gets a number where rooms have it already", () => {
    expect(completed("Bed", USUAL, ["bedroom", "Bedroom 2 "])).toBe("Bedroom 3");
    expect(numbered("Bedroom", ["Bedroom 2"])).toBe("Bedroom");
    expect(numbered("Bedroom", ["Bedroom"])).toBe("Bedroom 2");
  });
});
