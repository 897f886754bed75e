/** The job document, as docs/job.schema.json has it. */

import type { Point } from "../maths/geometry";
import type { Units } from "../maths/lengths";

export type Point3 = [number, number, number];
export type Slab = { construction: string; thickness_m: number; voids: Point[][]; outlines: Point[][] };
export type Storey = {
  id: string;
  name: string;
  elevation_m: number;
  height_m: number;
  floor: Slab;
  access: string;
  ceiling: string;
};
export type Wall = {
  id: string;
  storey: string;
  start: Point;
  end: Point;
  thickness_m: number | null;
  height_m: number | null;
  base_m: number;
  construction: string;
  layers: { material: string; thickness_m: number }[];
  fire_rated: boolean | null;
  drilling: string;
  note: string;
};
export type Opening = {
  id: string;
  wall: string;
  kind: "door" | "window" | "gap";
  offset_m: number;
  width_m: number;
  height_m: number;
  sill_m: number;
  construction: string;
  open: boolean | null;
};
export type Room = {
  id: string;
  name: string;
  storey: string;
  polygon: Point[];
  lived_in: boolean;
  outbuilding: boolean;
  outside: boolean;
  bathroom: boolean;
  household: string;
};
export type Body = {
  id: string;
  storey: string;
  kind: string;
  corner: Point;
  width_m: number;
  depth_m: number;
  height_m: number;
};
export type Outlet = {
  id: string;
  storey: string;
  kind: string;
  position: Point | null;
  height_m: number;
  room: string | null;
  mains: boolean | null;
  old_label: string;
  note: string;
};
export type MeetingPoint = {
  id: string;
  name: string;
  storey: string;
  position: Point;
  height_m: number;
  kind: string;
  enclosure: string;
  power_sockets: number | null;
  inside_m: [number, number, number] | null;
  vented: boolean | null;
};
export type Splitter = {
  id: string;
  name: string;
  storey: string;
  position: Point | null;
  height_m: number;
  ways: number;
  input: string | null;
  passes_mhz: number | null;
  amplifier: boolean;
  capped: boolean | null;
};
export type Estimate = { middle: number; low: number; high: number; grade: string };
export type RunTest = {
  wire_map: string | null;
  link_mbps: number | null;
  port_mbps: number;
  errors: number | null;
  soak_s: number | null;
  loop_ohm: number | null;
  poe_voltage_v: number | null;
  certified_to: string | null;
  by: string;
  date: string;
};
export type Run = {
  id: string;
  ends: string[];
  kind: string;
  pairs: number | null;
  gauge_awg: number | null;
  coax: string;
  sheath_print: string;
  length_m: Estimate | null;
  topology: string;
  splices: number | null;
  state: string;
  in_conduit: boolean | null;
  route: Point3[];
  tests: RunTest[];
  traced: string;
  note: string;
};
export type Hazard = {
  id: string;
  kind: string;
  state: string;
  storey: string | null;
  room: string | null;
  where: string;
  sign_off: SignOff | null;
};
export type Bell = { id: string; run: string; transformer_v: number; load_va: number; needs_v: number };
export type House = {
  name: string;
  built_year: number | null;
  tenure: string;
  storeys: Storey[];
  rooms: Room[];
  walls: Wall[];
  openings: Opening[];
  bodies: Body[];
  outlets: Outlet[];
  meeting_points: MeetingPoint[];
  splitters: Splitter[];
  entry_filter: boolean | null;
  runs: Run[];
  hazards: Hazard[];
  bells: Bell[];
};
export type RadioSetting = { band: string; channel: number | null; width_mhz: number | null };
export type Box = {
  id: string;
  name: string;
  equipment: string;
  storey: string;
  position: Point;
  height_m: number;
  keep: boolean;
  movable: boolean | null;
  radio: boolean;
  set_to: RadioSetting[];
  fed_by: string;
  run: string | null;
};
export type Device = { id: string; name: string; client: string };
export type Reading = {
  id: string;
  quantity: string;
  value: number;
  spread: number | null;
  repeats: number;
  stage: string;
  room: string | null;
  storey: string | null;
  position: Point | null;
  height_m: number;
  device: string | null;
  band: string | null;
  box: string | null;
  wired: boolean;
  doors: string;
  time: string;
  note: string;
  at_most?: boolean;
};
export type Heard = {
  id: string;
  band: string;
  channel: number;
  width_mhz: number;
  power_dbm: number;
  room: string | null;
  busy_pct: number | null;
  time: string;
};
export type Need = {
  id: string;
  room: string;
  uses: string[];
  down_mbps: number | null;
  up_mbps: number | null;
  probability: number;
  client: string | null;
  wired_outlets: number;
  delay_ms: number | null;
};
export type SignOff = { by: string; date: string; words: string };
export type Obligation = {
  id: string;
  kind: string;
  run: string;
  pairs: number[];
  state: string;
  who: string;
  sign_off: SignOff | null;
};
export type PlacedPlug = {
  id: string;
  outlet: string;
  round: number;
  ties: number[][];
  resistors: [number, number, number][];
  by: string;
  time: string;
};
export type TraceReading = {
  id: string;
  kind: "continuity" | "resistance" | "tone" | "link" | "bridge" | "withdrawn";
  end: string | null;
  outlet: string | null;
  other: string | null;
  ties: number[][];
  tested: number[] | null;
  conductors: [number, number] | null;
  ohm: number | null;
  heard: string | null;
  rate_mbps: number | null;
  joined: boolean | null;
  round: number;
  reason: string;
  by: string;
  time: string;
};
export type LineCheck = {
  id: string;
  at: string;
  what: "who depends" | "voltage" | "modem sync" | "disconnected" | "reconnected" | "withdrawn";
  run: string | null;
  outlet: string | null;
  nobody: boolean | null;
  dc_v: number | null;
  ac_v: number | null;
  synchronises: boolean | null;
  sign_off: SignOff | null;
  other: string | null;
  by: string;
  time: string;
  note: string;
};
export type Decision = { id: string; run: string; sign_off: SignOff };
export type Tick = { id: string; task: string; by: string; time: string; note: string; despite: string };
export type Acceptance = {
  id: string;
  about: string;
  result: "pass" | "fail" | "not tested";
  note: string;
  sign_off: SignOff | null;
};
export type Choices = {
  pinned_sites: string[];
  forbidden_sites: string[];
  new_pulls: boolean;
  budget: number | null;
  ups_minutes: number;
  margin_pct: number;
  tax_pct: number;
  labour_per_h: number | null;
  dfs: boolean;
  spare_ports: number;
  whole_rooms: boolean;
  move_router: boolean;
  wireless_hops: boolean;
  coax_adapters: boolean;
  swap_devices: boolean;
  fixing: string;
};
export type Gate = Record<
  | "lead_paint"
  | "asbestos"
  | "knob_and_tube"
  | "fire_rated_walls"
  | "licence_checked"
  | "landlord_agrees"
  | "asked_about_alarms",
  boolean | null
