import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { answering, FakeSocket, freshBrowser, jobWith, settled } from "../../tests/live";
import { applied } from "../job/apply";
import type { Change, Job } from "../job/types";
import type { Session } from "../net/session.svelte";
import { Desk } from "./desk.svelte";
import { listed } from "./listed";
import { readHouse, type Picture } from "./Underlays.svelte";

beforeEach(freshBrowser);
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const storey = (id: string, elevation_m: number): Change => ({
  do: "put",
  kind: "storey",
  entity: { id, name: `Floor ${id}`, elevation_m },
});
const room = (id: string, on: string): Change => ({
  do: "put",
  kind: "room",
  entity: {
    id,
    storey: on,
    name: id,
    polygon: [
      [0, 0],
      [1, 0],
      [1, 1],
    ],
  } as never,
});

let number = 0;
function deskOn(...changes: Change[]) {
  let job: Job = { ...jobWith(...changes), id: `job ${++number}` };
  const edits: { label: string; changes: Change[] }[] = [];
  const session = {
    key: "a job",
    alone: false,
    get job() {
      return job;
    },
    submit: (label: string, made: Change[]) => {
      edits.push({ label, changes: made });
      job = applied(job, made);
    },
  } as unknown as Session;
  const desk = new Desk(session, "a");
  FakeSocket.last.open();
  return { desk, edits, socket: FakeSocket.last, job: () => job };
}

