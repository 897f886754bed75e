/** The job document, and what edits say of it. */

import type { LISTS, SINGLES } from "./kinds";

export type * from "./schema";

export type Point3 = [number, number, number];
export type Kind = keyof typeof LISTS;
export type Single = (typeof SINGLES)[number];
export type Thing = { id: string };

export type Change =
  | { do: "put"; kind: Kind; entity: Thing & Record<string, unknown> }
  | { do: "set"; kind: Kind; id: string; fields: Record<string, unknown> }
  | { do: "set"; kind: Single; fields: Record<string, unknown> }
  | { do: "drop"; kind: Kind; id: string };

export type Edit = { edit: string; base: number; label: string; changes: Change[] };
