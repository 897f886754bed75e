/** What the server says of a tracing: what comes first, what is left alone, plugs, and what is known. */

export type Plug = {
  outlet: string;
  name: string;
  ties: number[][];
  resistors: [number, number, number][];
  made: string;
};
export type Ended = {
  end: string;
  standing: string;
  reaches: string[];
  possible: { outlets: string[]; chance: number }[];
  notes: string[];
};
export type Suggestion = {
  kind: string;
  end: string;
  outlet: string;
  other_end: string;
  round: number;
  bits: number;
  minutes: number;
  sentence: string;
};
/** One thing to do and to record as a line check; `run` is empty where it is about every cable there. */
export type Card = {
  what: string;
  at: string;
  run: string;
  do: string;
  expect: string;
  caution: string;
  runs: string[];
  why: string;
};
export type Proposed = { run: string; state: string; because: string };
export type LeftAlone = { ends: string[]; plates: string[]; sentence: string };
export type Answer = {
  still_off: string[];
  take_out: string[];
  first: Card[];
  proposed: Proposed[];
  left_alone: LeftAlone[];
  disconnect: Card | null;
  last: Card[];
  may_tie: { ends: string[]; plates: string[] };
  names: Record<string, string>; // of those cables and of plates that get plugs, as lists have them
  sentence: string;
  rounds: Plug[][];
  walk: string;
  trips: { do: string; stops: string[]; length_m: number }[];
  never_located: string[];
  cautions: string[];
  conductors: number;
  ends: Ended[];
  contradictions: { ends: string[]; readings: string[]; sentence: string }[];
  next: Suggestion[];
  bits_left: number | null;
};
