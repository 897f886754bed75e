import js from "@eslint/js";
import svelte from "eslint-plugin-svelte";
import globals from "globals";
import ts from "typescript-eslint";
import { FLOORS } from "./floors.js";
import svelteConfig from "./svelte.config.js";

const above = (floor) => FLOORS.slice(FLOORS.indexOf(floor) + 1);

/** No file of a floor imports from one above it, nor from the app. */
const floors = FLOORS.map((floor) => ({
  files: [`src/${floor}/**`],
  rules: {
    "no-restricted-imports": [
      "error",
      {
        patterns: [
          {
            regex: `^\\.\\./(${[...above(floor), "main", "App"].join("|")})(/|\\.|$)`,
            message: `${floor} lies below.`,
          },
        ],
      },
    ],
  },
}));

export default ts.config(
  { ignores: ["node_modules", "dist"] },
  js.configs.recommended,
  ...ts.configs.recommended,
  ...svelte.configs.recommended,
  {
    languageOptions: { globals: { ...globals.browser, ...globals.node } },
    rules: {
      "max-len": ["error", { code: 140 }],
      "no-undef": "off", // TypeScript knows
      "svelte/prefer-svelte-reactivity": "off", // maps and sets are replaced whole here, never changed in place
      eqeqeq: "error",
      "no-var": "error",
      "prefer-const": "off",
      "svelte/prefer-const": "off",
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_" }],
    },
  },
  {
    files: ["**/*.svelte", "**/*.svelte.ts"],
    languageOptions: { parserOptions: { parser: ts.parser, svelteConfig } },
  },
  { files: ["src/words/{en,fr}.ts"], rules: { "max-len": "off" } }, // written: a row a sentence
  ...floors,
);
