/** Changes on a job, the same everywhere; a change to a thing that is not there does nothing. */

import { LISTS, type Change, type Job, type Kind, type Thing } from "./types";

const PLAIN: Partial<Record<Kind, Record<string, unknown>>> = {
  storey: {
    height_m: 2.4,
    access: "unknown",
    ceiling: "unknown",
    floor: { construction: "unknown", layers: [], thickness_m: 0.3, outlines: [], voids: [] },
  },
  room: { lived_in: true, outbuilding: false, outside: false, bathroom: false, household: "" },
  wall: {
    thickness_m: null,
    height_m: null,
    base_m: 0,
    construction: "unknown",
    layers: [],
    fire_rated: null,
    drilling: "unknown",
    note: "",
  },
  opening: { height_m: 2, sill_m: 0, construction: "unknown", open: null },
  body: { base_m: 0, construction: "metal-body" },
  outlet: { kind: "unknown", position: null, height_m: 0.3, room: null, mains: null, old_label: "", note: "" },
  meeting_point: {
    height_m: 1.2,
    kind: "closet",
    enclosure: "unknown",
    power_sockets: null,
    inside_m: null,
    vented: null,
  },
  splitter: { position: null, height_m: 0.3, ways: 2, input: null, passes_mhz: null, amplifier: false, capped: null },
  run: {
    kind: "unknown",
    pairs: null,
    gauge_awg: null,
    coax: "unknown",
    sheath_print: "",
    length_m: null,
    topology: "unknown",
    splices: null,
    taps_m: [],
    state: "unknown",
    in_conduit: null,
    route: [],
    tests: [],
    traced: "unknown",
    note: "",
  },
  hazard: { state: "suspected", storey: null, room: null, where: "", sign_off: null },
  bell: { transformer_v: 16, load_va: 10, needs_v: 0 },
  box: { height_m: 1, keep: true, movable: null, radio: true, set_to: [], fed_by: "unknown", run: null },
  need: { uses: [], down_mbps: null, up_mbps: null, probability: 0.9, client: null, wired_outlets: 0, delay_ms: null },
  obligation: { pairs: [], state: "in use", who: "", sign_off: null },
  placed_plug: { round: 1, ties: [], resistors: [], by: "", time: "" },
  trace_reading: {
    end: null,
    outlet: null,
    other: null,
    ties: [],
    tested: null,
    conductors: null,
    ohm: null,
    heard: null,
    rate_mbps: null,
    joined: null,
    round: 1,
    reason: "",
    by: "",
    time: "",
  },
  line_check: {
    run: null,
    outlet: null,
    nobody: null,
    dc_v: null,
    ac_v: null,
    synchronises: null,
    sign_off: null,
    other: null,
    by: "",
    time: "",
    note: "",
  },
  tick: { by: "", time: "", note: "", despite: "" },
  acceptance: { note: "", sign_off: null },
  reading: {
    spread: null,
    repeats: 1,
    stage: "before",
    room: null,
    storey: null,
    position: null,
    height_m: 1.2,
    device: null,
    band: null,
    box: null,
    wired: false,
    doors: "unknown",
    time: "",
    note: "",
  },
};

/** The job after some changes; what did not change is shared with the job before. */
export function applied(job: Job, changes: readonly Change[]): Job {
  return changes.reduce(one, job);
}

function one(job: Job, change: Change): Job {
  if (!(change.kind in LISTS)) {
    if (change.do !== "set") return job;
    if (change.kind === "job") return { ...job, ...change.fields };
    return { ...job, [change.kind]: { ...(job[change.kind as "house"] as object), ...change.fields } };
  }
  const kind = change.kind as Kind;
  if (change.do === "put") {
    const entity = { ...PLAIN[kind], ...change.entity } as Thing;
    return listed(job, kind, (things) => [...things.filter((thing) => thing.id !== entity.id), entity]);
  }
  const id = (change as { id: string }).id;
  if (change.do === "set") {
    return listed(job, kind, (things) =>
      things.map((thing) => (thing.id === id ? { ...thing, ...change.fields } : thing)),
    );
  }
  const without = listed(job, kind, (things) => things.filter((thing) => thing.id !== id));
  return without === job ? job : alongWith(without, kind, id);
}

/** What goes with a dropped thing, as the server will say too. */
function alongWith(job: Job, kind: Kind, id: string): Job {
  if (kind === "wall")
    return listed(job, "opening", (all) => all.filter((o) => (o as never as { wall: string }).wall !== id));
  if (kind === "room")
    return listed(job, "need", (all) => all.filter((n) => (n as never as { room: string }).room !== id));
  return job;
}

function listed(job: Job, kind: Kind, change: (things: Thing[]) => Thing[]): Job {
  const { field, inHouse } = LISTS[kind];
  const holder = (inHouse ? job.house : job) as never as Record<string, Thing[]>;
  const before = holder[field] ?? [];
  const after = change(before);
  if (after.length === before.length && after.every((thing, i) => thing === before[i])) return job;
  return inHouse ? { ...job, house: { ...job.house, [field]: after } } : { ...job, [field]: after };
}
