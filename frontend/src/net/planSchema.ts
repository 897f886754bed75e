/** What a plan says: written by tools/write_types.py from docs/plan.schema.json; not to be edited. */

/** A chosen access point. */
export type AccessPoint = {
  id: string;
  name: string;
  site: Site;
  equipment: string;
  why: string;
  way: string;
  supply: boolean;
};

/** One row of the address sheet. */
export type Address = {
  name: string;
  network: string;
  address: string;
  note: string;
};

/** What the auditor found in the plan; with one finding open nothing in it is called proven. */
export type Audit = {
  findings: PlanFinding[];
};

export type Band = "2.4" | "5" | "6";

/** One limit of a class that a line does not keep, where it misses it most. */
export type BrokenLimit = {
  quantity: string;
  by_db: number;
  at_mhz: number;
};

/** What one access point sends on in one band. */
export type Channel = {
  access_point: string;
  band: Band;
  channel: number;
  centre_channel: number;
  width_mhz: number;
  power_dbm: number;
  dfs: boolean;
  note: string;
  air_left: number;
};

/** Channels of the whole house. */
export type ChannelPlan = {
  channels: Channel[];
  overlaps: string[];
  proven: boolean;
  things_channel: number;
};

/** Which sites, why, and how sure it is that nothing cheaper would do. */
export type Choice = {
  access_points: AccessPoint[];
  candidates: Site[];
  cost: number;
  bound: number;
  gap_pct: number;
  proven: boolean;
  front: FrontPoint[];
  shortfalls: RoomShortfall[];
  what_one_more_buys: string;
  why_not: string[];
  room_chances: RoomChance[];
  outlets: WiredOutlet[];
  router: RouterDecision;
  devices: SwappedDevice[];
  set_afresh: SetBox[];
  pins_left: string[];
  resources: PaidOnce[];
  ways: string[];
  rooms_met: string[];
  words: string;
  problem: Record<string, unknown>;
};

/** A cable as noted beside the limits of a class of channel: never a certificate. */
export type ClassCheck = {
  channel: string;
  ethernet: string;
  broken: BrokenLimit[];
  top_mhz: number;
  loss_allowed_db: number;
  loss_left_db: number;
};

/** One length of cable or one patch cord to cut or buy. */
export type CutLine = {
  id: string;
  kind: string;
  from_place: string;
  to_place: string;
  length_m: number;
  because: string[];
};

/** Delay to the provider and back while the house is busy: a class and a range, no promise. */
export type Delay = {
  grade: "low" | "medium" | "high";
  low_ms: number;
  high_ms: number;
  at: string;
  asked_ms: number | null;
  verdict: "" | "met" | "at risk" | "not met";
  remedy: string;
  remedy_free: boolean;
};

/** What to do for one drop. */
export type DropDecision = {
  drop: string;
  place: string;
  run: string;
  steps: DropStep[];
  cost: number;
  cost_90: number;
  minutes: number;
  minutes_90: number;
  chance: number;
  test: string;
  test_worth: number;
  words: string;
};

/** One try. */
export type DropStep = {
  way: string;
  title: string;
  chance: number;
  walk_away_min: number | null;
  reached: number;
};

/** Whether a run holds one Ethernet rate. */
export type EthernetVerdict = {
  ethernet: string;
  rate_mbps: number;
  band: string;
  chance: number;
  reason: string;
  grade: Grade;
  lift: string;
  lifted_chance: number;
};

/** One point on the front of cost against rooms served. */
export type FrontPoint = {
  cost: number;
  rooms_served: number;
  rooms: string[];
  sites: string[];
  equipment: string[];
  ways: string[];
  switch: string;
  devices: string[];
  set_afresh: string[];
  chosen: boolean;
  nothing: boolean;
  beaten: boolean;
};

/** How well a value is known, best first. */
export type Grade = "certified" | "measured" | "inferred" | "unknown";

/** Nodes and links of one state of the house. */
export type Graph = {
  nodes: Node[];
  links: Link[];
};

/** The network from the street to every box, before and after the work. */
export type Graphs = {
  before: Graph;
  after: Graph;
};

