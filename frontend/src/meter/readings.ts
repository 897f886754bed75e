/** A measurement as readings of a room. */

import { freshIds } from "../job/ids";
import type { Band, Change, Job, Reading } from "../job/types";
import { limitOf, type Measured } from "./measure";
import { spreadOf, type Spread } from "./spread";
import { say } from "../words/say";

export type Quantity = "down_mbps" | "up_mbps" | "delay_ms" | "loaded_delay_ms";
export type Line = {
  quantity: Quantity;
  name: string;
  unit: string;
  values: number[];
  spread: Spread;
  byServer: boolean;
};
export type Where = {
  room: string;
  storey: string;
  device: string | null;
  newDevice: { name: string; client: string } | null;
  wired: boolean;
  box: string | null;
  band: Band | null;
  doors: Reading["doors"];
  stage: Reading["stage"];
  time: string;
  note: string;
};

/** What was measured, a line a quantity; those of which nothing is known are left out. */
export function linesOf(measured: Measured): Line[] {
  const rates = (way: "down" | "up") => measured[way].map((round) => round.mbps);
  const all: [Quantity, string, string, number[], boolean][] = [
    ["down_mbps", say("page_meter.down"), "Mb/s", rates("down"), limitOf(measured.down) === "server"],
    ["up_mbps", say("page_meter.up"), "Mb/s", rates("up"), limitOf(measured.up) === "server"],
    ["delay_ms", say("page_meter.delay"), "ms", measured.delay_ms, false],
    [
      "loaded_delay_ms",
      say("page_meter.delay_while_busy"),
      "ms",
      measured.loaded_ms,
      limitOf(measured.down) === "server",
    ],
  ];
  return all.flatMap(([quantity, name, unit, values, byServer]) => {
    const spread = spreadOf(values);
    return spread ? [{ quantity, name, unit, values, spread, byServer }] : [];
  });
}

/** One gesture that saves the lines the network answers for; those of the server say nothing of the room. */
export function savedAs(job: Job, mark: string, lines: readonly Line[], where: Where): Change[] {
  const good = lines.filter((line) => !line.byServer);
  if (!good.length) return [];
  const { newDevice, device, ...rest } = where;
  const ids = freshIds(job, "reading", mark, good.length);
  const made = newDevice ? freshIds(job, "device", mark)[0]! : null;
  const changes: Change[] = good.map(({ quantity, spread }, i) => ({
    do: "put",
    kind: "reading",
    entity: {
      id: ids[i]!,
      quantity,
      value: neat(spread.middle),
      spread: spread.sd === null ? null : neat(spread.sd),
      repeats: spread.count,
      ...rest,
      device: made ?? device,
    },
  }));
  return made ? [{ do: "put", kind: "device", entity: { id: made, ...newDevice! } }, ...changes] : changes;
}

/** Three figures; more would be noise. */
export function neat(value: number): number {
  return Number(value.toPrecision(3));
}
