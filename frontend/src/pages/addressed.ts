/** What a plan sheet keeps in the address of its page: storey, map and what is chosen. */

import { QUANTITIES, type Boxes } from "../net/field";
import type { MapWish } from "../plan/mapLayer";
import { PICKED, type Picked } from "../plan/storey";

/** `down_mbps.plan`, `power_dbm.today.5`, `none`. */
export function mapWords(wish: MapWish | null): string {
  return wish ? [wish.quantity, wish.boxes, ...(wish.band ? [wish.band] : [])].join(".") : "none";
}

/** Null where no map is to be seen; undefined where the address does not say. */
export function mapOf(words: string | undefined): MapWish | null | undefined {
  if (words === "none") return null;
  const [quantity, boxes, ...band] = (words ?? "").split(".");
  const known = QUANTITIES.find((one) => one === quantity);
  if (!known || (boxes !== "today" && boxes !== "plan")) return undefined;
  return { quantity: known, boxes: boxes satisfies Boxes, band: band.join(".") || null };
}

/** `room.G1` */
export function chosenWords(picked: Picked | null): string {
  return picked ? `${picked.kind}.${picked.id}` : "";
}

export function chosenOf(words: string | undefined): Picked | null {
  const [kind, ...id] = (words ?? "").split(".");
  const known = PICKED.find((one) => one === kind);
  return known && id.join(".") ? { kind: known, id: id.join(".") } : null;
}
