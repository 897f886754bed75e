import { expect, it } from "vitest";
import { FLOORS } from "../floors.js";

const sources = import.meta.glob<string>("../src/**/*.{ts,svelte}", { query: "?raw", import: "default", eager: true });

/** What a source imports of ours: `import`, `export ... from`, and `import()`. */
function imported(text: string): string[] {
  return [...text.matchAll(/(?:\bfrom|\bimport)\s*\(?\s*["'](\.\.?\/[^"']+)["']/g)].map(([, path]) => path!);
}

/** The folder of src that an import of a file leads to; "" for src itself. */
function floorOf(file: string, path: string): string {
  return new URL(path, `http://x/${file}`).pathname.split("/").slice(1, -1)[0] ?? "";
}

it("imports only go down", () => {
  const wrong: string[] = [];
  let seen = 0;
  for (const [name, text] of Object.entries(sources)) {
    const file = name.replace("../src/", "");
    const floor = FLOORS.indexOf(file.split("/")[0]!);
    if (floor < 0) continue;
    for (const path of imported(text)) {
      seen += 1;
      const target = floorOf(file, path);
      if (target === "" || FLOORS.indexOf(target) > floor) wrong.push(`${file} imports ${path}`);
    }
  }
  expect(seen).toBeGreaterThan(200);
  expect(wrong).toEqual([]);
});

it("every folder is a floor", () => {
  const folders = new Set(Object.keys(sources).map((name) => name.split("/").slice(2, -1)[0]));
  expect([...folders].filter((one) => one && !FLOORS.includes(one))).toEqual([]);
});

it("sees every way of importing", () => {
  const text = `import a from "../job/a";\nimport "./b.css";\nexport { c } from '../net/c';\nconst d = await import("../pages/d");`;
  expect(imported(text)).toEqual(["../job/a", "./b.css", "../net/c", "../pages/d"]);
  expect(floorOf("plan/x.ts", "../pages/d")).toBe("pages");
  expect(floorOf("plan/x.ts", "./d")).toBe("plan");
  expect(floorOf("plan/x.ts", "../App.svelte")).toBe("");
});
