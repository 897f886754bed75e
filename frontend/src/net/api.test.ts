import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { answering, freshBrowser } from "../../tests/live";
import { speak } from "../words/say";
import { ask, AWAY, factTable, get, post, Refusal, saidAtEnd, socketUrl, wordsOf } from "./api";

beforeEach(freshBrowser);
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const refusal = { code: "taken", problem: "that id is taken", where: "W1", remedy: "take another" };

async function fault(work: Promise<unknown>): Promise<Refusal> {
  return work.then(
    () => {
      throw new Error("it was not refused");
    },
    (one: Refusal) => one,
  );
}

describe("a refusal in words", () => {
  it("says where, what, and what to do, each a sentence", () => {
    expect(wordsOf(refusal)).toBe("W1: that id is taken. Take another.");
    expect(wordsOf({ ...refusal, where: "", remedy: "" })).toBe("That id is taken.");
    expect(wordsOf({ ...refusal, where: "", problem: "That is so.", remedy: "" })).toBe("That is so.");
  });
  it("of a socket's end is what the server said, if it said why", () => {
    expect(saidAtEnd({ code: 1013, reason: "full" })).toEqual({ ...AWAY, problem: "full" });
    expect(saidAtEnd({ code: 1013, reason: "" })).toBeNull();
    expect(saidAtEnd({ code: 1006, reason: "full" })).toBeNull();
  });
});

describe("a call", () => {
  it("sends JSON, and bytes as they are", async () => {
    const sent: RequestInit[] = [];
    vi.stubGlobal("fetch", async (_: string, wanted: RequestInit) => {
      sent.push(wanted);
      return new Response("{}");
    });
    await post("/a", { b: 1 });
    await post("/a");
    await ask("POST", "/a", new Blob(["x"]));
    await ask("POST", "/a", new ArrayBuffer(2));
    await ask("POST", "/a", new Uint8Array(2));
    await get("/a");
    expect(sent.map((one) => [one.method, Object.keys(one.headers!).includes("content-type")])).toEqual([
      ["POST", true],
      ["POST", false],
      ["POST", false],
      ["POST", false],
      ["POST", false],
      ["GET", false],
    ]);
    expect(sent[0]).toMatchObject({ body: '{"b":1}', headers: { "content-type": "application/json" } });
    expect(sent[1]!.body).toBeNull();
    expect(sent[2]!.body).toBeInstanceOf(Blob);
    expect(sent[3]!.body).toBeInstanceOf(ArrayBuffer);
  });
  it("that is refused throws the refusal", async () => {
    answering(() => new Response(JSON.stringify(refusal), { status: 409 }));
    const one = await fault(get("/a"));
    expect(one).toBeInstanceOf(Refusal);
    expect([one.status, one.data, one.message]).toEqual([409, refusal, wordsOf(refusal)]);
  });
  it("that is answered otherwise says with which number", async () => {
    answering(() => new Response("<html>", { status: 502 }));
    expect((await fault(get("/a"))).message).toBe("The server answered 502. Try again.");
  });
  it("that nobody answers says so", async () => {
    answering(() => {
      throw new TypeError("no network");
    });
    const one = await fault(get("/a"));
    expect([one.status, one.data]).toEqual([0, AWAY]);
  });
});

it("a fact table is asked for once, and again when that failed", async () => {
  let fails = true;
  const asked = answering(() => {
    if (fails) throw new Error("gone");
    return [{ name: "a" }];
  });
  await fault(factTable("things"));
  fails = false;
  expect(await factTable("things")).toEqual([{ name: "a" }]);
  expect(await factTable("things")).toEqual([{ name: "a" }]);
  expect(asked).toEqual(["GET /api/facts/things", "GET /api/facts/things"]);
});

it("a socket is as safe as the page", () => {
  expect(socketUrl("/x")).toBe("ws://sheet.test/x?language=en");
  vi.stubGlobal("location", { protocol: "https:", host: "sheet.test" });
  expect(socketUrl("/x")).toBe("wss://sheet.test/x?language=en");
});

it("every request and socket tells the language of this device", async () => {
  const sent: RequestInit[] = [];
  vi.stubGlobal("fetch", async (_: string, init: RequestInit) => {
    sent.push(init);
    return new Response("{}");
  });
  speak("fr");
  await get("/a");
  await post("/a", { b: 1 });
  await ask("POST", "/a", new Blob(["x"]));
  expect(sent.map((one) => (one.headers as Record<string, string>)["accept-language"])).toEqual(["fr", "fr", "fr"]);
  expect(socketUrl("/x")).toMatch(/\?language=fr$/);
  speak("en");
  await get("/a");
  expect(sent.at(-1)!.headers).toMatchObject({ "accept-language": "en" });
});
