/** What a plan sheet keeps in the address of its page: storey, map and what is chosen. */

import type { Boxes, Quantity } from "../net/field";
import type { MapWish } from "../plan/mapLayer";
import type { Picked } from "../plan/storey";

const QUANTITIES: readonly Quantity[] = [
  "down_mbps",
  "low_mbps",
  "high_mbps",
  "up_mbps",
  "up_low_mbps",
  "up_high_mbps",
  "air_mbps",
  "power_dbm",
  "power_sd_db",
];
const KINDS: readonly Picked["kind"][] = [
  "wall",
  "opening",
  "room",
  "body",
  "outlet",
  "meeting_point",
  "box",
  "reading",
  "run",
];

/** `down_mbps.plan`, `power_dbm.today.5`, `none`. */
export function mapWords(wish: MapWish | null): string {
  return wish ? [wish.quantity, wish.boxes, ...(wish.band ? [wish.band] : [])].join(".") : "none";
}

/** Null where no map is to be seen; undefined where the address does not say. */
export function mapOf(words: string | undefined): MapWish | null | undefined {
  if (words === "none") return null;
  const [quantity, boxes, ...band] = (words ?? "").split(".");
  if (!QUANTITIES.includes(quantity as Quantity) || (boxes !== "today" && boxes !== "plan")) return undefined;
  return { quantity: quantity as Quantity, boxes: boxes as Boxes, band: band.join(".") || null };
}

/** `room.G1` */
export function chosenWords(picked: Picked | null): string {
  return picked ? `${picked.kind}.${picked.id}` : "";
}

export function chosenOf(words: string | undefined): Picked | null {
  const [kind, ...id] = (words ?? "").split(".");
  return KINDS.includes(kind as Picked["kind"]) && id.join(".")
    ? { kind: kind as Picked["kind"], id: id.join(".") }
    : null;
}
