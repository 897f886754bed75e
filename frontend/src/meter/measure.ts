/** Measuring the way between this device and the server: rounds of down and up by several streams, and delay. */

import { get, post, Refusal } from "../net/api";
import { rateOf, Tally } from "./tally";
import { say } from "../words/say";

export const ROUNDS = 5;
export const STREAMS = 4; // a browser opens six connections to one server; one is left for the delay, one for asking
export const ROUND_S = 2;
export const PINGS = 20;
export const LONGEST_S = 50; // of everything
const WARM_MS = 300;
const PING_EVERY_MS = 150;
const MOST_ROUND_BYTES = 1e9;
const PIECE_BYTES = 16 * 2 ** 20;
const FIRST_PIECE_BYTES = 256 * 1024;

export type Limit = "network" | "server";
export type Way = "down" | "up";
export type Round = { mbps: number; limit: Limit; bytes: number };
export type Measured = { delay_ms: number[]; loaded_ms: number[]; down: Round[]; up: Round[] };
export type Progress = { doing: "delay" | Way; round: number; share: number; measured: Measured };
type Account = { down_bytes: number; down_seconds: number; up_bytes: number; up_seconds: number; limit: Limit };

export const nothing = (): Measured => ({ delay_ms: [], loaded_ms: [], down: [], up: [] });

/**
 * Measure until all rounds are done or `stop` is given. What was measured up to then is told by `tell` after
 * every step and stands. Throws a refusal where the server will not, or cannot be reached.
 */
export async function measure(tell: (progress: Progress) => void, stop: AbortSignal): Promise<Measured> {
  const measured = nothing();
  const steps = 1 + 2 * ROUNDS;
  let step = 0;
  const at = (doing: Progress["doing"], round: number) =>
    tell({ doing, round, share: step++ / steps, measured: structuredClone(measured) });

  at("delay", 0);
  const run = await newRun();
  for (let i = 0; i <= PINGS && !stop.aborted; i++) {
    const delay_ms = await ping(run, stop);
    if (i > 0 && delay_ms !== null) measured.delay_ms.push(delay_ms); // the first one opens the connection
  }
  const whole = piece();
  for (let round = 1; round <= ROUNDS && !stop.aborted; round++) {
    for (const way of ["down", "up"] as const) {
      at(way, round);
      const found = way === "down" ? await down(stop, measured.loaded_ms) : await up(whole, stop);
      if (found) measured[way].push(found);
    }
  }
  return measured;
}

async function newRun(): Promise<string> {
  return (await post<{ run: string }>("/api/meter")).run;
}

/** Milliseconds there and back, null when stopped. */
async function ping(run: string, stop: AbortSignal): Promise<number | null> {
  const began_ms = performance.now();
  try {
    await fetch(`/api/meter/${run}/ping`, { cache: "no-store", signal: stop });
    return performance.now() - began_ms;
  } catch {
    if (stop.aborted) return null;
    throw away();
  }
}

async function down(stop: AbortSignal, loaded_ms: number[]): Promise<Round | null> {
  const run = await newRun();
  const over = endOf(stop);
  const tally = new Tally(performance.now(), WARM_MS);
  const pull = async () => {
    const answer = await fetch(`/api/meter/${run}/down?seconds=${ROUND_S}`, { cache: "no-store", signal: over.signal });
    if (!answer.ok || !answer.body) throw await refusalOf(answer);
    const reader = answer.body.getReader();
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      tally.add(part.value.byteLength, performance.now());
      if (tally.bytes > MOST_ROUND_BYTES) over.abort();
    }
  };
  await together(over, [...streams(pull, over.signal), pinging(run, over.signal, loaded_ms)]);
  const mbps = tally.mbps(performance.now());
  if (stop.aborted) return null;
  const account = await get<Account>(`/api/meter/${run}`);
  return { mbps: mbps ?? 0, limit: account.limit, bytes: tally.bytes };
}

