/** The job document: written by tools/write_types.py from docs/job.schema.json; not to be edited. */

import type {
  ACCEPTANCE_RESULT,
  BAND,
  BODY_KIND,
  BOX_FED_BY,
  CABLE_KIND,
  CHOICES_FIXING,
  GRADE,
  HAZARD_KIND,
  HAZARD_STATE,
  HEARD_WIDTH_MHZ,
  HOUSE_TENURE,
  JOB_PAPER,
  JOB_UNITS,
  LINE_CHECK_WHAT,
  MEETING_KIND,
  MEETING_POINT_ENCLOSURE,
  OBLIGATION_KIND,
  OBLIGATION_STATE,
  OPENING_HINGE,
  OPENING_KIND,
  OPENING_SWING,
  OUTLET_KIND,
  QUANTITY,
  RADIO_SETTING_WIDTH_MHZ,
  READING_DOORS,
  READING_STAGE,
  RUN_COAX,
  RUN_STATE,
  SERVICE_MEDIUM,
  STOREY_ACCESS,
  STOREY_CEILING,
  TOPOLOGY,
  TRACE_READING_HEARD,
  TRACE_READING_KIND,
  WALL_DRILLING,
  WIRE_MAP,
} from "./kinds";

/** One signed line of the acceptance record. */
export type Acceptance = {
  id: string;
  about: string;
  result: (typeof ACCEPTANCE_RESULT)[number];
  note: string;
  sign_off: SignOff | null;
};

/** An offer as it was signed: its own text, and a hash by which a later change shows. */
export type AcceptedOffer = {
  id: string;
  option: string;
  total: number;
  /** ISO 4217 code */
  currency: string;
  /** canonical JSON of what was offered */
  offer: string;
  /** of `offer` in UTF-8 */
  sha256: string;
  sign_off: SignOff;
  plan: string;
  plan_sha256: string;
};

export type Band = (typeof BAND)[number];

/** A door bell or door camera fed over an old run. */
export type Bell = {
  id: string;
  run: string;
  transformer_v: number;
  load_va: number;
  needs_v: number;
};

/** A big thing that radio does not like: metal, or a chimney breast. */
export type Body = {
  id: string;
  storey: string;
  kind: BodyKind;
  /** x, y on the sheet, metres */
  corner: [number, number];
  width_m: number;
  depth_m: number;
  height_m: number;
  base_m: number;
  construction: string;
};

export type BodyKind = (typeof BODY_KIND)[number];

/** A box with electronics that stands in the house today: modem, router, access point, switch. */
export type Box = {
  id: string;
  name: string;
  equipment: string;
  storey: string;
  /** x, y on the sheet, metres */
  position: [number, number];
  height_m: number;
  keep: boolean;
  movable: boolean | null;
  radio: boolean;
  set_to: RadioSetting[];
  fed_by: (typeof BOX_FED_BY)[number];
  run: string | null;
};

/** What a cable in a wall may be. Those with pairs have a row in `cables`. */
export type CableKind = (typeof CABLE_KIND)[number];

/** What people decided; the plan keeps to it. */
export type Choices = {
  pinned_sites: string[];
  forbidden_sites: string[];
  new_pulls: boolean;
  move_router: boolean;
  wireless_hops: boolean;
  coax_adapters: boolean;
  swap_devices: boolean;
  fixing: (typeof CHOICES_FIXING)[number];
  budget: number | null;
  ups_minutes: number;
  margin_pct: number;
  tax_pct: number;
  labour_per_h: number | null;
  dfs: boolean;
  spare_ports: number;
  to_be_moved: string[];
  people: number;
  whole_rooms: boolean;
};

/** Who is who on this job. Secrets do not belong here. */
export type Contacts = {
  household: string;
  technician: string;
  firm: string;
  address: string;
};

/** A recorded decision about a cable itself: tested dead, or its service moved or given up. */
export type Decision = {
  id: string;
  run: string;
  sign_off: SignOff;
};

/** A household device used for readings or named in a need. */
export type Device = {
  id: string;
  name: string;
  client: string;
};

/** A quantity with its 90 % range and how well it is known. The unit is in the field's name. */
export type Estimate = {
  middle: number;
  low: number;
  high: number;
  grade: Grade;
};

/** Asked at the door, before a tool leaves the van. None: not asked yet. */
export type Gate = {
  lead_paint: boolean | null;
  asbestos: boolean | null;
  knob_and_tube: boolean | null;
  fire_rated_walls: boolean | null;
  licence_checked: boolean | null;
  landlord_agrees: boolean | null;
  asked_about_alarms: boolean | null;
};

