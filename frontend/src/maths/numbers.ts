/** Numbers for people. */

import { language, say } from "../words/say";

/** Three figures at most: `87 Mb/s`, `1.2 Gb/s`, `0.8 Mb/s`. */
export function formatRate(mbps: number): string {
  if (!Number.isFinite(mbps)) return "–";
  if (mbps >= 1000) return `${trim(mbps / 1000, mbps >= 10000 ? 1 : 2)} Gb/s`;
  return `${trim(mbps, mbps < 10 ? 1 : 0)} Mb/s`;
}

/** `180 to 420 Mb/s`; nothing where both ends read alike. */
export function formatRateSpan(low_mbps: number, high_mbps: number): string {
  const [low, high] = [formatRate(low_mbps), formatRate(high_mbps)];
  if (low === high) return "";
  const unit = high.slice(high.indexOf(" "));
  return say("page_common.from_to", { low: low.endsWith(unit) ? low.slice(0, -unit.length) : low, high });
}

/** `2.4 GHz`. */
export function formatBand(band: string): string {
  return `${figure(band)} GHz`;
}

/** A number as the language writes it: with a decimal comma in French. */
export function figure(number: number | string): string {
  return language() === "fr" ? String(number).replace(".", ",") : String(number);
}

/** With so many digits behind the point, or the comma. */
export function fixed(value: number, digits: number): string {
  return figure(value.toFixed(digits));
}

export function formatDbm(dbm: number): string {
  return Number.isFinite(dbm) ? `${dbm < 0 ? "−" : ""}${Math.abs(Math.round(dbm))} dBm` : "–";
}

/** A reading with its unit; `≤` where nothing was heard. */
export function formatReading(one: { quantity: string; value: number; at_most?: boolean }): string {
  const bound = one.at_most ? "≤ " : "";
  if (one.quantity === "power_dbm") return bound + formatDbm(one.value);
  return (
    bound + (one.quantity.endsWith("ms") ? `${figure(Number(one.value.toPrecision(3)))} ms` : formatRate(one.value))
  );
}

const moneys = new Map<string, Intl.NumberFormat>(); // a page writes hundreds, and each takes long to make

export function formatMoney(amount: number, currency: string): string {
  const digits = Math.abs(amount) < 100 && amount % 1 ? 2 : 0; // cents where they matter
  const key = `${language()} ${currency} ${digits}`;
  let money = moneys.get(key);
  if (!money) {
    money = new Intl.NumberFormat(language(), {
      style: "currency",
      currency,
      currencyDisplay: language() === "en" ? "symbol" : "narrowSymbol", // a job has one: no need of "£GB"
      minimumFractionDigits: digits,
      maximumFractionDigits: digits,
    });
    moneys.set(key, money);
  }
  return money.format(amount);
}

export function formatMinutes(minutes: number): string {
  const whole = Math.round(minutes);
  return whole < 60 ? `${whole} min` : `${Math.floor(whole / 60)} h ${String(whole % 60).padStart(2, "0")} min`;
}

export function formatBytes(bytes: number): string {
  return bytes < 1e6
    ? say("page_parts.kilobytes", { n: Math.max(1, Math.round(bytes / 1e3)) })
    : say("page_parts.megabytes", { n: fixed(bytes / 1e6, 1) });
}

function trim(value: number, digits: number): string {
  return figure(value.toFixed(digits).replace(/\.0+$/, ""));
}
