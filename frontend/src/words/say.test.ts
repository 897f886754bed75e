import { afterEach, describe, expect, it, vi } from "vitest";
import { LANGUAGES, SENTENCES } from "./catalogue";
import { language, listed, say, speak, term } from "./say";

afterEach(() => speak("en"));

describe("what the pages say", () => {
  it("is in the language that was chosen", () => {
    expect(say("words.and", { first: "a", last: "b" })).toBe("a and b");
    speak("fr");
    expect(language()).toBe("fr");
    expect(say("words.and", { first: "a", last: "b" })).toBe("a et b");
  });

  it("counts as the language does", () => {
    expect([0, 1, 2].map((n) => say("words.count_cables", { n }))).toEqual(["0 cables", "1 cable", "2 cables"]);
    speak("fr");
    expect([0, 1, 2].map((n) => say("words.count_cables", { n }))).toEqual(["0 câble", "1 câble", "2 câbles"]);
  });

  it("lists names", () => {
    expect([listed([]), listed(["a"]), listed(["a", "b", "c"])]).toEqual(["", "a", "a, b and c"]);
  });

  it("leaves a name that is no word of a list as it is", () => {
    speak("fr");
    expect(term("Fenella's den")).toBe("Fenella's den");
    expect(term("living room")).toBe("séjour");
  });

  it("keeps a sign and the word before it on one line in French", () => {
    speak("fr");
    expect(say("words.in_turn", { parts: ["a", "", "b"] })).toBe("a\u00a0; b");
  });

  it("keeps what was chosen on this device, and never what is not spoken", () => {
    const kept = new Map<string, string>();
    vi.stubGlobal("localStorage", {
      getItem: (name: string) => kept.get(name) ?? null,
      setItem: (name: string, value: string) => kept.set(name, value),
    });
    speak("fr");
    expect([...kept.values()]).toEqual(["fr"]);
    vi.stubGlobal("localStorage", {
      getItem: () => null,
      setItem: () => {
        throw new Error("full");
      },
    });
    speak("en");
    expect(language()).toBe("en");
    vi.unstubAllGlobals();
  });

  it("has every sentence in every language", () => {
    const empty = Object.entries(SENTENCES).filter(
      ([, said]) => said.length !== LANGUAGES.length || said.some((one) => !one),
    );
    expect(empty).toEqual([]);
  });

  it("names no form of a value that only the server writes", () => {
    const forms = (Object.values(SENTENCES) as unknown as string[][]).flatMap((said) =>
      said.flatMap((words) => [...words.matchAll(/\{\w+(?:!\w)?:(\w+)/g)].map((form) => form[1])),
    );
    expect(forms.length).toBeGreaterThan(20);
    expect(forms.filter((form) => !["count", "one", "and", "or", "join", "term"].includes(form!))).toEqual([]);
  });
});