/** How well a value is known, best first. */
export type Grade = (typeof GRADE)[number];

/** Something in the way that a licensed person tests or makes safe before a hole is made there. */
export type Hazard = {
  id: string;
  kind: HazardKind;
  state: (typeof HAZARD_STATE)[number];
  storey: string | null;
  room: string | null;
  where: string;
  sign_off: SignOff | null;
};

export type HazardKind = (typeof HAZARD_KIND)[number];

/** A neighbour's network heard in a scan. */
export type Heard = {
  id: string;
  band: Band;
  channel: number;
  width_mhz: (typeof HEARD_WIDTH_MHZ)[number];
  power_dbm: number;
  room: string | null;
  busy_pct: number | null;
  time: string;
};

/** Everything that stands. */
export type House = {
  name: string;
  built_year: number | null;
  tenure: (typeof HOUSE_TENURE)[number];
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

/** One sheet of material in a wall or slab, as a building model or a person named it. */
export type Layer = {
  material: string;
  thickness_m: number;
};

/** What a firm's earlier houses say, as predictions of this job use it. */
export type Learnt = {
  date: string;
  houses: number;
  readings: number;
  terms: LearntTerm[];
};

/** What earlier houses say of one doubt of a prediction, beyond the tables: a `term` in the document. */
export type LearntTerm = {
  term: string;
  shift_db: number;
  sd_db: number;
  houses: number;
  readings: number;
};

export type LineCheck = {
  id: string;
  at: string;
  what: (typeof LINE_CHECK_WHAT)[number];
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

export type MeetingKind = (typeof MEETING_KIND)[number];

/** A place where cables meet: where a rack, a panel or a joint can be. */
export type MeetingPoint = {
  id: string;
  name: string;
  storey: string;
  /** x, y on the sheet, metres */
  position: [number, number];
  height_m: number;
  kind: MeetingKind;
  enclosure: (typeof MEETING_POINT_ENCLOSURE)[number];
  power_sockets: number | null;
  inside_m: [number, number, number] | null;
  vented: boolean | null;
};

/** What a room needs: the rate to reach there, and how surely. */
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

/** Somebody who still depends on a pair. Nothing that would cut it is ordered before a sign-off. */
export type Obligation = {
  id: string;
  kind: ObligationKind;
  run: string;
  pairs: number[];
  state: ObligationState;
  who: string;
  sign_off: SignOff | null;
};

export type ObligationKind = (typeof OBLIGATION_KIND)[number];

export type ObligationState = (typeof OBLIGATION_STATE)[number];

/** A door, window or gap in a wall; `offset_m` runs along the centre line from the wall's start. */
export type Opening = {
  id: string;
  wall: string;
  kind: OpeningKind;
  offset_m: number;
  width_m: number;
  height_m: number;
  sill_m: number;
  construction: string;
  open: boolean | null;
  hinge: (typeof OPENING_HINGE)[number];
  swing: (typeof OPENING_SWING)[number];
};

export type OpeningKind = (typeof OPENING_KIND)[number];

/** A plate on a wall where a cable surfaces, or is said to. */
export type Outlet = {
  id: string;
  storey: string;
  kind: OutletKind;
  position: [number, number] | null;
  height_m: number;
  room: string | null;
  mains: boolean | null;
  old_label: string;
  note: string;
};

export type OutletKind = (typeof OUTLET_KIND)[number];

/** A tracing plug that stands, or stood, in an outlet. */
export type PlacedPlug = {
  id: string;
  outlet: string;
  round: number;
  ties: number[][];
  resistors: [number, number, number][];
  by: string;
  time: string;
};

export type Quantity = (typeof QUANTITY)[number];

/** What one radio of a box is set to today, as its own page or a scan says. None: not read. */
export type RadioSetting = {
  band: Band;
  channel: number | null;
  width_mhz: (typeof RADIO_SETTING_WIDTH_MHZ)[number] | null;
};

/** One thing measured at one place at one time. */
export type Reading = {
  id: string;
  quantity: Quantity;
  value: number;
  spread: number | null;
  repeats: number;
  at_most: boolean;
  stage: (typeof READING_STAGE)[number];
  room: string | null;
  storey: string | null;
  position: [number, number] | null;
  height_m: number;
  device: string | null;
  band: Band | null;
  box: string | null;
  wired: boolean;
  doors: (typeof READING_DOORS)[number];
  time: string;
  note: string;
};

/** A room: the name chosen once and used everywhere. */
export type Room = {
  id: string;
  name: string;
  storey: string;
  polygon: [number, number][];
  lived_in: boolean;
  outbuilding: boolean;
  outside: boolean;
  bathroom: boolean;
  household: string;
};

export type Run = {
  id: string;
  ends: string[];
  kind: CableKind;
  pairs: number | null;
  gauge_awg: number | null;
  coax: (typeof RUN_COAX)[number];
  sheath_print: string;
  length_m: Estimate | null;
  topology: Topology;
  splices: number | null;
  taps_m: number[];
  state: RunState;
  in_conduit: boolean | null;
  conduit_bore_m: number | null;
  conduit_others: number;
  route: [number, number, number][];
  tests: RunTest[];
  traced: Grade;
  note: string;
};

export type RunState = (typeof RUN_STATE)[number];

/** What was found on a run with an instrument in hand. */
export type RunTest = {
  wire_map: WireMap | null;
  link_mbps: number | null;
  port_mbps: number;
  errors: number | null;
  soak_s: number | null;
  loop_ohm: number | null;
  fault_ohm: number | null;
  from_end: string | null;
  poe_voltage_v: number | null;
  certified_to: CableKind | null;
  by: string;
  date: string;
};

/** What is paid for, and where it enters. */
export type Service = {
  down_mbps: number;
  up_mbps: number;
  medium: (typeof SERVICE_MEDIUM)[number];
  modem: string | null;
  run: string | null;
  enters: string | null;
  managed_queue: boolean | null;
};

/** A recorded decision: who, when, in what words. */
export type SignOff = {
  by: string;
  /** ISO date */
  date: string;
  words: string;
};

/** The floor of a storey: what a path meets between this storey and the one below. */
export type Slab = {
  construction: string;
  layers: Layer[];
  thickness_m: number;
  outlines: [number, number][][];
  voids: [number, number][][];
};

/** Where one coax becomes several: cables name it among their ends. */
export type Splitter = {
  id: string;
  name: string;
  storey: string;
  position: [number, number] | null;
  height_m: number;
  ways: number;
  input: string | null;
  passes_mhz: number | null;
  amplifier: boolean;
  capped: boolean | null;
};

/** One floor of the house. */
export type Storey = {
  id: string;
  name: string;
  elevation_m: number;
  height_m: number;
  floor: Slab;
  access: (typeof STOREY_ACCESS)[number];
  ceiling: (typeof STOREY_CEILING)[number];
};

/** A step of the work that somebody says is done. */
export type Tick = {
  id: string;
  task: string;
  by: string;
  time: string;
  note: string;
  despite: string;
};

export type Topology = (typeof TOPOLOGY)[number];

/** One thing seen at the end of a cable while tracing. A mistake is withdrawn by another entry. */
export type TraceReading = {
  id: string;
  kind: (typeof TRACE_READING_KIND)[number];
  end: string | null;
  outlet: string | null;
  other: string | null;
  ties: number[][];
  tested: number[] | null;
  conductors: [number, number] | null;
  ohm: number | null;
  heard: (typeof TRACE_READING_HEARD)[number] | null;
  rate_mbps: number | null;
  joined: boolean | null;
  round: number;
  reason: string;
  by: string;
  time: string;
};

/** A straight wall: a centre line with a thickness, a height and a construction. */
export type Wall = {
  id: string;
  storey: string;
  /** x, y on the sheet, metres */
  start: [number, number];
  /** x, y on the sheet, metres */
  end: [number, number];
  thickness_m: number | null;
  height_m: number | null;
  base_m: number;
  construction: string;
  layers: Layer[];
  fire_rated: boolean | null;
  drilling: (typeof WALL_DRILLING)[number];
  note: string;
};

export type WireMap = (typeof WIRE_MAP)[number];

/** One job is one document. */
export type Job = {
  schema_version: 3;
  id: string;
  title: string;
  invented: boolean;
  /** ISO 3166 code */
  country: string;
  units: (typeof JOB_UNITS)[number];
  paper: (typeof JOB_PAPER)[number];
  /** ISO 4217 code */
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
  accepted_offers: AcceptedOffer[];
  choices: Choices;
  gate: Gate;
  contacts: Contacts;
  learnt: Learnt | null;
  notes: string;
};
