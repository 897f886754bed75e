/** Where a job stands, as the server says it. */

export type StageName = "house" | "cables" | "coverage" | "quote" | "work" | "tests" | "handover";
export type Now = {
  revision: number;
  planned_of: number | null; // revision of the plan that it was told by
  sentence: string;
  next: { words: string; page: StageName; why: string };
  stages: { stage: StageName; state: "done" | "under way" | "to do" | "held"; words: string }[];
  figures: {
    rooms: number; // with a need
    served_today: number;
    served_after: number | null;
    worst_today_mbps: number | null;
    worst_after_mbps: number | null;
    price: number | null;
    currency: string;
    visits: number | null;
    minutes: number | null;
    held: number; // lines not to be cut
  };
};
