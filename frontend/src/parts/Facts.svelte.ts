/** Pick lists from the fact tables, asked for once. */

import { factTable } from "../net/api";
import { rampOf, type Ramp, type Step } from "../maths/colour";
import { constructionsFrom, type Constructions } from "../plan/storey";
import { say, term } from "../words/say";

export type Choice = readonly [string, string];

class Facts {
  constructions = $state.raw<Constructions>(new Map());
  equipment = $state.raw<Choice[]>([]);
  radios = $state.raw<Set<string>>(new Set());
  clients = $state.raw<Choice[]>([]);
  uses = $state.raw<{ name: string; down_mbps: number; up_mbps: number }[]>([]);
  channels = $state.raw<Record<string, number[]>>({}); // the 20 MHz channels of each band
  hearingFloor = $state<number | null>(null); // power below which a device lists a network no longer, dBm
  ramp = $state.raw<Ramp | null>(null);
  #steps: Step[] = [];
  #asked = false;

  ask(): void {
    if (this.#asked) return;
    this.#asked = true;
    const names = (rows: Record<string, string | number>[], label?: string): Choice[] => [
      ...new Map(rows.map((row) => [String(row.name), term(String(label ? row[label] : row.name))])),
    ];
    const failed = () => {
      this.#asked = false;
    };
    factTable("constructions").then((rows) => (this.constructions = constructionsFrom(rows)), failed);
    factTable("calibration_numbers").then(
      (rows) => (this.hearingFloor = Number(rows.find((row) => row.name === "hearing_floor")?.value)),
      failed,
    );
    factTable("equipment").then(
      (rows) =>
        (this.equipment = names(
          rows.filter((row) => ["access point", "router", "modem", "switch"].includes(String(row.kind))),
          "label",
        )),
      failed,
    );
    factTable("access_point_radios").then(
      (rows) => (this.radios = new Set(rows.map((row) => String(row.name)))),
      failed,
    );
    factTable("client_radios").then((rows) => (this.clients = names(rows)), failed);
    factTable("room_needs").then(
      (rows) =>
        (this.uses = rows.map((row) => ({
          name: String(row.use),
          down_mbps: Number(row.down_mbps),
          up_mbps: Number(row.up_mbps),
        }))),
      failed,
    );
    factTable<Grid>("wifi_channels").then((rows) => (this.channels = channelsFrom(rows)), failed);
    factTable<Step>("colour_scale").then((steps) => {
      this.#steps = steps;
      this.#mix();
    }, failed);
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.#mix());
  }

  walls(): Choice[] {
    return [["unknown", say("page_parts.not_known")], ...this.#of("wall")];
  }
  ofUse(use: string): Choice[] {
    return [["unknown", say("page_parts.not_known")], ...this.#of(use)];
  }

  #of(use: string): Choice[] {
    return [...this.constructions]
      .filter(([, one]) => one.use === use)
      .map(([name, one]) => [name, term(one.label)] as const);
  }

  #mix(): void {
    const dark = matchMedia("(prefers-color-scheme: dark)").matches;
    if (this.#steps.length) this.ramp = rampOf(this.#steps, dark ? [35, 34, 32] : [255, 255, 255]);
  }
}

type Grid = { band: number; width_mhz: number; first: number; last: number; step: number };

function channelsFrom(rows: Grid[]): Record<string, number[]> {
  const found: Record<string, number[]> = {};
  for (const { band, first, last, step } of rows.filter((row) => row.width_mhz === 20))
    for (let number = first; number <= last; number += step) (found[String(band)] ??= []).push(number);
  return found;
}

export const factLists = new Facts();
