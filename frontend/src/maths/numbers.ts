/** Numbers for people. */

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
  return `${low.endsWith(unit) ? low.slice(0, -unit.length) : low} to ${high}`;
}

export function formatDbm(dbm: number): string {
  return Number.isFinite(dbm) ? `${dbm < 0 ? "−" : ""}${Math.abs(Math.round(dbm))} dBm` : "–";
}

/** A reading with its unit; `≤` where nothing was heard. */
export function formatReading(one: { quantity: string; value: number; at_most?: boolean }): string {
  const bound = one.at_most ? "≤ " : "";
  if (one.quantity === "power_dbm") return bound + formatDbm(one.value);
  return bound + (one.quantity.endsWith("ms") ? `${Number(one.value.toPrecision(3))} ms` : formatRate(one.value));
}

export function formatMoney(amount: number, currency: string): string {
  const digits = Math.abs(amount) < 100 && amount % 1 ? 2 : 0; // cents where they matter
  return new Intl.NumberFormat("en", {
    style: "currency",
    currency,
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  }).format(amount);
}

export function formatMinutes(minutes: number): string {
  const whole = Math.round(minutes);
  return whole < 60 ? `${whole} min` : `${Math.floor(whole / 60)} h ${String(whole % 60).padStart(2, "0")} min`;
}

export function formatBytes(bytes: number): string {
  return bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1e3))} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

export function plural(count: number, one: string, many = one + "s"): string {
  return `${count} ${count === 1 ? one : many}`;
}

function trim(value: number, digits: number): string {
  return value.toFixed(digits).replace(/\.0+$/, "");
}
