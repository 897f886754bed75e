/** What comes next while cables are traced with plugs, for one who walks, one who reads, or one who does both. */

import type { PlacedPlug, TraceReading } from "../job/types";
import type { Answer, Plug } from "../net/tracing";

type Far = { round: number; rounds: number; placed: number; plugs: number; read: number; cables: number; left: number };
export type Next = Far &
  (
    | { do: "plug"; plug: Plug }
    | { do: "read"; end: string }
    | { do: "wait"; for: "plugs" | "readings" }
    | { do: "done" }
  );

/**
 * Plugs of a round are put in before its cables are read, and its cables read before the next round's plugs.
 *
 * @param later plates that were not found, to be tried after the others
 */
export function nextOf(
  answer: Answer,
  placed: readonly PlacedPlug[],
  readings: readonly TraceReading[],
  role: "both" | "walk" | "read",
  later: readonly string[] = [],
): Next {
  const gone = new Set(readings.filter((one) => one.kind === "withdrawn").map((one) => one.other));
  const isIn = (outlet: string, round: number): boolean =>
    placed.some((one) => one.outlet === outlet && one.round === round);
  const isRead = (end: string, round: number): boolean =>
    readings.some((one) => one.kind === "continuity" && one.end === end && one.round === round && !gone.has(one.id));

  const rounds = answer.rounds.map((plugs, i) => {
    const out = plugs.filter((plug) => !isIn(plug.outlet, i + 1));
    const unread = plugs.length ? answer.may_tie.ends.filter((end) => !isRead(end, i + 1)) : [];
    return { round: i + 1, plugs, out, unread };
  });
  const now = rounds.find((one) => one.out.length || one.unread.length);
  const cables = answer.may_tie.ends.length;
  const at = now ?? rounds.at(-1);
  const far: Far = {
    round: at?.round ?? 1,
    rounds: rounds.length,
    placed: at ? at.plugs.length - at.out.length : 0,
    plugs: at?.plugs.length ?? 0,
    read: at ? cables - at.unread.length : 0,
    cables,
    left: at?.out.length ?? 0,
  };
  if (!now) return { ...far, do: "done" };
  if (now.out.length) {
    if (role === "read") return { ...far, do: "wait", for: "plugs" };
    const turn = (plug: Plug): number => later.indexOf(plug.outlet);
    const plug = now.out.reduce((best, one) => (turn(one) < turn(best) ? one : best));
    return { ...far, do: "plug", plug };
  }
  if (role === "walk") return { ...far, do: "wait", for: "readings" };
  return { ...far, do: "read", end: now.unread[0]! };
}
