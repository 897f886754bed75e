import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { speak } from "../words/say";
import {
  figure,
  fixed,
  formatBand,
  formatBytes,
  formatDbm,
  formatMinutes,
  formatMoney,
  formatRate,
  formatRateSpan,
  formatReading,
} from "./numbers";

it("a span says its unit once, and nothing where there is no span", () => {
  expect(formatRateSpan(180, 420)).toBe("180 to 420 Mb/s");
  expect(formatRateSpan(600, 600.2)).toBe("");
  expect(formatRateSpan(900, 2500)).toBe("900 Mb/s to 2.50 Gb/s");
});
it.each([
  [NaN, "–"],
  [0.84, "0.8 Mb/s"],
  [9.94, "9.9 Mb/s"],
  [2, "2 Mb/s"],
  [10, "10 Mb/s"],
  [87.4, "87 Mb/s"],
  [999.4, "999 Mb/s"],
  [1000, "1 Gb/s"],
  [1234, "1.23 Gb/s"],
  [9990, "9.99 Gb/s"],
  [10000, "10 Gb/s"],
  [12340, "12.3 Gb/s"],
])("a rate of %f Mb/s reads %s", (mbps, words) => expect(formatRate(mbps)).toBe(words));
it.each([
  [-61.6, "−62 dBm"],
  [0, "0 dBm"],
  [3.2, "3 dBm"],
  [-Infinity, "–"],
])("a power of %f reads %s", (dbm, words) => expect(formatDbm(dbm)).toBe(words));
it.each([
  [{ quantity: "power_dbm", value: -61 }, "−61 dBm"],
  [{ quantity: "power_dbm", value: -95, at_most: true }, "≤ −95 dBm"],
  [{ quantity: "delay_ms", value: 12.345 }, "12.3 ms"],
  [{ quantity: "loaded_delay_ms", value: 1.5, at_most: true }, "≤ 1.5 ms"],
  [{ quantity: "down_mbps", value: 87 }, "87 Mb/s"],
])("a reading %o reads %s", (one, words) => expect(formatReading(one)).toBe(words));
it.each([
  [12, "$12"],
  [12.5, "$12.50"],
  [99.99, "$99.99"],
  [100.4, "$100"],
  [-99.5, "-$99.50"],
  [-100.4, "-$100"],
  [1234, "$1,234"],
])("%f dollars read %s", (amount, words) => expect(formatMoney(amount, "USD")).toBe(words));
it.each([
  [59.4, "59 min"],
  [59.6, "1 h 00 min"],
  [60, "1 h 00 min"],
  [125, "2 h 05 min"],
])("%f minutes read %s", (minutes, words) => expect(formatMinutes(minutes)).toBe(words));
it.each([
  [0, "1 kB"],
  [1499, "1 kB"],
  [1500, "2 kB"],
  [999_000, "999 kB"],
  [1e6, "1.0 MB"],
  [2_540_000, "2.5 MB"],
])("%i bytes read %s", (bytes, words) => expect(formatBytes(bytes)).toBe(words));

describe("in French", () => {
  beforeEach(() => speak("fr"));
  afterEach(() => speak("en"));

  it("a comma stands before the decimals", () => {
    expect([formatRate(1250), formatBand("2.4"), fixed(3.14159, 2), figure(0.5)]).toEqual([
      "1,25 Gb/s",
      "2,4 GHz",
      "3,14",
      "0,5",
    ]);
  });

  it("a span, money and bytes are as French writes them", () => {
    expect(formatRateSpan(180, 420)).toBe("180 à 420 Mb/s");
    expect(formatMoney(1240.5, "EUR").replace(/\s/g, " ")).toBe("1 241 €");
    expect(formatMoney(12.5, "EUR").replace(/\s/g, " ")).toBe("12,50 €");
    expect(formatMoney(712, "GBP").replace(/\s/g, " ")).toBe("712 £");
    expect(formatBytes(2_540_000)).toBe("2,5 Mo");
  });
});
