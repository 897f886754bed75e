/** Maps that follow the pointer: the newest request wins, older ones are never waited for. */

import type { Change } from "../job/types";
import type { Point } from "../maths/geometry";
import { AWAY, saidAtEnd, socketUrl, type RefusalData } from "./api";
import { say } from "../words/say";

export const QUANTITIES = [
  "down_mbps",
  "low_mbps",
  "high_mbps",
  "up_mbps",
  "up_low_mbps",
  "up_high_mbps",
  "air_mbps",
  "power_dbm",
  "power_sd_db",
] as const;
export type Quantity = (typeof QUANTITIES)[number];
export type Boxes = "today" | "plan";
export type Move = { id: string; position: Point; storey?: string };

/** What a map says of a room's middling spot, one way: a 90 % range, and what the air alone would carry. */
export type RoomNow = readonly [low_mbps: number, median_mbps: number, high_mbps: number, air_mbps: number];

export type Raster = {
  storey: string;
  quantity: Quantity;
  band: string | null;
  rows: number;
  cols: number;
  x0_m: number;
  y0_m: number;
  step_m: number;
  revision: number;
  n?: number;
  took_ms?: number;
  rooms: Readonly<Record<string, RoomNow>>;
  values: Float32Array;
};
/** One link of a chain; `up_mbps` where it differs from the way down. */
export type LinkRate = { name: string; rate_mbps: number; up_mbps: number | null };
export type SpotAnswer = {
  low_mbps: number;
  median_mbps: number;
  high_mbps: number;
  power_dbm: number;
  power_sd_db: number;
  source: string;
  band: string;
  links: LinkRate[];
  narrowest: string;
  up_low_mbps: number;
  up_median_mbps: number;
  up_high_mbps: number;
  narrowest_up: string;
};
export type MapAsk = {
  storey: string;
  quantity: Quantity;
  band: string | null;
  boxes: Boxes;
  moves?: Move[];
  changes?: Change[];
  step_m?: number;
};

/** What the server says in words: a spot, that a map is as the page holds it, or why there is none. */
type Said = { n: number; spot?: SpotAnswer; as_held?: true; refusal?: RefusalData };

/** The server answers the newest few of many spots. */
const OVERTAKEN: RefusalData = {
  code: "overtaken",
  problem: say("page_frame.a_later_question_came_first"),
  where: "",
  remedy: "",
};

export function rasterFrom(buffer: ArrayBuffer): Raster {
  const length = new DataView(buffer).getUint32(0, true);
  const header = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length)));
  return { ...header, values: new Float32Array(buffer, 4 + length) };
}

export class FieldLink {
  /** The same object again is the map that stands already. */
  onRaster: (raster: Raster, asked_ms: number) => void = () => {};
  onRefusal: (refusal: RefusalData) => void = () => {};

  #socket: WebSocket | null = null;
  #n = 0;
  #busy: { n: number; at_ms: number; storey: string } | null = null;
  #next: { ask: MapAsk; at_ms: number } | null = null;
  #held = new Map<string, { n: number; raster: Raster }>(); // by storey: what need not be said again
  #spots = new Map<number, (spot: SpotAnswer | RefusalData) => void>();
  #closed = false;
  #timer = 0;

  constructor(readonly key: string) {
    this.#connect();
    addEventListener("offline", this.#lost);
  }

  /** Ask for a map; `at_ms` is the pointer's time, given back with the answer. */
  map(ask: MapAsk, at_ms = performance.now()): void {
    this.#next = { ask, at_ms };
    this.#push();
  }

  spot(
    ask: Omit<MapAsk, "storey" | "quantity" | "band">,
    storey: string,
    position: Point,
  ): Promise<SpotAnswer | RefusalData> {
    return new Promise((resolve) => {
      if (this.#socket?.readyState !== WebSocket.OPEN) return resolve(AWAY);
      const n = ++this.#n;
      this.#spots.set(n, resolve);
      this.#send({ n, spot: { storey, position }, ...ask });
    });
  }

  close(): void {
    this.#closed = true;
    removeEventListener("offline", this.#lost);
    clearTimeout(this.#timer);
    this.#lost();
  }

  /** What a socket that is left says of its end comes late or never: nobody waits for it. */
  #lost = (): void => {
    const socket = this.#socket;
    this.#ended(socket, AWAY);
    socket?.close();
  };

  /** Whatever was asked over a socket is answered when it ends. */
  #ended(socket: WebSocket | null, said: RefusalData): void {
    if (!socket || socket !== this.#socket) return;
    this.#socket = null;
    this.#busy = null;
    this.#refuseSpots(said);
    if (!this.#closed) this.#timer = window.setTimeout(() => this.#connect(), 1500);
  }

  #refuseSpots(said: RefusalData, before = Infinity): void {
    for (const [n, resolve] of this.#spots) {
      if (n >= before) continue;
      this.#spots.delete(n);
      resolve(said);
    }
  }

  #push(): void {
    if (!this.#next || this.#busy || this.#socket?.readyState !== WebSocket.OPEN) return;
    const { ask, at_ms } = this.#next;
    this.#next = null;
    this.#busy = { n: ++this.#n, at_ms, storey: ask.storey };
    this.#send({ n: this.#n, ...ask, held: this.#held.get(ask.storey)?.n });
  }

  #send(message: unknown): void {
    if (this.#socket?.readyState === WebSocket.OPEN) this.#socket.send(JSON.stringify(message));
  }

  #connect(): void {
    const socket = new WebSocket(socketUrl(`/api/jobs/${encodeURIComponent(this.key)}/field`));
    socket.binaryType = "arraybuffer";
    this.#socket = socket;
    socket.onopen = () => this.#push();
    socket.onclose = (end) => this.#ended(socket, saidAtEnd(end) ?? AWAY);
    socket.onmessage = (message) => {
      if (socket !== this.#socket) return;
      if (typeof message.data === "string") this.#text(JSON.parse(message.data));
      else {
        const raster = rasterFrom(message.data as ArrayBuffer);
        const asked = this.#done(raster.n);
        if (asked) {
          this.#held.set(asked.storey, { n: asked.n, raster });
          this.onRaster(raster, asked.at_ms);
        }
        this.#push();
      }
    };
  }

  #text(answer: Said): void {
    const waiting = this.#spots.get(answer.n);
    if (waiting) {
      this.#spots.delete(answer.n);
      this.#refuseSpots(OVERTAKEN, answer.n); // they are answered in order
      waiting(answer.spot ?? answer.refusal ?? AWAY);
      return;
    }
    const asked = this.#done(answer.n);
    if (asked && answer.refusal) this.onRefusal(answer.refusal);
    const held = asked && answer.as_held && this.#held.get(asked.storey);
    if (held) {
      held.n = answer.n;
      this.onRaster(held.raster, asked.at_ms);
    }
    this.#push();
  }

  #done(n: number | undefined): { n: number; at_ms: number; storey: string } | null {
    if (this.#busy?.n !== n) return null;
    const asked = this.#busy;
    this.#busy = null;
    return asked;
  }
}