/** One row of the hole and fire-block log, to be filled in while the hole is open. */
export type HoleLine = {
  id: string;
  cable: string;
  place: string;
  through: string;
  seal: string;
  task: string;
};

/** The accepted offer that is in force, its sentence written out. */
export type InForceSaid = {
  offer: string;
  option: string;
  total: number;
  currency: string;
  by: string;
  date: string;
  kept: "all" | "words and price" | "unread" | "altered" | "erased";
  words: string;
};

/** What is written on one label, and where it goes. */
export type LabelLine = {
  id: string;
  alias: string;
  on: "cable end" | "plate" | "panel" | "box";
  place: string;
  wrap: boolean;
};

/** Minutes for one kind of task in one visit: the middle and the 90 % value. */
export type LabourLine = {
  task: string;
  norm: string;
  visit: number;
  count: number;
  minutes: number;
  minutes_90: number;
  because: string[];
};

/** What joins two nodes, what it carries, and what it shares that with. */
export type Link = {
  id: string;
  a: string;
  b: string;
  medium: "provider's line" | "cord" | "twisted pair" | "coax" | "fibre" | "dsl pair" | "wireless hop" | "power line";
  low_mbps: number;
  rate_mbps: number;
  high_mbps: number;
  up_mbps: number | null;
  chance: number;
  shares: string;
  poe_class: number;
  run: string;
  pieces: string[];
  age: "kept" | "old" | "new";
  held: string;
  length_m: number;
  route: [number, number, number][];
};

/** One link of the chain from the internet to a spot. */
export type LinkRate = {
  name: string;
  rate_mbps: number;
  up_mbps: number | null;
};

/** Switch, panel, rack, power, addresses. */
export type Network = {
  switch: string;
  ports: Port[];
  spare_ports: number;
  poe_budget_w: number;
  poe_used_w: number;
  rack: RackItem[];
  rack_units: number;
  draw_w: number;
  core_draw_w: number;
  ups: string;
  ups_minutes_all: number;
  ups_minutes_core: number;
  temperature_rise_c: number;
  heat_note: string;
  stands: "in" | "beside";
  subnets: Subnet[];
  addresses: Address[];
  notes: string[];
};

/** A place or a box that data pass. */
export type Node = {
  id: string;
  kind:
    | "street"
    | "modem"
    | "router"
    | "meeting point"
    | "outlet"
    | "splitter"
    | "adapter"
    | "switch"
    | "access point"
    | "room";
  name: string;
  storey: string;
  position: [number, number] | null;
  height_m: number;
  room: string;
};

/** Something still unknown. */
export type OpenQuestion = {
  about: string[];
  question: string;
  guess: string;
  costs: string;
  settle: string;
};

/** An open standard that a cable could carry with an adapter at each end. */
export type OtherUse = {
  medium: string;
  standard: string;
  low_mbps: number;
  most_mbps: number;
  band: string;
  where: string;
  reason: string;
  needs: string;
  caution: string;
};

/** A piece of work that several ways may share. */
export type PaidOnce = {
  id: string;
  words: string;
  cost: number;
};

/** One line of the takeoff. */
export type PartLine = {
  item: string;
  name: string;
  unit: string;
  need: number;
  spare: number;
  quantity: number;
  unit_price: number;
  price: number;
  because: string[];
  note: string;
};

/** How data come from the street to one access point or wired outlet. */
export type Path = {
  /** AP1, or the outlet's id */
  to: string;
  kind: "access point" | "wired outlet";
  /** id of the room it stands in */
  room: string;
  /** from the street inwards */
  links: PathLink[];
  /** payload of the narrowest link, shared media counted as promised */
  rate_mbps: number;
  /** that every link carries what it is counted on for */
  chance: number;
  /** id of the link that sets the rate */
  narrowest: string;
};

/** One link of a path, as a reader of the plan needs it. */
export type PathLink = {
  /** as on its label and in the graph */
  id: string;
  medium: "provider's line" | "cord" | "twisted pair" | "coax" | "fibre" | "dsl pair" | "wireless hop" | "power line";
  /** payload, low end of the 90 % range */
  low_mbps: number;
  /** payload that is counted on */
  rate_mbps: number;
  /** payload, high end of the 90 % range */
  high_mbps: number;
  /** that it carries `rate_mbps` once it is put right, 0 to 1 */
  chance: number;
  /** medium whose capacity it shares; empty: all its own */
  shares: string;
  /** highest class of power that passes; 0: none */
  poe_class: number;
};

