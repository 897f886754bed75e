/** The words in a room: its name, what it gets, what that was and what it needs; as many as there is place for. */

import { areaOf, boundsOf, insideOf, type Point } from "../maths/geometry";
import { formatArea, type Units } from "../maths/lengths";
import type { Room } from "../job/types";
import { rateWords, type Figure } from "./figures";
import type { Name } from "./labels";
import type { View } from "./view.svelte";
import { say } from "../words/say";

export type RoomWords = Name & {
  name: string;
  figure: string; // Mb/s; empty where none is known
  figure_px: number;
  under: string;
  short: boolean; // it gets less than it needs
};

const LETTER = 0.52; // width of a letter over the size of its type, of this face
const NAME_PX = 15;
const UNDER_PX = 12;
const LEAST_AREA_PX2 = 2500;

export function roomWords(
  room: Room,
  figure: Figure | null,
  view: View,
  units: Units,
  small = false,
): RoomWords | null {
  const area_m2 = Math.abs(areaOf(room.polygon));
  if (area_m2 * view.scale * view.scale < LEAST_AREA_PX2) return null;
  const ring = room.polygon.map((p): Point => [view.x(p[0]), view.y(p[1])]);
  const [x0, y0, x1, y1] = boundsOf(ring)!;
  const [wide, high] = [x1 - x0, y1 - y0];
  const figure_px = Math.round(Math.max(small ? 12 : 15, Math.min(wide / 4.4, high / 3.6, small ? 20 : 30)));
  const c = insideOf(room.polygon);
  const under =
    figure && !small ? underOf(figure, wide / (UNDER_PX * LETTER)) : small || figure ? "" : formatArea(area_m2, units);
  const written = figure ? rateWords(figure.gets_mbps) : "";
  const widths = [room.name.length * NAME_PX, written.length * figure_px * 1.1, under.length * UNDER_PX];
  const below = 4 + (written ? figure_px : 0) + (under ? UNDER_PX + 4 : 0);
  return {
    key: room.id,
    name: room.name,
    figure: written,
    figure_px,
    under,
    short: figure !== null && figure.need_mbps > figure.gets_mbps,
    x: view.x(c[0]),
    y: view.y(c[1]) - (written ? figure_px / 2 : 0),
    half: (Math.max(...widths) * LETTER) / 2,
    below,
    ring,
  };
}

/** The longest that fits into so many letters, the need first. */
function underOf({ gets_mbps, was_mbps, need_mbps, air_mbps, low_mbps, high_mbps }: Figure, letters: number): string {
  const needs = need_mbps ? say("page_plan.needs", { need: rateWords(need_mbps) }) : "";
  const was = was_mbps === null ? "" : say("page_plan.was", { was: rateWords(was_mbps) });
  const wide = high_mbps - low_mbps > gets_mbps / 2;
  const span = wide ? say("page_plan.span", { low: rateWords(low_mbps), high: rateWords(high_mbps) }) : "";
  const air = air_mbps === null ? "" : say("page_plan.the_air_would_give", { air: rateWords(air_mbps) });
  const tries = [[was, needs, span || air], [was, needs], [needs, span], [needs], [was]].map((parts) =>
    parts.filter(Boolean).join(" · "),
  );
  return tries.find((text) => text && text.length <= letters) ?? "";
}