describe("the desk", () => {
  it("opens the storey with most rooms, and names the one below it", () => {
    const { desk } = deskOn(storey("2", 3), storey("3", 6), room("R1", "2"));
    expect(desk.storeys.map((one) => one.id)).toEqual(["3", "2", "1"]);
    expect(desk.storey!.id).toBe("2");
    expect(desk.below!.id).toBe("1");
    desk.sheet.picked = { kind: "room", id: "R1" };
    desk.goTo(desk.storeys[2]!);
    expect([desk.storey!.id, desk.below, desk.sheet.picked]).toEqual(["1", null, null]);
    expect(desk.sheet.on!.storey.id).toBe("1");
  });
  it("shows the walls below where that is asked, and while two storeys are aligned", () => {
    const { desk } = deskOn(storey("2", 3), room("R1", "2"));
    expect(desk.sheet.laid.below).toBe("1");
    desk.choices.below = false;
    desk.sheet.tool = "align";
    expect(desk.sheet.laid.below).toBe("1");
    desk.goTo(desk.storeys[1]!);
    expect(desk.sheet.laid.below).toBeNull();
  });
  it("puts a new storey on top, with a gap for the floor, and takes up the wall", () => {
    const { desk, edits, job } = deskOn();
    desk.addStorey();
    expect(edits[0]!.label).toBe("Add a storey");
    const made = job().house.storeys[1]!;
    expect(made).toMatchObject({ name: `Storey ${made.id}`, elevation_m: 2.7 });
    expect([desk.storey!.id, desk.panel, desk.sheet.tool]).toEqual([made.id, "storey", "wall"]);
  });
  it("begins with the ground floor", () => {
    const { desk, job } = deskOn({ do: "drop", kind: "storey", id: "1" });
    expect(desk.storey).toBeNull();
    expect(desk.below).toBeNull();
    expect(desk.sheet.on).toBeNull();
    desk.addStorey();
    expect(job().house.storeys[0]).toMatchObject({ name: "Ground floor", elevation_m: 0 });
  });
  it("hints at the tool in hand until there is something to say", () => {
    const { desk } = deskOn();
    desk.sheet.tool = "door";
    expect(desk.hint).toBe("Press on a wall.");
    desk.sheet.tool = "align";
    expect(desk.hint).toBe("Press a corner or stair of this storey.");
    desk.sheet.tool = "scale";
    expect(desk.hint).toBe("Press one end of a length you know.");
    desk.sheet.tool = "picture";
    expect(desk.hint).toBe("Drag the picture to where it belongs.");
    desk.sheet.tell("Not there.");
    expect(desk.hint).toBe("Not there.");
  });
  it("picks a thing, of another storey too", () => {
    const { desk } = deskOn(storey("2", 3));
    desk.sheet.tool = "wall";
    desk.pick({ kind: "room", id: "R1" }, "2");
    expect([desk.storey!.id, desk.sheet.picked!.id, desk.sheet.tool]).toEqual(["2", "R1", "select"]);
    desk.pick({ kind: "room", id: "R2" });
    expect(desk.storey!.id).toBe("2");
  });
  it("takes up a tool for keys too", () => {
    const { desk } = deskOn();
    const focus = vi.fn();
    desk.sheet.paper = { focus } as never;
    desk.takeUp("route");
    expect(desk.sheet.tool).toBe("route");
    expect(focus).toHaveBeenCalled();
  });
  it("keeps a route of two points or more", () => {
    const { desk, edits } = deskOn();
    desk.trail.run = "C1";
    desk.sheet.heard.routed!();
    expect([desk.words, edits.length]).toEqual(["A route has two points at least.", 0]);
    desk.sheet.tool = "route";
    desk.trail.press(desk.sheet.on!, [1, 1]);
    desk.trail.press(desk.sheet.on!, [3, 1]);
    desk.trail.run = null;
    desk.keepRoute();
    expect(edits.length).toBe(0);
    desk.trail.run = "C1";
    desk.keepRoute();
    expect(edits[0]).toMatchObject({ label: "Route of C1" });
    expect(edits[0]!.changes[0]).toMatchObject({ kind: "run", id: "C1", fields: { route: desk.trail.way } });
    expect([desk.sheet.picked, desk.sheet.tool]).toEqual([{ kind: "run", id: "C1" }, "select"]);
  });
  it("asks what a spot gets, with the boxes the map shows", async () => {
    const { desk, socket } = deskOn();
    desk.words = "before";
    desk.sheet.heard.spot([1, 2], []);
    expect(socket.sent[0]).toMatchObject({ spot: { storey: "1", position: [1, 2] }, boxes: "today", moves: [] });
    socket.says({ n: 1, spot: { links: [], median_mbps: 5 } });
    await settled();
    expect([desk.spot!.median_mbps, desk.words]).toEqual([5, ""]);
    desk.sheet.wish = { quantity: "down_mbps", band: null, boxes: "plan" };
    desk.sheet.heard.spot([1, 2], []);
    expect(socket.sent[1]).toMatchObject({ boxes: "plan" });
    socket.says({ n: 2, refusal: { code: "x", problem: "outside", where: "", remedy: "" } });
    await settled();
    expect([desk.spot, desk.words]).toEqual([null, "Outside."]);
  });
  it("asks nothing where there is no storey", async () => {
    const { desk, socket } = deskOn({ do: "drop", kind: "storey", id: "1" });
    desk.sheet.heard.spot([1, 2], []);
    await settled();
    expect(socket.sent).toEqual([]);
  });
  it("brings the keys to the sheet when a storey was added", () => {
    const { desk } = deskOn();
    const focus = vi.fn();
    desk.addStorey();
    desk.sheet.paper = { focus } as never; // comes to be after the first storey
    expect(focus).toHaveBeenCalledTimes(1);
    desk.addStorey();
    expect(focus).toHaveBeenCalledTimes(2);
  });
  it("copies the walls of the storey below, once", () => {
    const put = (id: string, start: [number, number], end: [number, number]): Change => ({
      do: "put",
      kind: "wall",
      entity: { id, storey: "1", start, end },
    });
    const { desk, edits, job } = deskOn(put("W1", [0, 0], [4, 0]), storey("2", 3));
    desk.copyWalls("all"); // nothing is below the lowest
    expect(edits).toEqual([]);
    desk.goTo(desk.storeys[0]!);
    desk.copyWalls("all");
    expect(edits[0]!.label).toBe("Copy the walls of Ground");
    expect(job().house.walls[1]).toMatchObject({ storey: "2", start: [0, 0], end: [4, 0] });
    desk.copyWalls("outer");
    expect([edits.length, desk.words]).toEqual([1, "They stand here already."]);
  });
  it("deletes a storey with all that stands on it as one edit, and says so", () => {
    const { desk, edits, job } = deskOn(storey("2", 3), room("R1", "2"), room("R2", "2"));
    desk.goTo(desk.storeys[0]!);
    desk.sheet.picked = { kind: "room", id: "R1" };
    desk.dropStorey(desk.storey!);
    expect(edits.length).toBe(1);
    expect([job().house.rooms, job().house.storeys.map((one) => one.id)]).toEqual([[], ["1"]]);
    expect(desk.words).toBe("Floor 2 is gone with 2 things; Undo brings it all back.");
    expect([desk.storey!.id, desk.sheet.picked]).toEqual(["1", null]);
  });
  it("remembers what was made of an opening and of a plate for the next one", () => {
    const put = (kind: "opening" | "outlet", entity: object): Change => ({ do: "put", kind, entity: entity as never });
    const { desk } = deskOn(
      put("opening", { id: "X1", wall: "W", kind: "door", offset_m: 0, width_m: 0.7, height_m: 2, sill_m: 0 }),
      put("outlet", { id: "1-01", storey: "1", kind: "unknown", height_m: 0.3 }),
    );
    desk.remember({ kind: "opening", id: "X1" }, { open: true });
    expect(desk.choices.sizesOf("door").width_m).toBe(0.8);
    desk.remember({ kind: "opening", id: "X1" }, { height_m: 2.1 });
    expect(desk.choices.sizesOf("door")).toMatchObject({ width_m: 0.7, height_m: 2.1 });
    desk.remember({ kind: "outlet", id: "1-01" }, { old_label: "phone" });
    expect(desk.choices.plate).toBeNull();
    desk.remember({ kind: "outlet", id: "1-01" }, { kind: "coax" });
    expect(desk.choices.plate).toEqual({ kind: "coax", height_m: 0.3 });
    desk.remember({ kind: "wall", id: "W" }, { height_m: 2 });
  });
  it("says why work of the server failed, until the next", async () => {
    const { desk } = deskOn();
    await desk.trying(Promise.reject(new Error("broken")));
    expect(desk.fault).toBe("Error: broken");
    answering(() => new Response(JSON.stringify({ problem: "no", where: "", remedy: "" }), { status: 400 }));
    await desk.trying(desk.backing.all.load());
    expect(desk.fault).toBe("No.");
    await desk.trying(Promise.resolve());
    expect(desk.fault).toBe("");
  });
});

