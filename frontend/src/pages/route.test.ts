import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { freshBrowser, pageEvents } from "../../tests/live";
import { learnWords } from "../../tests/words";

beforeEach(async () => {
  freshBrowser();
  vi.resetModules();
  await learnWords();
  vi.stubGlobal("scrollTo", vi.fn());
  vi.stubGlobal("history", { pushState: (_: null, __: string, path: string) => at(path) });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});
const at = (pathname: string) => vi.stubGlobal("location", { pathname });

async function opened(path: string) {
  at(path);
  return import("./route.svelte");
}

describe("addresses", () => {
  it.each([
    ["/", null, "house"],
    ["/jobs", null, "house"],
    ["/jobs/", null, "house"],
    ["/other/demo/work", null, "house"],
    ["/jobs/demo", "demo", "house"],
    ["/jobs/a%20job/work", "a job", "work"],
    ["/jobs/demo/meter", "demo", "meter"],
    ["/jobs/demo/nothing", "demo", "house"],
  ])("%s is job %s, page %s", async (path, job, page) => {
    const { route } = await opened(path);
    expect(route.where).toEqual({ job, page });
  });
  it("change by going, and by the browser's own back", async () => {
    const { route } = await opened("/");
    route.go("/jobs/demo/quote");
    expect(route.where).toEqual({ job: "demo", page: "quote" });
    expect(scrollTo).toHaveBeenCalledWith(0, 0);
    at("/jobs/demo/work");
    pageEvents().dispatchEvent(new Event("popstate"));
    expect(route.where.page).toBe("work");
  });
});

describe("a press on a link", () => {
  const link = (href: string, more: Record<string, string> = {}) => ({
    getAttribute: (name: string) => ({ href, ...more })[name] ?? null,
    hasAttribute: (name: string) => name in more,
  });
  async function pressed(found: ReturnType<typeof link> | null, event: object = {}) {
    const { inside, route } = await opened("/");
    const preventDefault = vi.fn();
    const closest = (wanted: string) => (wanted === "a[href^='/']" ? found : null);
    inside({ target: { closest }, button: 0, defaultPrevented: false, preventDefault, ...event } as never);
    expect(preventDefault.mock.calls.length).toBe(route.where.job ? 1 : 0);
    return route.where.job;
  }
  it("stays in the page", async () => expect(await pressed(link("/jobs/demo"))).toBe("demo"));
  it.each([
    [{ defaultPrevented: true }],
    [{ button: 1 }],
    [{ metaKey: true }],
    [{ ctrlKey: true }],
    [{ shiftKey: true }],
  ])("is the browser's own with %o", async (event) => expect(await pressed(link("/jobs/demo"), event)).toBeNull());
  it("is the browser's own where it leads elsewhere", async () => {
    expect(await pressed(null)).toBeNull();
    expect(await pressed(link("/jobs/demo", { download: "" }))).toBeNull();
    expect(await pressed(link("/jobs/demo", { target: "_blank" }))).toBeNull();
    expect(await pressed(link("/api/jobs/demo/file"))).toBeNull();
  });
});
