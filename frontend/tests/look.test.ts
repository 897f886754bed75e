import { describe, expect, it } from "vitest";

const FILES = import.meta.glob<string>("../src/**/*.{svelte,css}", { query: "?raw", import: "default", eager: true });
const TOKENS = FILES["../src/style/tokens.css"]!;
const sheets = Object.entries(FILES)
  .filter(([name]) => !name.endsWith("tokens.css"))
  .map(([name, text]) => {
    const style = name.endsWith(".css") ? text : (/<style>([^]*)<\/style>/.exec(text)?.[1] ?? "");
    return { name, style: style.replace(/\/\*[^]*?\*\//g, "") };
  });

/** Values of the tokens in light or dark. */
function tokens(dark: boolean): Map<string, string> {
  const [light, darker] = TOKENS.split("@media (prefers-color-scheme: dark)");
  const found = new Map<string, string>();
  for (const part of dark ? [light!, darker!.split("@media")[0]!] : [light!])
    for (const [, name, value] of part.matchAll(/(--[\w-]+):\s*([^;]+);/g)) found.set(name!, value!.trim());
  return found;
}

/**
 * WCAG 2.2, "relative luminance" and "contrast ratio": coefficients, 0.05 and exponent as read in public copies of the
 * formula; 0.04045 from memory, where older text has 0.03928: no channel of eight bits lies between them.
 */
function contrast(one: string, other: string): number {
  const light = (hex: string): number => {
    const [r, g, b] = [1, 3, 5].map((at) => {
      const c = parseInt(hex.slice(at, at + 2), 16) / 255;
      return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
  };
  const [low, high] = [light(one), light(other)].sort((a, b) => a - b);
  return (high! + 0.05) / (low! + 0.05);
}

describe("the look", () => {
  it("has its colours and faces in one file", () => {
    expect(sheets.length).toBeGreaterThan(60);
    const own = sheets.flatMap(({ name, style }) => [
      ...[...style.matchAll(/#[0-9a-f]{3,8}\b|\b(?:rgb|hsl|oklch)a?\(/gi)].map((hit) => `${name}: ${hit[0]}`),
      ...[...style.matchAll(/font(?:-family)?:[^;]*["'][^;]*;/g)].map((hit) => `${name}: ${hit[0]}`),
    ]);
    expect(own).toEqual([]);
  });

  it("has its sizes of type, radii and shadows in one file", () => {
    const own = sheets.flatMap(({ name, style }) =>
      [...style.matchAll(/(?:font(?:-size)?|border-radius|box-shadow):\s*([^;]+);/g)]
        .filter((hit) => /\d(?:px|rem|em|pt|%)/.test(hit[1]!))
        .map((hit) => `${name}: ${hit[0]}`),
    );
    expect(own).toEqual([]);
  });

  it("uses no token that there is not", () => {
    const known = tokens(false);
    const set = new Set(sheets.flatMap(({ style }) => [...style.matchAll(/(--[\w-]+)\s*:/g)].map((hit) => hit[1]!)));
    const given = ["--covered-left", "--covered-right", "--corners-bottom", "--long", "--below"]; // by a page to its parts
    const strange = sheets.flatMap(({ name, style }) =>
      [...style.matchAll(/var\((--[\w-]+)/g)]
        .filter((hit) => !known.has(hit[1]!) && !set.has(hit[1]!) && !given.includes(hit[1]!))
        .map((hit) => `${name}: ${hit[1]}`),
    );
    expect(strange).toEqual([]);
  });

  it.each([false, true])("can be read, dark: %s", (dark) => {
    const of = tokens(dark);
    const value = (name: string): string => of.get(name)!;
    for (const ground of ["--paper", "--sheet", "--held"])
      for (const words of ["--ink", "--grey"])
        expect(contrast(value(words), value(ground)), `${words} on ${ground}`).toBeGreaterThanOrEqual(4.5);
    for (const ground of ["--accent", "--accent-near"])
      expect(contrast(value("--on-accent"), value(ground)), ground).toBeGreaterThanOrEqual(4.5);
    for (const ground of ["--paper", "--sheet"])
      expect(contrast(value("--accent"), value(ground)), `focus on ${ground}`).toBeGreaterThanOrEqual(3);
  });

  it("reckons contrast as the guideline does", () => {
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 6);
    expect(contrast("#777777", "#ffffff")).toBeCloseTo(4.48, 2); // the grey that just fails; from memory
  });
});