describe("the picture under the sheet", () => {
  const placement = { storey: "1", metres_per_px: 0.01, x_m: 1, y_m: 2, turn_deg: 5, shown: true };
  const picture: Picture = { picture: "p 1", step: null, width_px: 600, height_px: 300, page: 1, pages: 1, placement };
  const photo = { ...picture, picture: "q", step: "s1" };

  async function laid(...kept: Picture[]) {
    let now = kept;
    const bodies: unknown[] = [];
    const calls = answering((method, path, body) => {
      if (method === "PUT") {
        bodies.push(JSON.parse(body as string));
        now = now.map((one) =>
          path.includes(encodeURIComponent(one.picture)) ? { ...one, placement: bodies.at(-1) as never } : one,
        );
      }
      if (method === "DELETE") now = [];
      if (method === "POST") {
        now = [...now, { ...picture, picture: "new", placement: null }];
        return now.at(-1);
      }
      return now;
    });
    const made = deskOn(storey("2", 3));
    made.desk.wanted = "1";
    await made.desk.backing.all.load();
    return { ...made, backing: made.desk.backing, calls, bodies };
  }

  it("lies where it was placed, on its storey alone", async () => {
    const { desk, backing } = await laid(picture, photo);
    expect(backing.all.all.length).toBe(1); // photos of steps are no plans
    const url = "/api/jobs/a%20job/pictures/p%201";
    expect(desk.sheet.laid.underlay).toEqual({ url, x_m: 1, y_m: 2, width_m: 6, height_m: 3, turn_deg: 5 });
    desk.wanted = "2";
    expect(backing.underlay).toBeNull();
    expect(backing.picture).toBeUndefined();
  });
  it("follows a drag, and is put down once", async () => {
    const { desk, backing, bodies } = await laid(picture);
    desk.sheet.heard.shifted!([1, 1], false);
    expect(backing.underlay).toMatchObject({ x_m: 2, y_m: 3 });
    expect(bodies).toEqual([]);
    desk.sheet.heard.shifted!([2, 3], true);
    await settled();
    expect(bodies).toEqual([{ ...placement, x_m: 3, y_m: 5 }]);
    expect(backing.underlay).toMatchObject({ x_m: 3, y_m: 5 });
  });
  it("is brought to scale by one known length, its first end staying where it is", async () => {
    const { desk, backing, bodies } = await laid(picture);
    expect(backing.scale()).toBeNull();
    desk.sheet.heard.measured!([2, 2], [5, 6]);
    expect([desk.panel, backing.measured!.drawn_m]).toEqual(["underlay", 5]);
    backing.known = "much";
    expect(backing.scale()).toBeNull();
    backing.known = "-1";
    expect(backing.scale()).toBeNull();
    backing.known = "0";
    expect(backing.scale()).toBeNull();
    backing.known = "10 m";
    await backing.scale();
    expect(bodies).toEqual([{ ...placement, metres_per_px: 0.02, x_m: 0, y_m: 2 }]);
    expect([backing.measured, backing.known]).toEqual([null, ""]);
  });
  it("is turned, hidden, shown again and removed", async () => {
    const { backing, bodies, calls } = await laid(picture);
    await backing.set({ turn_deg: 90 });
    await backing.set({ shown: false });
    expect(bodies).toEqual([
      { ...placement, turn_deg: 90 },
      { ...placement, turn_deg: 90, shown: false },
    ]);
    expect(backing.picture).toBeUndefined();
    expect(backing.hidden.map((one) => one.picture)).toEqual(["p 1"]);
    await backing.set({ turn_deg: 1 });
    await backing.shift([1, 1]);
    expect(bodies.length).toBe(2);
    await backing.show(backing.hidden[0]!);
    expect(bodies[2]).toEqual({ ...placement, turn_deg: 90 });
    expect(backing.hidden).toEqual([]);
    await backing.drop();
    expect(calls).toContain("DELETE /api/jobs/a%20job/pictures/p%201");
    expect(backing.all.all).toEqual([]);
  });
  it("is twelve metres wide until its scale is known", async () => {
    const { backing, bodies, calls } = await laid();
    backing.page = 3;
    await backing.add(new File(["x"], "x.pdf"));
    expect(calls).toContain("POST /api/jobs/a%20job/pictures?page=3");
    const first = { storey: "1", metres_per_px: 0.02, x_m: 0, y_m: 0, turn_deg: 0, shown: true };
    expect(bodies[0]).toEqual(first);
    expect(backing.underlay).toMatchObject({ width_m: 12 });
    const another = { ...picture, picture: "z", placement: null };
    await backing.show(another);
    expect(bodies[1]).toEqual(first);
  });
});

