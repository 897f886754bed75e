/** Addresses of the pages: `/`, `/jobs/demo/house`. */

import { say } from "../words/say";

export const STAGES = [
  { page: "house", name: say("page_common.house") },
  { page: "cables", name: say("page_common.cables") },
  { page: "coverage", name: say("page_common.coverage_and_choice") },
  { page: "quote", name: say("page_common.takeoff_and_quote") },
  { page: "work", name: say("page_common.work") },
  { page: "tests", name: say("page_common.tests_and_readings") },
  { page: "handover", name: say("page_common.handover") },
] as const;
export const SIDE_SHEETS = [
  { page: "model", name: say("page_common.house_in_3_d") },
  { page: "meter", name: say("page_common.meter") },
  { page: "people", name: say("page_common.people_and_devices") },
] as const;
export type Page = (typeof STAGES)[number]["page"] | (typeof SIDE_SHEETS)[number]["page"];

export type Where = { job: string | null; page: Page };

class Route {
  where = $state.raw<Where>(read());

  constructor() {
    addEventListener("popstate", () => (this.where = read()));
  }

  go(path: string): void {
    history.pushState(null, "", path);
    this.where = read();
    scrollTo(0, 0);
  }
}

function read(): Where {
  const [, jobs, job, page] = location.pathname.split("/");
  const pages: string[] = [...STAGES, ...SIDE_SHEETS].map((stage) => stage.page);
  if (jobs !== "jobs" || !job) return { job: null, page: "house" };
  return { job: decodeURIComponent(job), page: (page && pages.includes(page) ? page : "house") as Page };
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
