/** Pictures of plans under a storey, and what a drag or a known length does to them. */

import { ask, get, post } from "../net/api";
import type { Point } from "../maths/geometry";

export type Placement = {
  storey: string;
  metres_per_px: number;
  x_m: number;
  y_m: number;
  turn_deg: number;
  shown: boolean;
};
export type Picture = {
  picture: string;
  step: string | null;
  width_px: number;
  height_px: number;
  page: number;
  pages: number;
  placement: Placement | null;
};

export const GUESSED_WIDTH_M = 12; // until a known length is given

export class Underlays {
  all = $state.raw<Picture[]>([]);

  constructor(readonly job: string) {}

  #url(more = ""): string {
    return `/api/jobs/${encodeURIComponent(this.job)}/pictures${more}`;
  }

  async load(): Promise<void> {
    this.all = (await get<Picture[]>(this.#url())).filter((one) => one.step === null);
  }

  on(storey: string): Picture | undefined {
    return this.all.find((one) => one.placement?.storey === storey && one.placement.shown);
  }

  imageUrl(one: Picture): string {
    return this.#url(`/${encodeURIComponent(one.picture)}`);
  }

  async add(file: File, page: number, storey: string): Promise<void> {
    const body = await file.arrayBuffer(); // a file from some cameras cannot be read twice
    const answer = (await (await ask("POST", this.#url(`?page=${page}`), body)).json()) as Picture;
    await this.place(answer, {
      storey,
      metres_per_px: GUESSED_WIDTH_M / answer.width_px,
      x_m: 0,
      y_m: 0,
      turn_deg: 0,
      shown: true,
    });
  }

  async place(one: Picture, placement: Placement): Promise<void> {
    this.all = this.all.some((other) => other.picture === one.picture)
      ? this.all.map((other) => (other.picture === one.picture ? { ...other, placement } : other))
      : [...this.all, { ...one, placement }];
    await ask("PUT", this.#url(`/${encodeURIComponent(one.picture)}/placement`), placement);
    await this.load();
  }

  /** One known length: `a` stays where it is. */
  async scaleBy(one: Picture, a: Point, drawn_m: number, true_m: number): Promise<void> {
    const placement = one.placement!;
    const times = true_m / drawn_m;
    await this.place(one, {
      ...placement,
      metres_per_px: placement.metres_per_px * times,
      x_m: a[0] + (placement.x_m - a[0]) * times,
      y_m: a[1] + (placement.y_m - a[1]) * times,
    });
  }

  async drop(one: Picture): Promise<void> {
    await ask("DELETE", this.#url(`/${encodeURIComponent(one.picture)}`));
    await this.load();
  }
}

export type ReadHouse = {
  house: Record<string, unknown>;
  counts: Record<string, number>;
  not_understood: unknown[];
  notes: unknown[];
};

export async function readHouse(job: string, kind: string, body: Blob | string): Promise<ReadHouse> {
  const blob =
    typeof body === "string" ? new Blob([body], { type: "text/plain" }) : new Blob([await body.arrayBuffer()]);
  return post<ReadHouse>(`/api/jobs/${encodeURIComponent(job)}/read?kind=${kind}`, blob);
}
