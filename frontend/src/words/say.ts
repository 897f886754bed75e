/** What the pages say, in the reader's language: a sentence by its code, with its values. */

import { LANGUAGES, SENTENCES, type Code, type Named } from "./catalogue";

export type Language = (typeof LANGUAGES)[number];
type Value = string | number | readonly string[];
type Given<C extends Code> = [Named[C]] extends [never] ? [] : [values: Record<Named[C], Value>];

const KEPT = "rehaul-language";
const BEFORE_A_SIGN = / (?=[:;?!%»])|(?<=«) /g; // French keeps these on one line

let current: Language = chosen();

/** The language that this device reads: what was chosen on it, else the browser's own, else English. */
function chosen(): Language {
  const asked = [stored(), ...(globalThis.navigator?.languages ?? [])].map((one) => one.slice(0, 2));
  return asked.find((one): one is Language => (LANGUAGES as readonly string[]).includes(one)) ?? "en";
}

function stored(): string {
  try {
    return globalThis.localStorage?.getItem(KEPT) ?? "";
  } catch {
    return ""; // a browser that keeps nothing
  }
}

export function language(): Language {
  return current;
}

/** Reads in another language from now on; what stands on the page already is drawn anew by loading it again. */
export function speak(to: Language): void {
  current = to;
  try {
    globalThis.localStorage?.setItem(KEPT, to);
  } catch {
    // it holds until the page is shut
  }
}

/** The sentence of a code with its values, as `rehaul.words.template` writes them. */
export function say<C extends Code>(code: C, ...given: Given<C>): string {
  return fill(sentence(code), (given[0] ?? {}) as Record<string, Value>);
}

/** A word of a closed list, such as a cable's state; what is no such word comes back as it is. */
export function term(text: string): string {
  const code = `terms.${text}`;
  return code in SENTENCES ? sentence(code as keyof typeof SENTENCES) : text;
}

/** `a, b and c`. */
export function listed(names: readonly string[]): string {
  return inARow("words.and", names);
}

function sentence(code: keyof typeof SENTENCES): string {
  const words = SENTENCES[code][LANGUAGES.indexOf(current)]!;
  return current === "fr" ? words.replace(BEFORE_A_SIGN, "\u00a0") : words;
}

function fill(words: string, values: Record<string, Value>): string {
  return words.replace(/\{(\w+)(?:!(\w))?(?::([^}]*))?\}|\{\{|\}\}/g, (all, name?: string, turn?: string, form = "") =>
    name === undefined ? all[0]! : turned(written(values[name]!, form), turn),
  );
}

function written(value: Value, form: string): string {
  const [kind, ...words] = form.split("|");
  if (kind === "count") return `${value} ${oneOf(Number(value), words)}`;
  if (kind === "one") return oneOf(Number(value), words);
  if (kind === "and" || kind === "or") return inARow(`words.${kind}`, value as readonly string[]);
  if (kind === "join") return (value as readonly string[]).filter(Boolean).join(words[0]);
  if (kind === "term") return term(String(value));
  return typeof value === "number" && current === "fr" ? String(value).replace(".", ",") : String(value);
}

function oneOf(count: number, [one, several]: string[]): string {
  return (current === "en" ? count === 1 : Math.abs(count) < 2) ? one! : several!;
}

function inARow(joint: "words.and" | "words.or", names: readonly string[]): string {
  if (names.length < 2) return names.join("");
  return fill(sentence(joint), { first: names.slice(0, -1).join(", "), last: names.at(-1)! });
}

function turned(text: string, turn: string | undefined): string {
  if (turn === "c") return text.charAt(0).toUpperCase() + text.slice(1);
  if (turn === "l") return text.charAt(0).toLowerCase() + text.slice(1);
  return turn === "s" && text && !/[.?!]$/.test(text) ? `${text}.` : text;
}