/** The server counts what comes up, by its own clock: a browser only knows what it handed to its system. */
async function up(whole: Blob, stop: AbortSignal): Promise<Round | null> {
  const run = await newRun();
  const over = endOf(stop);
  let sent = 0;
  const push = async () => {
    for (let size = FIRST_PIECE_BYTES; !over.signal.aborted && sent < MOST_ROUND_BYTES;) {
      const began_ms = performance.now();
      sent += size;
      const answer = await fetch(`/api/meter/${run}/up`, {
        method: "POST",
        body: whole.slice(0, size),
        signal: over.signal,
      });
      if (!answer.ok) throw await refusalOf(answer);
      await answer.arrayBuffer();
      if (performance.now() - began_ms < 500) size = Math.min(PIECE_BYTES, size * 4);
    }
  };
  let early: Account | null = null;
  let late: Account | null = null;
  const watch = async () => {
    await pause(WARM_MS, over.signal);
    early = await get<Account>(`/api/meter/${run}`);
    await pause(ROUND_S * 1000 - WARM_MS, over.signal);
    late = await get<Account>(`/api/meter/${run}`);
    over.abort();
  };
  await together(over, [...streams(push, over.signal), watch()]);
  if (stop.aborted || !early || !late) return null;
  return upRound(early, late);
}

/** The rate between two accounts of one run. */
export function upRound(early: Account, late: Account): Round {
  const [bytes, seconds] = [late.up_bytes - early.up_bytes, late.up_seconds - early.up_seconds];
  const judged = bytes > 0 && seconds > 0.1;
  return {
    mbps: judged ? rateOf(bytes, seconds) : late.up_seconds > 0 ? rateOf(late.up_bytes, late.up_seconds) : 0,
    limit: late.limit,
    bytes: late.up_bytes,
  };
}

/** Rounds of one direction are the server's where it was the limit in half of them or more. */
export function limitOf(rounds: readonly Round[]): Limit {
  return 2 * rounds.filter((round) => round.limit === "server").length >= Math.max(1, rounds.length)
    ? "server"
    : "network";
}

async function pinging(run: string, over: AbortSignal, into: number[]): Promise<void> {
  await pause(WARM_MS, over);
  for (
    const ends_ms = performance.now() + ROUND_S * 1000 - 2 * WARM_MS;
    performance.now() < ends_ms && !over.aborted;
  ) {
    const delay_ms = await ping(run, over);
    if (delay_ms !== null) into.push(delay_ms);
    await pause(PING_EVERY_MS, over);
  }
}

/** Ends with the round, a little late, or when everything is stopped. */
function endOf(stop: AbortSignal): AbortController {
  const over = new AbortController();
  const timer = setTimeout(() => over.abort(), ROUND_S * 1000 + 250);
  over.signal.addEventListener("abort", () => clearTimeout(timer));
  if (stop.aborted) over.abort();
  stop.addEventListener("abort", () => over.abort(), { signal: over.signal });
  return over;
}

function streams(work: () => Promise<void>, over: AbortSignal): Promise<void>[] {
  return Array.from({ length: STREAMS }, () => untilOver(work, over));
}

/** All of them, and where one fails the others end. */
async function together(over: AbortController, all: Promise<void>[]): Promise<void> {
  try {
    await Promise.all(all);
  } finally {
    over.abort();
  }
}

async function untilOver(work: () => Promise<void>, over: AbortSignal): Promise<void> {
  try {
    await work();
  } catch (fault) {
    if (over.aborted) return;
    throw fault instanceof Refusal ? fault : away();
  }
}

async function refusalOf(answer: Response): Promise<Refusal> {
  return new Refusal(await answer.json(), answer.status);
}

function away(): Refusal {
  return new Refusal(
    {
      code: "away",
      problem: say("page_meter.the_connection_broke_while_measuring"),
      where: "",
      remedy: say("page_meter.go_nearer_and_measure_again"),
    },
    0,
  );
}

function pause(ms: number, over: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (over.aborted) return resolve();
    const timer = setTimeout(resolve, ms);
    over.addEventListener(
      "abort",
      () => {
        clearTimeout(timer);
        resolve();
      },
      { once: true },
    );
  });
}

/** Bytes that do not compress, made once. A blob: browsers copy arrays around before each send, which limits them. */
function piece(): Blob {
  const bytes = new Uint8Array(PIECE_BYTES);
  const most = 65536; // of one call
  crypto.getRandomValues(bytes.subarray(0, most));
  for (let at = most; at < PIECE_BYTES; at *= 2) bytes.copyWithin(at, 0, at);
  return new Blob([bytes]);
}