/** Something in a finished plan that does not hold. */
export type PlanFinding = {
  rule: string;
  about: string[];
  sentence: string;
};

/** One row of the port map: what is plugged where. */
export type Port = {
  port: number;
  device: string;
  outlet: string;
  run: string;
  panel_port: number | null;
  rate_mbps: number;
  poe_class: number;
  poe_w: number;
  vlan: string;
  cord_m: number;
  link: string;
  injector: boolean;
};

/** Whether a run carries one class of power over Ethernet. */
export type PowerVerdict = {
  poe_class: number;
  band: string;
  voltage_at_device_v: number;
  device_w: number;
  reason: string;
  grade: Grade;
};

/** Something that may turn out otherwise, with its chance and what it would then cost. */
export type PricedUnknown = {
  about: string[];
  words: string;
  chance: number | null;
  cost: number;
};

/** One thing that a new plan says otherwise. */
export type ProposedChange = {
  what: "access point" | "outlet" | "router" | "device" | "switch" | "channels" | "price" | "steps";
  words: string;
  about: string[];
};

/** The price, what is in it and what is not. */
export type Quote = {
  currency: string;
  parts: number;
  labour: number;
  margin: number;
  tax: number;
  total: number;
  total_90: number;
  options: QuoteOption[];
  included: string[];
  excluded: string[];
  assumptions: string[];
  unknowns: string[];
  deposit: number;
  valid_days: number;
  valid_until: string;
  priced_unknowns: PricedUnknown[];
  promises: string[];
  invented_prices: boolean;
};

/** One offer: good, better, only what is needed. */
export type QuoteOption = {
  name: string;
  access_points: number;
  rooms_served: number;
  rooms_total: number;
  parts: number;
  labour: number;
  margin: number;
  tax: number;
  total: number;
  total_90: number;
  chosen: boolean;
  words: string;
  ways: string[];
};

/** One thing in the rack, from the top. */
export type RackItem = {
  unit: number;
  height_u: number;
  name: string;
  kind: "battery" | "box" | "switch" | "panel";
  equipment: string;
  draw_w: number;
  new: boolean;
};

/** How surely a room is served as a whole, its walls wrong together. */
export type RoomChance = {
  room: string;
  name: string;
  asked: number;
  chance: number;
};

/** What a room gets, against what it needs; up is towards the internet, by the same box and band. */
export type RoomRate = {
  room: string;
  name: string;
  storey: string;
  need_mbps: number;
  asked: number;
  served_pct: number;
  met: boolean;
  low_mbps: number;
  median_mbps: number;
  high_mbps: number;
  power_dbm: number;
  source: string;
  source_name: string;
  band: Band;
  narrowest: string;
  links: LinkRate[];
  down_met: boolean;
  up_need_mbps: number;
  up_served_pct: number;
  up_met: boolean;
  up_low_mbps: number;
  up_median_mbps: number;
  up_high_mbps: number;
  narrowest_up: string;
  together_mbps: number;
  delay: Delay | null;
};

/** A room whose need the plan cannot meet, by how much, and the cheapest thing that would fix it. */
export type RoomShortfall = {
  room: string;
  name: string;
  need_mbps: number;
  gets_mbps: number;
  served_pct: number;
  fix: string;
  fix_cost: number | null;
  kind: "down" | "up" | "delay" | "outlets";
  says: string;
};

/** What becomes of the router. */
export type RouterDecision = {
  box: string;
  do: "keep" | "move" | "radio off" | "none";
  storey: string;
  position: [number, number] | null;
  height_m: number;
  words: string;
  cost: number;
};

/** What an old cable can do, as it is. */
export type RunVerdict = {
  run: string;
  ends: string[];
  length_low_m: number;
  length_m: number;
  length_high_m: number;
  ethernet: EthernetVerdict[];
  power: PowerVerdict[];
  likely_mbps: number;
  hoped_mbps: number;
  poe_class: number;
  usable: boolean;
  held_by: string[];
  sentence: string;
  telling: Telling | null;
  against: ClassCheck | null;
  other: OtherUse[];
  closer: string[];
};

