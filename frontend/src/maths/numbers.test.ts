import { expect, test } from "vitest";
import { formatRateSpan } from "./numbers";

test("a span says its unit once, and nothing where there is no span", () => {
  expect(formatRateSpan(180, 420)).toBe("180 to 420 Mb/s");
  expect(formatRateSpan(600, 600.2)).toBe("");
  expect(formatRateSpan(900, 2500)).toBe("900 Mb/s to 2.50 Gb/s");
});
