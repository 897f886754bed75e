/** Photos of steps of the work, kept on the server beside the job. */

import { ask, get } from "../net/api";

export type Photo = { picture: string; step: string | null; width_px: number; height_px: number };

export class Photos {
  all = $state.raw<Photo[]>([]);

  constructor(readonly job: string) {}

  #url(more = ""): string {
    return `/api/jobs/${encodeURIComponent(this.job)}/pictures${more}`;
  }

  async load(): Promise<void> {
    this.all = await get<Photo[]>(this.#url());
  }

  of(step: string): Photo[] {
    return this.all.filter((one) => one.step === step);
  }

  imageUrl(one: Photo): string {
    return this.#url(`/${encodeURIComponent(one.picture)}`);
  }

  async add(step: string, file: File): Promise<void> {
    const body = await file.arrayBuffer(); // a file from some cameras cannot be read twice
    await ask("POST", this.#url(`?step=${encodeURIComponent(step)}`), body);
    await this.load();
  }

  async drop(one: Photo): Promise<void> {
    await ask("DELETE", this.#url(`/${encodeURIComponent(one.picture)}`));
    await this.load();
  }
}