/** A box that stands, whose radio is set afresh: it could send wider than it is set to. */
export type SetBox = {
  box: string;
  name: string;
  words: string;
};

/** A place where an access point may go, and what getting there costs. */
export type Site = {
  id: string;
  name: string;
  storey: string;
  /** x, y on the sheet, metres */
  position: [number, number];
  height_m: number;
  mounting: "ceiling" | "wall" | "shelf";
  fixing: "screws" | "reversible";
  room: string;
  run: string;
  new_pull_m: number;
  hop: boolean;
  way: string;
  spends: string;
  wire_mbps: number;
  poe_class: number;
  cost: number;
  cost_90: number;
  chance: number;
  route: [number, number, number][];
  why: string;
};

/** One thing that was checked, or that somebody has to look at. */
export type SiteCheck = {
  id: string;
  what: string;
  place: string;
  state: "pass" | "mind" | "fail" | "look";
  words: string;
  source: string;
  about: string[];
};

/** One separated network. */
export type Subnet = {
  name: string;
  vlan: number;
  subnet: string;
  purpose: string;
};

/** An old device that is given a new radio instead of its room getting a box. */
export type SwappedDevice = {
  id: string;
  room: string;
  name: string;
  was: string;
  becomes: string;
  item: string;
  way: string;
  words: string;
  cost: number;
  by: "household";
};

export type Takeoff = {
  parts: PartLine[];
  cuts: CutLine[];
  tools: ToolLine[];
  labour: LabourLine[];
  quote: Quote;
  holes: HoleLine[];
};

/** One step of the work, with the cautions that belong to it. */
export type Task = {
  id: string;
  key: string;
  title: string;
  stage: string;
  visit: number;
  place: string;
  minutes: number;
  minutes_90: number;
  needs: string[];
  tools: string[];
  cautions: string[];
  because: string[];
  held: string;
  photo: boolean;
  start_min: number | null;
  person: number | null;
  norm: string;
  by: "us" | "household";
  storey: string;
  stop: boolean;
  hole: boolean;
  touches: string[];
  passes: string[];
};

/** The reading that would tell most of a run. */
export type Telling = {
  reading: string;
  ethernet: string;
  chance: number;
  answers: TellingAnswer[];
};

/** One answer that a reading may give, how likely it is, and what is known then. */
export type TellingAnswer = {
  answer: string;
  chance: number;
  then: number;
};

export type ToolLine = {
  name: string;
  for_what: string;
  because: string[];
};

/** A wired outlet that the plan gives to a room that asks for one. */
export type WiredOutlet = {
  id: string;
  room: string;
  name: string;
  storey: string;
  position: [number, number] | null;
  run: string;
  pull: string;
  rate_mbps: number;
  way: string;
  beside_switch: boolean;
};

/** Everything that follows from a job; maps are left to the papers. */
export type Plan = {
  /** id of the job */
  job: string;
  title: string;
  /** what each old cable can carry */
  cabling: RunVerdict[];
  /** what every room gets today: the plan of doing nothing */
  before: RoomRate[];
  graph: Graphs;
  /** to every access point and wired outlet: its links from the street, in order */
  paths: Path[];
  /** what was chosen, why, and from what */
  choice: Choice;
  /** what every room will get, by the same model as `before` */
  after: RoomRate[];
  notes: string[];
  /** each wanted cable: what to try, in order */
  drops: DropDecision[];
  channels: ChannelPlan;
  network: Network;
  /** parts, labour and the quote */
  takeoff: Takeoff;
  /** the tasks, in the order of work */
  order: Task[];
  open_questions: OpenQuestion[];
  /** what was checked, or is to be looked at */
  checks: SiteCheck[];
  /** what is written on every label */
  labels: LabelLine[];
  audit: Audit;
  /** the accepted offer, where there is one */
  in_force: InForceSaid | null;
  /** what a new plan would say otherwise; not in force */
  changes: ProposedChange[];
  /** offers that may be accepted instead */
  new_quote: Quote | null;
};
