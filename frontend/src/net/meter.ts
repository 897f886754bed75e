/** Rates and delay between this device and the server, over the local network. */

import { ask, get, post } from "./api";

export type Phase = "delay" | "down" | "up";
export type Measured = {
  delays_ms: number[]; loaded_ms: number[]; down_mbps: number[]; up_mbps: number[];
  limit: "network" | "server"; waiting_share: number;
};

const STREAMS = 4;
const SECONDS = 4;
const WARM_S = 0.7; // rates rise at first; that says nothing of the air
const SLICE_MS = 250;
const PINGS = 15;
const CHUNK = 8 << 20;

/** One run: delay, then down, then up, with delay under load beside. */
export async function measure(tell: (phase: Phase, mbps: number | null) => void, stop: AbortSignal): Promise<Measured> {
  const { run } = await post<{ run: string }>("/api/meter");
  const path = `/api/meter/${encodeURIComponent(run)}`;
  tell("delay", null);
  const delays_ms = await pings(path, PINGS, stop);
  const loaded_ms: number[] = [];
  const beside = async (going: () => boolean): Promise<void> => {
    while (going() && !stop.aborted) {
      loaded_ms.push(...(await pings(path, 1, stop)));
      await new Promise((later) => setTimeout(later, 200));
    }
  };
  const down_mbps = await sliced((count, until) => Promise.all(Array.from({ length: STREAMS }, () => pull(path, count, until, stop))), (mbps) => tell("down", mbps), beside);
  const up_mbps = await sliced((count, until) => Promise.all(Array.from({ length: STREAMS }, () => push(path, count, until, stop))), (mbps) => tell("up", mbps), beside);
  const { limit, waiting_share } = await get<{ limit: "network" | "server"; waiting_share: number }>(path);
  return { delays_ms, loaded_ms, down_mbps, up_mbps, limit, waiting_share };
}

async function pings(path: string, count: number, stop: AbortSignal): Promise<number[]> {
  const times: number[] = [];
  for (let i = 0; i < count && !stop.aborted; i++) {
    const start = performance.now();
    await ask("GET", `${path}/ping`);
    times.push(performance.now() - start);
  }
  return times.length > 2 ? times.slice(1) : times; // the first opens the connection
}

async function sliced(
  work: (count: (bytes: number) => void, until_ms: number) => Promise<unknown>, tell: (mbps: number) => void, beside: (going: () => boolean) => Promise<void>,
): Promise<number[]> {
  const start = performance.now();
  const until = start + SECONDS * 1000;
  let bytes = 0;
  let last = { at: start, bytes: 0 };
  const rates: number[] = [];
  const timer = setInterval(() => {
    const now = performance.now();
    const mbps = ((bytes - last.bytes) * 8) / (now - last.at) / 1000;
    if (last.at - start >= WARM_S * 1000) rates.push(mbps);
    last = { at: now, bytes };
    tell(mbps);
  }, SLICE_MS);
  let going = true;
  const aside = beside(() => going);
  try {
    await work((more) => (bytes += more), until);
  } finally {
    going = false;
    clearInterval(timer);
    await aside.catch(() => {});
  }
  return rates.length ? rates : [(bytes * 8) / (performance.now() - start) / 1000];
}

async function pull(path: string, count: (bytes: number) => void, until_ms: number, stop: AbortSignal): Promise<void> {
  const answer = await ask("GET", `${path}/down?seconds=${SECONDS}`);
  const reader = answer.body!.getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (value) count(value.byteLength);
    if (done) return;
    if (stop.aborted || performance.now() > until_ms) return reader.cancel();
  }
}

function push(path: string, count: (bytes: number) => void, until_ms: number, stop: AbortSignal): Promise<void> {
  const body = new Uint8Array(CHUNK);
  for (let at = 0; at < CHUNK; at += 65536) crypto.getRandomValues(body.subarray(at, at + 65536));
  return new Promise((resolve, reject) => {
    const send = (): void => {
      if (stop.aborted || performance.now() > until_ms) return resolve();
      const request = new XMLHttpRequest(); // fetch does not tell how much has gone out
      let counted = 0;
      request.open("POST", `${path}/up`);
      request.upload.onprogress = (event) => {
        count(event.loaded - counted);
        counted = event.loaded;
        if (stop.aborted || performance.now() > until_ms) request.abort();
      };
      request.onload = () => { if (request.status < 300) send(); else reject(new Error(`the server answered ${request.status}`)); };
      request.onabort = () => resolve();
      request.onerror = () => reject(new Error("the connection broke off"));
      request.send(body);
    };
    send();
  });
}
