/** Lengths as people write them, and as a sheet shows them. Metres inside. */

import { fixed } from "./numbers";

export type Units = "metric" | "imperial";

export const FOOT_M = 0.3048;
export const INCH_M = FOOT_M / 12;

const NUMBER = String.raw`\d+(?:[.,]\d+)?`;
const INCHES = String.raw`(?:(\d+)\s+(\d+)/(\d+)|(\d+)/(\d+)|(${NUMBER}))`;
const FEET_AND_INCHES = new RegExp(
  String.raw`^(${NUMBER})\s*(?:'|′|’|ft|feet|foot)\s*(?:[-\s]?\s*${INCHES}\s*(?:"|″|”|''|in|inch|inches)?)?$`,
  "i",
);
const INCHES_ONLY = new RegExp(String.raw`^${INCHES}\s*(?:"|″|”|''|in|inch|inches)$`, "i");
const METRIC = new RegExp(String.raw`^(${NUMBER})\s*(mm|cm|m)?$`, "i");
const FRACTIONS: Record<string, string> = { "¼": "1/4", "½": "1/2", "¾": "3/4" };
const PER_UNIT: Record<string, number> = { mm: 0.001, cm: 0.01, m: 1 };

/** Metres in `12' 6"`, `3.81`, `3,81 m`, `381 cm`; a bare number is in `units`. Null if not understood. */
export function parseLength(text: string, units: Units): number | null {
  const clean = text.replace(/[¼½¾]/g, (glyph) => ` ${FRACTIONS[glyph]}`).trim();
  const sign = /^[-−]/.test(clean) ? -1 : 1;
  const metres = unsigned(clean.replace(/^[-−+]\s*/, ""), units);
  return metres === null ? null : sign * metres;
}

function unsigned(text: string, units: Units): number | null {
  const both = FEET_AND_INCHES.exec(text);
  if (both) return decimal(both[1]!) * FOOT_M + inches(both.slice(2)) * INCH_M;
  const alone = INCHES_ONLY.exec(text);
  if (alone) return inches(alone.slice(1)) * INCH_M;
  const metric = METRIC.exec(text);
  if (!metric) return null;
  const unit = metric[2]?.toLowerCase();
  if (unit) return decimal(metric[1]!) * PER_UNIT[unit]!;
  return decimal(metric[1]!) * (units === "imperial" ? FOOT_M : 1);
}

function inches([whole, top, bottom, onlyTop, onlyBottom, plain]: (string | undefined)[]): number {
  if (whole) return Number(whole) + Number(top) / Number(bottom);
  if (onlyTop) return Number(onlyTop) / Number(onlyBottom);
  return plain ? decimal(plain) : 0;
}

function decimal(text: string): number {
  return Number(text.replace(",", "."));
}

/** `3.81 m`, or `12' 6"` to the nearest half inch. */
export function formatLength(metres: number, units: Units): string {
  if (units === "metric") return `${fixed(metres, 2)} m`;
  const halves = Math.round(Math.abs(metres) / (INCH_M / 2));
  const feet = Math.floor(halves / 24);
  const rest = halves - feet * 24;
  const inch = `${Math.floor(rest / 2) || (rest % 2 && !feet ? "" : "0")}${rest % 2 ? "½" : ""}"`;
  const sign = metres < 0 && halves > 0 ? "−" : "";
  return sign + (feet ? `${feet}' ${inch}` : inch);
}

/** `26 m` or `85 ft`: a length that was judged, not measured, to no more figures than it deserves. */
export function formatAbout(metres: number, units: Units): string {
  return units === "metric" ? `${Math.round(metres)} m` : `${Math.round(metres / FOOT_M)} ft`;
}

/** `14.2 m²` or `153 sq ft`. */
export function formatArea(squareMetres: number, units: Units): string {
  return units === "metric" ? `${fixed(squareMetres, 1)} m²` : `${Math.round(squareMetres / (FOOT_M * FOOT_M))} sq ft`;
}
