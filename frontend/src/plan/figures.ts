/** What is written into the rooms of a plan: what each gets, what it got before, and what it needs. */

import { fixed } from "../maths/numbers";
import type { RoomNow } from "../net/field";
import type { RoomRate } from "../net/planSchema";

export type Figure = {
  gets_mbps: number;
  low_mbps: number;
  high_mbps: number;
  air_mbps: number | null;
  was_mbps: number | null; // null: it is what it was
  need_mbps: number; // 0: nothing is asked here
};
export type Figures = ReadonlyMap<string, Figure>; // by room

const CAPPED = 1.02; // the air carries more than is to be had by so much: something else sets the rate

/**
 * Figures of the rooms that a map is of.
 *
 * @param now what the map on the sheet says
 * @param was rates to tell of beside it, in Mb/s by room
 */
export function figuresOf(
  now: Readonly<Record<string, RoomNow>>,
  was: ReadonlyMap<string, number>,
  needs: ReadonlyMap<string, number>,
): Figures {
  return new Map(
    Object.entries(now).map(([room, [low_mbps, gets_mbps, high_mbps, air]]): [string, Figure] => {
      const before = was.get(room) ?? null;
      return [
        room,
        {
          gets_mbps,
          low_mbps,
          high_mbps,
          air_mbps: air > gets_mbps * CAPPED ? air : null,
          was_mbps: before !== null && rateWords(before) !== rateWords(gets_mbps) ? before : null,
          need_mbps: needs.get(room) ?? 0,
        },
      ];
    }),
  );
}

/** The same of a plan: with its access points, beside today. */
export function figuresOfPlan(before: readonly RoomRate[], after: readonly RoomRate[]): Figures {
  const now = after.map((row) => [row.room, [row.low_mbps, row.median_mbps, row.high_mbps, 0]] as const);
  return figuresOf(Object.fromEntries(now), ratesOf(before), needsOf(after));
}

export function ratesOf(rows: readonly RoomRate[], up = false): Map<string, number> {
  return new Map(rows.map((row) => [row.room, up ? row.up_median_mbps : row.median_mbps]));
}

export function needsOf(rows: readonly RoomRate[], up = false): Map<string, number> {
  return new Map(rows.map((row) => [row.room, up ? row.up_need_mbps : row.need_mbps]));
}

/** In Mb/s without the unit: three figures at most, as a room has little place. */
export function rateWords(mbps: number): string {
  return mbps >= 9.95 ? fixed(mbps, 0) : fixed(mbps, 1).replace(/[.,]0$/, "");
}
