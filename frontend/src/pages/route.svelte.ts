/** Addresses of the pages: `/`, `/jobs/demo/house`. */

export const STAGES = [
  { page: "house", name: "House" },
  { page: "cables", name: "Cables" },
  { page: "coverage", name: "Coverage and choice" },
  { page: "quote", name: "Takeoff and quote" },
  { page: "work", name: "Work" },
  { page: "tests", name: "Tests and readings" },
  { page: "handover", name: "Handover" },
] as const;
export const SIDE_SHEETS = [
  { page: "model", name: "House in 3-D" },
  { page: "meter", name: "Meter" },
  { page: "people", name: "People and devices" },
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
