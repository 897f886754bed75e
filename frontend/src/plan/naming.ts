/** A room's name typed where it is: usual names are completed, and no two rooms get the same. */

/** What a beginning becomes: the usual name that starts so, with a number where rooms have it already; empty if none. */
export function completed(typed: string, usual: readonly string[], taken: readonly string[]): string {
  const begun = typed.toLowerCase();
  if (!begun.trim()) return "";
  const found = usual.find((name) => name.toLowerCase().startsWith(begun));
  return found ? numbered(found, taken) : "";
}

/** The name, or with the first number from 2 on that makes it another than those taken. */
export function numbered(name: string, taken: readonly string[]): string {
  const others = new Set(taken.map((one) => one.trim().toLowerCase()));
  let tried = name;
  for (let n = 2; others.has(tried.toLowerCase()); n++) tried = `${name} ${n}`;
  return tried;
}
