/** What the pages say, in the reader's language: a sentence by its code, with its values. */

import { LANGUAGES, type Code, type Named, type Words } from "./catalogue";

export type Language = (typeof LANGUAGES)[number];
type Value = string | number | readonly string[];
type Given<C extends Code> = [Named[C]] extends [never] ? [] : [values: Record<Named[C], Value>];

const KEPT = "rehaul-language";
const BEFORE_A_SIGN = / (?=[:;?!%»])|(?<=«) /g; // French keeps these on one line

/** Each language is a file of its own; a page fetches the one that it is read in. */
const FILES: Record<Language, () => Promise<Words>> = {
  en: () => import("./en"),
  fr: () => import("./fr"),
};
const learnt: Partial<Record<Language, Words>> = {};

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

/** Fetches the sentences of a language; rejects where they cannot be had. */
export async function learn(one: Language): Promise<void> {
  learnt[one] ??= await FILES[one]();
}

/**
 * To be waited for before anything is said: fetches the reader's language. Where it cannot be had, as without a
 * connection after the browser's own was changed, the page is in another that can be for this once.
 */
export async function start(): Promise<void> {
  let fault: unknown;
  for (const one of new Set([current, ...LANGUAGES])) {
    try {
      await learn(one);
      current = one;
      return;
    } catch (found) {
      fault ??= found;
    }
  }
  throw fault;
}

/** Reads in another language from now on, learnt before; the page is drawn anew by loading it again. */
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
  const { TERMS } = words();
  return Object.hasOwn(TERMS, text) ? typeset(TERMS[text]!) : text;
}

/** `a, b and c`. */
export function listed(names: readonly string[]): string {
  return inARow("words.and", names);
}

function words(): Words {
  const found = learnt[current];
  if (!found) throw new Error(`${current} is not learnt yet: wait for start() before anything is said`);
  return found;
}

function sentence(code: Code): string {
  return typeset(words().SENTENCES[code]);
}

function typeset(text: string): string {
  return current === "fr" ? text.replace(BEFORE_A_SIGN, "\u00a0") : text;
}

function fill(text: string, values: Record<string, Value>): string {
  return text.replace(/\{(\w+)(?:!(\w))?(?::([^}]*))?\}|\{\{|\}\}/g, (all, name?: string, turn?: string, form = "") =>
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
