/** How somebody draws on one job, kept on the device: what lengths run along, and the sizes of the next opening and plate. */

import type { Opening, OpeningKind, Outlet } from "../job/types";

/** Along centre lines, or between the inside faces of the walls at either end. */
export type Measure = "centre" | "inside";
export type Sizes = Pick<Opening, "width_m" | "height_m" | "sill_m" | "construction">;
export type Plate = Pick<Outlet, "kind" | "height_m">;
type Kept = { measure: Measure; below: boolean; plate: Plate | null } & Record<OpeningKind, Sizes>;

const FIRST: Kept = {
  measure: "centre",
  below: true,
  plate: null,
  door: { width_m: 0.8, height_m: 2, sill_m: 0, construction: "unknown" },
  window: { width_m: 1.2, height_m: 1.2, sill_m: 0.9, construction: "unknown" },
  gap: { width_m: 0.9, height_m: 2, sill_m: 0, construction: "unknown" },
};

export class Choices {
  #kept = $state.raw<Kept>(FIRST);

  /** Of the job with that key; of none, they last as long as the page. */
  constructor(private readonly job: string | null = null) {
    this.#kept = { ...FIRST, ...this.#read() };
  }

  get measure(): Measure {
    return this.#kept.measure;
  }
  set measure(measure: Measure) {
    this.#keep({ measure });
  }
  /** Whether the walls of the storey below are shown faintly. */
  get below(): boolean {
    return this.#kept.below;
  }
  set below(below: boolean) {
    this.#keep({ below });
  }
  get plate(): Plate | null {
    return this.#kept.plate;
  }
  sizesOf(kind: OpeningKind): Sizes {
    return this.#kept[kind];
  }

  /** What somebody made of one is what the next one will be. */
  rememberOpening({ kind, width_m, height_m, sill_m, construction }: Sizes & Pick<Opening, "kind">): void {
    this.#keep({ [kind]: { width_m, height_m, sill_m, construction } });
  }
  rememberPlate({ kind, height_m }: Plate): void {
    this.#keep({ plate: { kind, height_m } });
  }

  #keep(some: Partial<Kept>): void {
    this.#kept = { ...this.#kept, ...some };
    if (this.job === null) return;
    try {
      globalThis.localStorage?.setItem(this.#name, JSON.stringify(this.#kept));
    } catch {
      // a full or closed store: the open page still remembers
    }
  }

  get #name(): string {
    return `drawing ${this.job}`;
  }

  #read(): Partial<Kept> {
    if (this.job === null) return {};
    try {
      const found = JSON.parse(globalThis.localStorage?.getItem(this.#name) ?? "{}") as unknown;
      return found && typeof found === "object" && !Array.isArray(found) ? found : {};
    } catch {
      return {};
    }
  }
}
