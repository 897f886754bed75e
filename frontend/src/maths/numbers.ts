/** Numbers for people. */

/** Three figures at most: `87 Mb/s`, `1.2 Gb/s`, `0.8 Mb/s`. */
export function formatRate(mbps: number): string {
  if (!Number.isFinite(mbps)) return "–";
  if (mbps >= 1000) return `${trim(mbps / 1000, mbps >= 10000 ? 1 : 2)} Gb/s`;
  return `${trim(mbps, mbps < 10 ? 1 : 0)} Mb/s`;
}

export function formatDbm(dbm: number): string {
  return Number.isFinite(dbm) ? `${dbm < 0 ? "−" : ""}${Math.abs(Math.round(dbm))} dBm` : "–";
}

export function formatMoney(amount: number, currency: string): string {
  const digits = Math.abs(amount) < 100 && amount % 1 ? 2 : 0; // cents where they matter
  return new Intl.NumberFormat("en", { style: "currency", currency, minimumFractionDigits: digits, maximumFractionDigits: digits }).format(amount);
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

/** The middle value and its 90 % interval by order statistics; null with none. */
export function medianOf(values: readonly number[]): { middle: number; low: number; high: number } | null {
  const sorted = [...values].sort((a, b) => a - b);
  if (sorted.length === 0) return null;
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.max(0, Math.round(share)))]!;
  const half = sorted.length / 2;
  const spread = 0.8225 * Math.sqrt(sorted.length); // 1.645 σ of a fair coin's count
  const middle = sorted.length % 2 ? at((sorted.length - 1) / 2) : (at(half - 1) + at(half)) / 2;
  return { middle, low: at(Math.floor(half - spread)), high: at(Math.ceil(half + spread - 1)) };
}
