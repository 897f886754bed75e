/** What the pages say: written by tools/write_types.py from tables of words; not to be edited. */

export const LANGUAGES = ["en", "fr"] as const;

// prettier-ignore
export const SENTENCES = {
  "terms.living room": ["living room", "séjour"],
  "words.and": ["{first} and {last}", "{first} et {last}"],
  "words.or": ["{first} or {last}", "{first} ou {last}"],
  "words.listed": ["{names:and}", "{names:and}"],
  "words.joined": ["{parts:join|, }", "{parts:join|, }"],
  "words.in_turn": ["{parts:join|; }", "{parts:join| ; }"],
  "words.sentences": ["{parts:join| }", "{parts:join| }"],
  "words.count_cables": ["{n:count|cable|cables}", "{n:count|câble|câbles}"],
  "words.number_0": ["none", "aucune"],
  "words.number_1": ["one", "une"],
  "words.number_2": ["two", "deux"],
  "words.number_3": ["three", "trois"],
} as const;

export type Code = Exclude<keyof typeof SENTENCES, `terms.${string}`>;

/** The values that a sentence names. */
// prettier-ignore
export type Named = {
  "words.and": "first" | "last";
  "words.or": "first" | "last";
  "words.listed": "names";
  "words.joined": "parts";
  "words.in_turn": "parts";
  "words.sentences": "parts";
  "words.count_cables": "n";
  "words.number_0": never;
  "words.number_1": never;
  "words.number_2": never;
  "words.number_3": never;
};
