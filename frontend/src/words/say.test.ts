import { afterEach, describe, expect, it, vi } from "vitest";
import { LANGUAGES } from "./catalogue";
import * as english from "./en";
import * as french from "./fr";
import { language, listed, say, speak, term } from "./say";
import type * as Say from "./say";

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
    expect(term("constructor")).toBe("constructor"); // of every object, but no word of a list
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
    expect(Object.keys(french.SENTENCES)).toEqual(Object.keys(english.SENTENCES));
    const all = [english.SENTENCES, french.SENTENCES, french.TERMS].flatMap((rows) => Object.entries(rows));
    expect(all.filter(([, words]) => !words)).toEqual([]);
  });

  it("keeps no word of a list that is the same in English", () => {
    expect(Object.keys(english.TERMS)).toEqual([]);
    expect(Object.keys(french.TERMS).length).toBeGreaterThan(500);
  });

  it("names no form of a value that only the server writes", () => {
    const said = [...Object.values(english.SENTENCES), ...Object.values(french.SENTENCES)];
    const forms = said.flatMap((words) => [...words.matchAll(/\{\w+(?:!\w)?:(\w+)/g)].map((form) => form[1]));
    expect(forms.length).toBeGreaterThan(20);
    expect(forms.filter((form) => !["count", "one", "and", "or", "join", "term"].includes(form!))).toEqual([]);
  });
});

describe("a page that opens", () => {
  const fetched: string[] = [];
  const cannotBeHad = new Set<string>();

  /** `say` as a browser has it that asks for these languages and kept that choice. */
  async function opened(asked: string[], kept: string | null = null): Promise<typeof Say> {
    vi.resetModules();
    vi.stubGlobal("navigator", { languages: asked });
    vi.stubGlobal("localStorage", { getItem: () => kept, setItem: () => {} });
    for (const one of LANGUAGES)
      vi.doMock(`./${one}`, async (original) => {
        fetched.push(one);
        if (cannotBeHad.has(one)) throw new Error("no connection");
        return await original();
      });
    return import("./say");
  }
  afterEach(() => {
    fetched.splice(0);
    cannotBeHad.clear();
    for (const one of LANGUAGES) vi.doUnmock(`./${one}`);
    vi.unstubAllGlobals();
  });

  it.each([
    [["fr-CA", "en"], null, "fr", "séjour"],
    [["de-DE", "en-GB", "fr"], null, "en", "living room"],
    [["de-DE"], null, "en", "living room"],
    [["en-GB"], "fr", "fr", "séjour"], // picked on this device
    [["fr"], "en", "en", "living room"],
    [["fr"], "de", "fr", "séjour"], // spoken once, no longer
  ])("asked for %j with %s kept reads %s and fetches no other", async (asked, kept, read, words) => {
    const { language, start, term } = await opened(asked, kept);
    await start();
    expect([language(), fetched, term("living room")]).toEqual([read, [read], words]);
  });

  it("says nothing before it has its words, rather than in another language", async () => {
    const { say, term } = await opened(["fr"]);
    expect(() => say("page_common.house")).toThrow("fr is not learnt yet");
    expect(() => term("living room")).toThrow("fr is not learnt yet");
  });

  it("is in another language where its own cannot be had", async () => {
    cannotBeHad.add("fr");
    const { language, start, say } = await opened(["fr"]);
    await start();
    expect([language(), say("page_common.house"), fetched]).toEqual(["en", "House", ["fr", "en"]]);
  });

  it("is in the last language there is where no other can be had", async () => {
    cannotBeHad.add("en");
    const { language, start, say } = await opened(["en"]);
    await start();
    expect([language(), say("page_common.house")]).toEqual(["fr", "Maison"]);
  });

  it("rejects where none can be had", async () => {
    cannotBeHad.add("fr").add("en");
    await expect((await opened(["fr"])).start()).rejects.toThrow();
  });

  it("learns the other beside its own once it is picked", async () => {
    const { language, learn, speak, start, say } = await opened(["en"]);
    await start();
    await learn("fr");
    expect([language(), say("page_common.house")]).toEqual(["en", "House"]); // until it is spoken
    speak("fr");
    expect(say("page_common.house")).toBe("Maison");
  });
});
