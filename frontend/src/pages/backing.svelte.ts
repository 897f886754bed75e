/** The picture of a plan under one storey's sheet, while it is laid, moved and brought to scale. */

import type { Storey } from "../job/types";
import type { Point } from "../maths/geometry";
import { parseLength } from "../maths/lengths";
import type { Session } from "../net/session.svelte";
import type { Underlay } from "../plan/sheet.svelte";
import { GUESSED_WIDTH_M, Underlays, type Picture, type Placement } from "./Underlays.svelte";

export class Backing {
  readonly all: Underlays;
  page = $state(1); // of a PDF
  known = $state(""); // a length as somebody types it
  measured = $state.raw<{ a: Point; drawn_m: number } | null>(null); // that length on the sheet
  shifting = $state.raw<Point>([0, 0]); // how far it is dragged just now

  constructor(
    readonly session: Session,
    readonly storey: () => Storey | null,
  ) {
    this.all = new Underlays(session.key);
  }

  get picture(): Picture | undefined {
    const storey = this.storey();
    return storey ? this.all.on(storey.id) : undefined;
  }
  get hidden(): Picture[] {
    return this.all.all.filter((one) => !one.placement?.shown);
  }
  get underlay(): Underlay | null {
    const { picture, shifting } = this;
    if (!picture?.placement) return null;
    const { x_m, y_m, metres_per_px, turn_deg } = picture.placement;
    return {
      url: this.all.imageUrl(picture),
      x_m: x_m + shifting[0],
      y_m: y_m + shifting[1],
      width_m: picture.width_px * metres_per_px,
      height_m: picture.height_px * metres_per_px,
      turn_deg,
    };
  }

  async add(file: File): Promise<void> {
    await this.all.add(file, this.page, this.storey()!.id);
  }
  async drop(): Promise<void> {
    await this.all.drop(this.picture!);
  }
  async set(fields: Partial<Placement>): Promise<void> {
    const { picture } = this;
    if (picture?.placement) await this.all.place(picture, { ...picture.placement, ...fields });
  }
  async show(one: Picture): Promise<void> {
    const metres_per_px = GUESSED_WIDTH_M / one.width_px;
    const first: Placement = { storey: this.storey()!.id, metres_per_px, x_m: 0, y_m: 0, turn_deg: 0, shown: true };
    await this.all.place(one, { ...first, ...one.placement, shown: true });
  }
  async shift(by: Point): Promise<void> {
    this.shifting = [0, 0];
    const now = this.picture?.placement;
    if (now) await this.set({ x_m: now.x_m + by[0], y_m: now.y_m + by[1] });
  }

  /** The measured length is as long as was typed; null where that is not understood. */
  scale(): Promise<void> | null {
    const { picture, measured } = this;
    const metres = parseLength(this.known, this.session.job!.units);
    if (!picture || !measured || !metres || metres <= 0) return null;
    this.measured = null;
    this.known = "";
    return this.all.scaleBy(picture, measured.a, measured.drawn_m, metres);
  }
}
