import { expect, it } from "vitest";

// Lowest first; an import goes down or stays.
const FLOORS = ["maths", "job", "net", "plan", "parts", "meter", "solid", "pages"];
const sources = import.meta.glob<string>("../src/**/*.{ts,svelte}", { query: "?raw", import: "default", eager: true });

it("imports only go down", () => {
  const wrong: string[] = [];
  expect(Object.keys(sources).length).toBeGreaterThan(30);
  for (const [name, text] of Object.entries(sources)) {
    const parts = name.replace("../src/", "").split("/");
    const floor = FLOORS.indexOf(parts[0]!);
    if (floor < 0 || name.includes(".test.")) continue;
    for (const [, path] of text.matchAll(/from "(\.\.?\/[^"]+)"/g)) {
      const target = path!.startsWith("../") ? path!.slice(3).split("/")[0]! : parts[0]!;
      if (FLOORS.indexOf(target) > floor) wrong.push(`${name} imports ${path}`);
    }
  }
  expect(wrong).toEqual([]);
});
