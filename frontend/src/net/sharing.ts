/** What comes anew mostly says what stood before: then it is the same object, and nothing is drawn again. */

/** `after`, with every part of it that says what `before` says being that very part; `after` is used up. */
export function sharing<T>(before: unknown, after: T): T {
  if (before === after || !isThing(before) || !isThing(after)) return after;
  if (Array.isArray(before) !== Array.isArray(after)) return after;
  const parts: Record<string, unknown> = after;
  const names = Object.keys(parts);
  let alike = names.length === Object.keys(before).length;
  for (const name of names) {
    const was = before[name];
    const part = (parts[name] = sharing(was, parts[name]));
    if (part !== was || !(name in before)) alike = false;
  }
  return alike ? (before as T) : after;
}

function isThing(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null;
}
