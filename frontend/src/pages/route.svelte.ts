/** Addresses of the pages: `/`, `/jobs/demo`, `/jobs/demo/house?storey=G&chosen=room.G1`. */

import type { IconName } from "../parts/icons";
import { say } from "../words/say";

export const HOME = { page: "job", name: say("page_frame.the_job") } as const;
export const STAGES = [
  { page: "house", name: say("page_common.house") },
  { page: "cables", name: say("page_common.cables") },
  { page: "coverage", name: say("page_common.coverage") },
  { page: "quote", name: say("page_common.quote") },
  { page: "work", name: say("page_common.work") },
  { page: "tests", name: say("page_common.tests") },
  { page: "handover", name: say("page_common.handover") },
] as const;
export const SIDE_SHEETS = [
  { page: "model", name: say("page_common.house_in_3_d") },
  { page: "meter", name: say("page_common.meter") },
  { page: "people", name: say("page_common.people") },
] as const;
export type Page = ((typeof STAGES)[number] | (typeof SIDE_SHEETS)[number] | typeof HOME)["page"];
export const SHEETS: readonly { page: Page; name: string }[] = [HOME, ...STAGES, ...SIDE_SHEETS];
export const ICON_OF: Record<Page, IconName> = {
  job: "job",
  house: "house",
  cables: "cables",
  coverage: "coverage",
  quote: "quote",
  work: "work",
  tests: "tests",
  handover: "handover",
  model: "model",
  meter: "meter",
  people: "people",
};

/** `page` is null where the address names none that there is; `state` is what the page keeps in its address. */
export type Where = { job: string | null; page: Page | null; state: Readonly<Record<string, string>> };

class Route {
  where = $state.raw<Where>(whereOf(location.pathname, location.search));

  constructor() {
    addEventListener("popstate", () => this.#read());
  }

  go(path: string): void {
    history.pushState(null, "", path);
    this.#read();
    scrollTo(0, 0);
  }

  /** The page's state into its address, in place of the one before: a step back leaves the page. */
  keep(state: Record<string, string | null>): void {
    const kept = Object.entries(state).filter((pair): pair is [string, string] => pair[1] !== null && pair[1] !== "");
    const search = kept.length ? `?${new URLSearchParams(kept)}` : "";
    if (search === location.search) return;
    history.replaceState(null, "", location.pathname + search);
    this.where = { ...this.where, state: Object.fromEntries(kept) };
  }

  #read(): void {
    this.where = whereOf(location.pathname, location.search);
  }
}

export function whereOf(path: string, search = ""): Where {
  const [, jobs, job, page = "", ...more] = path.split("/");
  const state = Object.fromEntries(new URLSearchParams(search));
  if (!jobs) return { job: null, page: "job", state };
  if (jobs !== "jobs" || !job || more.some(Boolean)) return { job: null, page: null, state };
  const named = page ? SHEETS.find((sheet) => sheet.page === page)?.page : HOME.page;
  return { job: decoded(job), page: named ?? null, state };
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part; // no such job either way
  }
}

export function addressOf(job: string, page: Page): string {
  const base = `/jobs/${encodeURIComponent(job)}`;
  return page === HOME.page ? base : `${base}/${page}`;
}

export const route = new Route();

/** For links: plain clicks stay in the page, everything else is the browser's. */
export function inside(event: MouseEvent): void {
  const link = (event.target as Element).closest("a[href^='/']");
  if (!link || event.defaultPrevented || event.button || event.metaKey || event.ctrlKey || event.shiftKey) return;
  if (link.hasAttribute("download") || link.getAttribute("target") || link.getAttribute("href")!.startsWith("/api/"))
    return;
  event.preventDefault();
  route.go(link.getAttribute("href")!);
}
