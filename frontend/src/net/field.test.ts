import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { FakeSocket, freshBrowser, happens } from "../../tests/live";
import type { RefusalData } from "./api";
import { FieldLink, rasterFrom, type MapAsk, type Raster, type SpotAnswer } from "./field";

const links: FieldLink[] = [];
beforeEach(freshBrowser);
afterEach(() => {
  links.splice(0).forEach((one) => one.close());
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

function linked(open = true): { link: FieldLink; socket: FakeSocket } {
  const link = new FieldLink("a job");
  links.push(link);
  if (open) FakeSocket.last.open();
  return { link, socket: FakeSocket.last };
}

const AWAY = {
  code: "away",
  problem: "the server does not answer",
  where: "",
  remedy: "What you draw is kept here and sent when it is back",
};
const map = (step_m: number): MapAsk => ({ storey: "1", quantity: "down_mbps", band: null, boxes: "today", step_m });
const spotAt = (link: FieldLink, x: number) => link.spot({ boxes: "today", moves: [] }, "1", [x, 2]);
const answer = { median_mbps: 87, links: [] } as unknown as SpotAnswer;

/** A raster as the server frames it: the length of the header, the header, and the values. */
function framed(n: number, values: number[]): ArrayBuffer {
  const header: Record<string, unknown> = { n, storey: "1", rows: 1, cols: values.length };
  let text = JSON.stringify(header);
  text += " ".repeat((4 - (text.length % 4)) % 4);
  const buffer = new ArrayBuffer(4 + text.length + 4 * values.length);
  new DataView(buffer).setUint32(0, text.length, true);
  new Uint8Array(buffer, 4, text.length).set(new TextEncoder().encode(text));
  new Float32Array(buffer, 4 + text.length).set(values);
  return buffer;
}

/** What a promise came to by now; undefined while it stays unanswered. */
async function byNow<T>(promise: Promise<T>): Promise<T | undefined> {
  let found: T | undefined;
  void promise.then((value) => (found = value));
  for (let turn = 0; turn < 5; turn++) await Promise.resolve();
  return found;
}

describe("a map", () => {
  it("is read from its frame", () => {
    const raster = rasterFrom(framed(3, [1.5, -2]));
    expect(raster).toMatchObject({ n: 3, storey: "1", rows: 1, cols: 2 });
    expect([...raster.values]).toEqual([1.5, -2]);
  });
  it("is asked for on the field socket of its job, as bytes", () => {
    const { link, socket } = linked(false);
    expect(socket.url).toBe("ws://sheet.test/api/jobs/a%20job/field?language=en");
    expect(socket.binaryType).toBe("arraybuffer");
    link.map(map(1));
    expect(socket.sent).toEqual([]);
    socket.open();
    expect(socket.sent).toEqual([{ n: 1, ...map(1) }]);
  });
  it("is asked for one at a time: only the newest waits, and the pointer's time comes back", () => {
    const { link, socket } = linked();
    const got: [number | undefined, number][] = [];
    link.onRaster = (raster: Raster, asked_ms: number) => got.push([raster.n, asked_ms]);
    link.map(map(1), 100);
    link.map(map(2), 110);
    link.map(map(3), 120);
    expect(socket.sent.map((one) => one.step_m)).toEqual([1]);
    socket.onmessage!({ data: framed(1, [1]) });
    expect(socket.sent.map((one) => one.step_m)).toEqual([1, 3]);
    socket.onmessage!({ data: framed(2, [1]) });
    expect(got).toEqual([
      [1, 100],
      [2, 120],
    ]);
    expect(socket.sent.length).toBe(2);
  });
  it("that the page holds is not said again: the server is told which, storey by storey", () => {
    const { link, socket } = linked();
    const got: [Raster, number][] = [];
    link.onRaster = (raster, asked_ms) => got.push([raster, asked_ms]);
    const asks = (storey: string, at_ms: number) => link.map({ ...map(1), storey }, at_ms);
    asks("1", 100);
    expect(socket.sent[0]).not.toHaveProperty("held");
    socket.onmessage!({ data: framed(1, [1]) });
    asks("2", 110);
    expect(socket.sent[1]).not.toHaveProperty("held");
    socket.says({ n: 2, as_held: true }); // of a storey of which nothing is held: as if nothing had come
    expect(got.length).toBe(1);
    asks("1", 120);
    expect(socket.sent[2]).toMatchObject({ n: 3, storey: "1", held: 1 });
    socket.says({ n: 3, as_held: true });
    expect(got[1]![0]).toBe(got[0]![0]);
    expect(got[1]![1]).toBe(120);
    asks("1", 130);
    expect(socket.sent[3]).toMatchObject({ n: 4, held: 3 });
    socket.onmessage!({ data: framed(4, [2]) });
    expect([...got[2]![0].values]).toEqual([2]);
    asks("1", 140);
    expect(socket.sent[4]).toMatchObject({ n: 5, held: 4 });
    socket.says({ n: 4, as_held: true }); // an older word
    expect(got.length).toBe(3);
  });
  it("that nobody asked for is not shown", () => {
    const { link, socket } = linked();
    const got: unknown[] = [];
    link.onRaster = (raster) => got.push(raster);
    link.map(map(1));
    socket.onmessage!({ data: framed(9, [1]) });
    expect(got).toEqual([]);
    link.map(map(2));
    expect(socket.sent.length).toBe(1); // the first is still being made
  });
  it("that is refused is told, and the next goes out", () => {
    const { link, socket } = linked();
    const told: RefusalData[] = [];
    link.onRefusal = (refusal) => told.push(refusal);
    link.map(map(1));
    link.map(map(2));
    const refusal = {
      code: "bad-input",
      problem: "there is no plan yet",
      where: "boxes",
      remedy: "Make the plan first",
    };
    socket.says({ n: 7, refusal });
    expect(told).toEqual([]);
    socket.says({ n: 1, refusal });
    expect(told).toEqual([refusal]);
    expect(socket.sent.map((one) => one.step_m)).toEqual([1, 2]);
    socket.says({ n: 2 });
    expect(told.length).toBe(1);
  });
  it("goes out on the next socket, 1.5 s after the last one shut", () => {
    const { link, socket } = linked();
    link.map(map(1));
    link.map(map(2));
    socket.end();
    vi.advanceTimersByTime(1499);
    expect(FakeSocket.all.length).toBe(1);
    vi.advanceTimersByTime(1);
    expect(FakeSocket.all.length).toBe(2);
    FakeSocket.last.open();
    expect(FakeSocket.last.sent.map((one) => one.step_m)).toEqual([2]);
  });
  it("is asked for no more by a page that was left", () => {
    const { link, socket } = linked();
    link.close();
    expect(socket.readyState).toBe(FakeSocket.CLOSING);
    socket.end();
    vi.advanceTimersByTime(10_000);
    expect(FakeSocket.all.length).toBe(1);
    const { link: other, socket: shut } = linked();
    shut.end();
    other.close();
    vi.advanceTimersByTime(10_000);
    expect(FakeSocket.all.length).toBe(2);
  });
});

describe("a spot", () => {
  it("is answered, each its own", async () => {
    const { link, socket } = linked();
    link.map(map(1));
    const one = spotAt(link, 1);
    const two = spotAt(link, 2);
    expect(socket.sent[1]).toEqual({ n: 2, spot: { storey: "1", position: [1, 2] }, boxes: "today", moves: [] });
    const refusal = { ...AWAY, code: "bad-input", problem: "outside" };
    socket.says({ n: 2, refusal });
    socket.says({ n: 3, spot: answer });
    expect(await byNow(one)).toEqual(refusal);
    expect(await byNow(two)).toEqual(answer);
    socket.says({ n: 1 }); // the map's own answer still counts
    link.map(map(2));
    expect(socket.sent.length).toBe(4);
  });
  it("is refused at once where there is no socket", async () => {
    const { link, socket } = linked(false);
    expect(await byNow(spotAt(link, 1))).toEqual(AWAY);
    socket.open();
    expect(socket.sent).toEqual([]);
  });
  it("is refused with what the server said when the socket shuts", async () => {
    const { link, socket } = linked();
    const asked = spotAt(link, 1);
    socket.end(1013, "there are too many here");
    expect(await byNow(asked)).toEqual({ ...AWAY, problem: "there are too many here" });
    vi.advanceTimersByTime(1500);
    FakeSocket.last.open();
    const again = spotAt(link, 1);
    FakeSocket.last.end(1006, "");
    expect(await byNow(again)).toEqual(AWAY);
  });
  it("is refused when the page closes the socket, which says so much later or never", async () => {
    const { link } = linked();
    const asked = spotAt(link, 1);
    link.close();
    expect(await byNow(asked)).toEqual(AWAY);
  });
  it("is refused when the browser says there is no network, and the next socket is tried", async () => {
    const { link, socket } = linked();
    const asked = spotAt(link, 1);
    happens("offline");
    expect(await byNow(asked)).toEqual(AWAY);
    expect(socket.readyState).toBe(FakeSocket.CLOSING);
    vi.advanceTimersByTime(1500);
    expect(FakeSocket.all.length).toBe(2);
    FakeSocket.last.open();
    const next = spotAt(link, 3);
    socket.end(); // the old one, at last: that ends nothing of the new one
    vi.advanceTimersByTime(5000);
    expect(FakeSocket.all.length).toBe(2);
    FakeSocket.last.says({ n: 2, spot: answer });
    expect(await byNow(next)).toEqual(answer);
  });
  it("that later ones overtook on the server is refused when one of those is answered", async () => {
    const { link, socket } = linked();
    const asked = [1, 2, 3].map((x) => spotAt(link, x));
    socket.says({ n: 2, spot: answer });
    expect(await byNow(asked[0]!)).toMatchObject({ code: "overtaken" });
    expect(await byNow(asked[1]!)).toEqual(answer);
    expect(await byNow(asked[2]!)).toBeUndefined();
  });
  it("is refused when the answer cannot be read", async () => {
    const { link, socket } = linked();
    const asked = spotAt(link, 1);
    socket.says({ n: 1 });
    expect(await byNow(asked)).toEqual(AWAY);
  });
});
