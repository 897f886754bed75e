/** What the server says on the live socket of a job. */

import type { Change, Job } from "../job/types";
import type { RefusalData } from "./api";
import type { Plan, Quote } from "./planSchema";

export type Row = { revision: number; edit: string; person: string; name: string; label: string; changes: Change[] };
export type Notice = { notice?: number; code: string; kind: string; id: string; by: string; words: string };
export type Presence = { person: string; name: string; device: string; at: { page?: string; storey?: string } | null };
export type PlanState = {
  state: "none" | "working" | "done" | "failed" | "stopped";
  revision: number;
  made: number | null;
  answered: number | null; // revision of the answer that is known before the plan
  stale: boolean;
  seconds: number;
  words: string;
  refusal: RefusalData | null;
};
/** What is chosen, what rooms get and what it costs, before the rest of the plan is worked out. */
export type Answer = Pick<Plan, "before" | "choice" | "after" | "notes" | "channels"> & { price: Quote };
export type FileState = {
  behind: boolean;
  since: string | null;
  refusal: RefusalData | null;
  caught_up: string | null;
};
export type Refused = { label: string; refusal: RefusalData };

export type Said =
  | { type: "snapshot"; job: Job; revision: number }
  | { type: "edits"; edits: Row[] }
  | { type: "ack"; edit: string; told: Notice[]; free?: string[] }
  | { type: "refused" | "retry"; edit: string; refusal: RefusalData }
  | { type: "mine"; undo: string | null; redo: string | null }
  | { type: "notice"; notices: Notice[] }
  | { type: "people"; people: Presence[] }
  | ({ type: "plan" } & PlanState)
  | { type: "answer"; revision: number; answer: Answer }
  | ({ type: "file" } & FileState)
  | { type: "pictures" };
