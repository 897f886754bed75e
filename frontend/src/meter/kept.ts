/** What this device is and how it is connected, kept by this browser so that it is said once. */

import type { Band, Reading } from "../job/types";

export type Kept = {
  room: string;
  device: string;
  wired: boolean;
  box: string;
  band: Band | "";
  stage: Reading["stage"];
};

export function recall(job: string): Partial<Kept> {
  try {
    return JSON.parse(localStorage.getItem(`meter ${job}`) ?? "{}") as Partial<Kept>;
  } catch {
    return {};
  }
}

export function keep(job: string, kept: Kept): void {
  try {
    localStorage.setItem(`meter ${job}`, JSON.stringify(kept));
  } catch {
    /* a private window keeps nothing */
  }
}