>;
export type Service = {
  down_mbps: number;
  up_mbps: number;
  medium: string;
  modem: string | null;
  run: string | null;
  enters: string | null;
  managed_queue: boolean | null;
};
/** A document that the page kept under another version is not shown: the server sends it anew. */
export const SCHEMA_VERSION = 3;
export type Job = {
  schema_version: number;
  id: string;
  title: string;
  invented: boolean;
  country: string;
  units: Units;
  paper: string;
  currency: string;
  date: string;
  house: House;
  boxes: Box[];
  service: Service;
  devices: Device[];
  needs: Need[];
  obligations: Obligation[];
  readings: Reading[];
  heard: Heard[];
  placed_plugs: PlacedPlug[];
  trace_readings: TraceReading[];
  line_checks: LineCheck[];
  decisions: Decision[];
  ticks: Tick[];
  acceptance: Acceptance[];
  choices: Choices;
  gate: Gate;
  contacts: Record<"household" | "technician" | "firm" | "address", string>;
  notes: string;
};

export type Kind =
  | "storey"
  | "room"
  | "wall"
  | "opening"
  | "body"
  | "outlet"
  | "meeting_point"
  | "splitter"
  | "run"
  | "hazard"
  | "bell"
  | "box"
  | "device"
  | "need"
  | "obligation"
  | "reading"
  | "heard"
  | "placed_plug"
  | "trace_reading"
  | "line_check"
  | "decision"
  | "tick"
  | "acceptance";
export type Single = "job" | "house" | "service" | "choices" | "gate" | "contacts";
export type Thing = { id: string };

export type Change =
  | { do: "put"; kind: Kind; entity: Thing & Record<string, unknown> }
  | { do: "set"; kind: Kind; id: string; fields: Record<string, unknown> }
  | { do: "set"; kind: Single; fields: Record<string, unknown> }
  | { do: "drop"; kind: Kind; id: string };

export type Edit = { edit: string; base: number; label: string; changes: Change[] };

export const LISTS: Record<Kind, { field: string; inHouse: boolean }> = {
  storey: { field: "storeys", inHouse: true },
  room: { field: "rooms", inHouse: true },
  wall: { field: "walls", inHouse: true },
  opening: { field: "openings", inHouse: true },
  body: { field: "bodies", inHouse: true },
  outlet: { field: "outlets", inHouse: true },
  meeting_point: { field: "meeting_points", inHouse: true },
  splitter: { field: "splitters", inHouse: true },
  run: { field: "runs", inHouse: true },
  hazard: { field: "hazards", inHouse: true },
  bell: { field: "bells", inHouse: true },
  box: { field: "boxes", inHouse: false },
  device: { field: "devices", inHouse: false },
  need: { field: "needs", inHouse: false },
  obligation: { field: "obligations", inHouse: false },
  reading: { field: "readings", inHouse: false },
  heard: { field: "heard", inHouse: false },
  placed_plug: { field: "placed_plugs", inHouse: false },
  trace_reading: { field: "trace_readings", inHouse: false },
  line_check: { field: "line_checks", inHouse: false },
  decision: { field: "decisions", inHouse: false },
  tick: { field: "ticks", inHouse: false },
  acceptance: { field: "acceptance", inHouse: false },
};

export function thingsOf<T extends Thing = Thing>(job: Job, kind: Kind): T[] {
  const { field, inHouse } = LISTS[kind];
  return ((inHouse ? job.house : job)[field as never] ?? []) as T[];
}

export function thingOf<T extends Thing = Thing>(job: Job, kind: Kind, id: string): T | undefined {
  return thingsOf<T>(job, kind).find((thing) => thing.id === id);
}
