/** A server's sockets, a browser's database and its clock, played by a test. */

import { IDBDatabase as FDBDatabase, IDBFactory } from "fake-indexeddb";
import { vi } from "vitest";
import { applied } from "../src/job/apply";
import type { Change, Job } from "../src/job/types";

/** A socket on which the test plays the server: nothing happens by itself. */
export class FakeSocket {
  static readonly CONNECTING = 0;
  static readonly OPEN = 1;
  static readonly CLOSING = 2;
  static readonly CLOSED = 3;
  static all: FakeSocket[] = [];
  static get last(): FakeSocket {
    return FakeSocket.all.at(-1)!;
  }

  readyState = FakeSocket.CONNECTING;
  binaryType = "blob";
  sent: Record<string, unknown>[] = [];
  onopen: (() => void) | null = null;
  onmessage: ((message: { data: string | ArrayBuffer }) => void) | null = null;
  onclose: ((end: { code: number; reason: string }) => void) | null = null;

  constructor(readonly url: string) {
    FakeSocket.all.push(this);
  }
  send(text: string): void {
    if (this.readyState !== FakeSocket.OPEN) throw new Error("sent on a socket that is not open");
    this.sent.push(JSON.parse(text) as Record<string, unknown>);
  }
  /** As in a browser, the end is told later. */
  close(): void {
    this.readyState = FakeSocket.CLOSING;
  }

  open(): void {
    this.readyState = FakeSocket.OPEN;
    this.onopen?.();
  }
  says(message: object): void {
    this.onmessage?.({ data: JSON.stringify(message) });
  }
  end(code = 1006, reason = ""): void {
    this.readyState = FakeSocket.CLOSED;
    this.onclose?.({ code, reason });
  }
  /** What the page sent of one kind. */
  of(type: string): Record<string, unknown>[] {
    return this.sent.filter((one) => one.type === type);
  }
}

const page = { events: new EventTarget() };

/** Before each test: no sockets yet, an empty database, a clock that stands. */
export function freshBrowser(): void {
  FakeSocket.all = [];
  page.events = new EventTarget();
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
  vi.stubGlobal("WebSocket", FakeSocket);
  vi.stubGlobal("indexedDB", new IDBFactory());
  vi.stubGlobal("window", globalThis);
  vi.stubGlobal("location", { protocol: "http:", host: "sheet.test" });
  vi.stubGlobal("addEventListener", (name: string, heard: () => void) => page.events.addEventListener(name, heard));
  vi.stubGlobal("removeEventListener", (name: string, heard: () => void) =>
    page.events.removeEventListener(name, heard),
  );
}

type Breakable = { _abort: (name: string) => void };

/** From now on what is written breaks off as on a full disk: once every request has succeeded. */
export function fullDisk(): void {
  const begin = FDBDatabase.prototype.transaction;
  vi.spyOn(FDBDatabase.prototype, "transaction").mockImplementation(function (this: IDBDatabase, names, mode) {
    const made = begin.call(this, names, mode);
    const store = made.objectStore(String(names));
    for (const verb of ["put", "delete"] as const) {
      const real = store[verb].bind(store) as (...given: unknown[]) => IDBRequest;
      Object.assign(store, {
        [verb]: (...given: unknown[]) => {
          const request = real(...given);
          request.addEventListener("success", () => (made as unknown as Breakable)._abort("QuotaExceededError"));
          return request;
        },
      });
    }
    return made;
  });
}

export const pageEvents = (): EventTarget => page.events;

export function happens(event: "online" | "offline"): void {
  page.events.dispatchEvent(new Event(event));
}

declare const setImmediate: (run: () => void) => void; // of Node

/** Lets promises and the database go on; timers stand still. */
export async function settled(): Promise<void> {
  for (let turn = 0; turn < 20; turn++) await new Promise<void>((resolve) => setImmediate(resolve));
}

/** What the page asked of the server over HTTP is answered by the test. */
export function answering(answer: (method: string, path: string, body: unknown) => unknown): string[] {
  const asked: string[] = [];
  vi.stubGlobal("fetch", async (path: string, wanted: RequestInit) => {
    asked.push(`${wanted.method} ${path}`);
    const said = await answer(wanted.method!, path, wanted.body);
    return said instanceof Response ? said : new Response(JSON.stringify(said), { status: 200 });
  });
  return asked;
}

export const EMPTY = {
  schema_version: 3,
  id: "j",
  title: "J",
  units: "metric",
  boxes: [],
  service: { modem: null, run: null, enters: null },
  devices: [],
  needs: [],
  obligations: [],
  readings: [],
  heard: [],
  placed_plugs: [],
  trace_readings: [],
  line_checks: [],
  decisions: [],
  ticks: [],
  acceptance: [],
  house: {
    name: "H",
    storeys: [],
    rooms: [],
    walls: [],
    openings: [],
    bodies: [],
    outlets: [],
    meeting_points: [],
    splitters: [],
    runs: [],
    hazards: [],
    bells: [],
  },
} as unknown as Job;

export const wall = (id: string, x = 0): Change => ({
  do: "put",
  kind: "wall",
  entity: { id, storey: "1", start: [x, 0], end: [x, 4] },
});

export const jobWith = (...changes: Change[]): Job =>
  applied(EMPTY, [{ do: "put", kind: "storey", entity: { id: "1", name: "Ground", elevation_m: 0 } }, ...changes]);