it("a house is read from a file's bytes or from words", async () => {
  const bodies: unknown[] = [];
  const calls = answering((_, __, body) => {
    bodies.push(body);
    return { counts: {} };
  });
  await readHouse("a job", "tape", "4 by 3");
  await readHouse("a job", "svg", new Blob(["<svg>"]));
  expect(calls).toEqual(["POST /api/jobs/a%20job/read?kind=tape", "POST /api/jobs/a%20job/read?kind=svg"]);
  expect(await (bodies[0] as Blob).text()).toBe("4 by 3");
  expect((bodies[0] as Blob).type).toBe("text/plain");
  expect(await (bodies[1] as Blob).text()).toBe("<svg>");
});

it("the things of a storey are listed by kind, empty kinds left out", () => {
  const { desk } = deskOn(
    room("R1", "1"),
    { do: "put", kind: "wall", entity: { id: "W1", storey: "1", start: [0, 0], end: [1, 0], construction: "stud" } },
    { do: "put", kind: "wall", entity: { id: "W2", storey: "1", start: [1, 0], end: [1, 1] } },
    { do: "put", kind: "opening", entity: { id: "X1", wall: "W1", kind: "door", offset_m: 0, width_m: 1 } },
    { do: "put", kind: "outlet", entity: { id: "O1", storey: "1", kind: "data", position: [1, 1] } },
    { do: "put", kind: "outlet", entity: { id: "O2", storey: "1" } },
    { do: "put", kind: "run", entity: { id: "C1", ends: [], kind: "cat5", route: [[0, 0, 0]] } },
    { do: "put", kind: "run", entity: { id: "C2", ends: [] } },
    { do: "put", kind: "reading", entity: { id: "Q1", storey: "1", position: [1, 1], value: -60 } },
  );
  const known = new Map([["stud", { label: "Stud wall", use: "wall", thickness_m: 0.1 }]]);
  const rows = listed(desk.session.job!, desk.sheet.on!, known);
  expect(rows.map((one) => [one.title, one.kind, one.things.map(({ id, label }) => `${id} ${label}`)])).toEqual([
    ["Rooms", "room", ["R1 R1"]],
    ["Walls", "wall", ["W1 Stud wall", "W2 make not known"]],
    ["Doors, windows, gaps", "opening", ["X1 door in W1"]],
    ["Outlets", "outlet", ["O1 data", "O2 unknown, never located"]],
    ["Cables", "run", ["C1 cat5, route drawn", "C2 unknown"]],
    ["Readings", "reading", ["Q1 -60"]],
  ]);
});
