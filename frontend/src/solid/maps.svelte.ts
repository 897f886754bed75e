/** Maps of all storeys, asked for one after another. */

import { wordsOf } from "../net/api";
import type { FieldLink, Raster } from "../net/field";
import type { MapWish } from "../plan/mapLayer";

export class StoreyMaps {
  rasters = $state.raw<ReadonlyMap<string, Raster>>(new Map());
  words = $state("");
  working = $state(false);

  #wish: MapWish | null = null;
  #left: string[] = [];
  #ticket = 0;

  constructor(readonly field: FieldLink) {
    field.onRaster = (raster, ticket) => {
      if (ticket !== this.#ticket) return; // an older question
      if (this.rasters.get(raster.storey) !== raster) this.rasters = new Map(this.rasters).set(raster.storey, raster);
      this.#left.shift();
      this.#next();
    };
    field.onRefusal = (refusal) => {
      this.#left = [];
      this.working = false;
      this.words = wordsOf(refusal);
    };
  }

  /** Maps shown stay until their successors come, unless they showed something else. */
  ask(storeys: readonly string[], wish: MapWish | null): void {
    const same =
      this.#wish && wish && (["quantity", "band", "boxes"] as const).every((part) => this.#wish![part] === wish[part]);
    if (!same) this.rasters = new Map();
    this.#wish = wish;
    this.#left = wish ? [...storeys] : [];
    this.words = "";
    this.#next();
  }

  #next(): void {
    const storey = this.#left[0];
    this.working = storey !== undefined;
    if (storey !== undefined) this.field.map({ storey, ...this.#wish! }, ++this.#ticket);
  }
}
