import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { freshBrowser, pageEvents } from "../../tests/live";
import { learnWords } from "../../tests/words";

beforeEach(async () => {
  freshBrowser();
  vi.resetModules();
  await learnWords();
  vi.stubGlobal("scrollTo", vi.fn());
  const went = (_: null, __: string, path: string) => at(path);
  vi.stubGlobal("history", { pushState: went, replaceState: went });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});
function at(address: string): void {
  const [pathname, search = ""] = address.split("?");
  vi.stubGlobal("location", { pathname, search: search && `?${search}` });
}

async function opened(path: string) {
  at(path);
  return import("./route.svelte");
}

describe("addresses", () => {
  it.each([
    ["/", null, "job"],
    ["/jobs", null, null],
    ["/jobs/", null, null],
    ["/other/demo/work", null, null],
    ["/jobs/demo", "demo", "job"],
    ["/jobs/demo/", "demo", "job"],
    ["/jobs/a%20job/work", "a job", "work"],
    ["/jobs/%zz/work", "%zz", "work"],
    ["/jobs/demo/meter", "demo", "meter"],
    ["/jobs/demo/nothing", "demo", null],
    ["/jobs/demo/work/more", null, null],
  ])("%s is job %s, page %s", async (path, job, page) => {
    const { route } = await opened(path);
    expect(route.where).toEqual({ job, page, state: {} });
  });
  it("are made of a job and a page, and read back", async () => {
    const { addressOf, whereOf } = await opened("/");
    expect(addressOf("a job", "job")).toBe("/jobs/a%20job");
    expect(addressOf("a job", "work")).toBe("/jobs/a%20job/work");
    expect(whereOf(addressOf("a/b", "work"))).toEqual({ job: "a/b", page: "work", state: {} });
  });
  it("change by going, and by the browser's own back", async () => {
    const { route } = await opened("/");
    route.go("/jobs/demo/quote");
    expect(route.where).toEqual({ job: "demo", page: "quote", state: {} });
    expect(scrollTo).toHaveBeenCalledWith(0, 0);
    at("/jobs/demo/work?visit=2");
    pageEvents().dispatchEvent(new Event("popstate"));
    expect(route.where).toEqual({ job: "demo", page: "work", state: { visit: "2" } });
  });
  it("hold what a page keeps in them, in place of what they held, and nothing that is empty", async () => {
    const { route } = await opened("/jobs/demo/house?storey=G&map=none");
    expect(route.where.state).toEqual({ storey: "G", map: "none" });
    const replaced = vi.spyOn(history, "replaceState");
    route.keep({ storey: "U", map: null, chosen: "" });
    expect(location.search).toBe("?storey=U");
    expect(route.where).toEqual({ job: "demo", page: "house", state: { storey: "U" } });
    route.keep({ storey: "U" });
    expect(replaced).toHaveBeenCalledTimes(1); // the same again is no change
    route.keep({});
    expect([location.pathname, location.search]).toEqual(["/jobs/demo/house", ""]);
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
