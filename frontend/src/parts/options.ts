/** Rows of a pick list: what is picked, and the words for it. */

import { formatBand } from "../maths/numbers";
import { term } from "../words/say";

export type Option<V extends string> = readonly [V, string];

/** Words that say themselves what they mean. */
export const same = <V extends string>(values: readonly V[]): Option<V>[] => values.map((one) => [one, term(one)]);

/** Values with their words; the type of `words` asks for all of them. In the order they are written. */
export const worded = <V extends string>(words: Record<V, string>): Option<V>[] =>
  Object.entries<string>(words) as unknown as Option<V>[];

export const bands = <V extends string>(values: readonly V[]): Option<V>[] =>
  values.map((one) => [one, formatBand(one)]);
