/** What a plan says; the fields the pages show. */

import type { Point } from "../maths/geometry";

export type EthernetVerdict = {
  ethernet: string;
  rate_mbps: number;
  band: "likely" | "try it" | "no";
  chance: number;
  reason: string;
  grade: string;
  lift: string;
};
export type RunVerdict = {
  run: string;
  ends: string[];
  length_low_m: number;
  length_m: number;
  length_high_m: number;
  ethernet: EthernetVerdict[];
  power: { poe_class: number; band: string; reason: string; grade: string }[];
  likely_mbps: number;
  hoped_mbps: number;
  poe_class: number;
  usable: boolean;
  held_by: string[];
  sentence: string;
};
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
  source_name: string;
  band: string;
  narrowest: string;
  links: { name: string; rate_mbps: number }[];
  up_need_mbps: number;
  up_served_pct: number;
  down_met: boolean;
  up_met: boolean;
  up_low_mbps: number;
  up_median_mbps: number;
  up_high_mbps: number;
  narrowest_up: string;
  together_mbps: number;
  delay: Delay | null;
};
export type Delay = {
  grade: "low" | "medium" | "high";
  low_ms: number;
  high_ms: number;
  at: string;
  asked_ms: number | null;
  verdict: "" | "met" | "at risk" | "not met";
  remedy: string;
};
export type Site = {
  id: string;
  name: string;
  storey: string;
  position: Point;
  height_m: number;
  mounting: string;
  room: string;
  run: string;
  new_pull_m: number;
  hop: boolean;
  wire_mbps: number;
  cost: number;
  cost_90: number;
  chance: number;
  why: string;
};
export type AccessPoint = { id: string; name: string; site: Site; equipment: string; why: string };
export type FrontPoint = {
  cost: number;
  rooms_served: number;
  rooms: string[];
  sites: string[];
  equipment: string[];
  chosen: boolean;
  beaten: boolean;
};
export type RouterDecision = {
  box: string;
  do: "keep" | "move" | "radio off" | "none";
  storey: string;
  position: Point | null;
};
export type Choice = {
  router: RouterDecision;
  access_points: AccessPoint[];
  candidates: Site[];
  cost: number;
  bound: number;
  gap_pct: number;
  proven: boolean;
  front: FrontPoint[];
  shortfalls: {
    room: string;
    name: string;
    need_mbps: number;
    gets_mbps: number;
    served_pct: number;
    fix: string;
    fix_cost: number | null;
    kind: string;
    says: string;
  }[];
  what_one_more_buys: string;
};
export type Task = {
  id: string;
  key?: string;
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
};
export type Quote = {
  currency: string;
  parts: number;
  labour: number;
  margin: number;
  tax: number;
  total: number;
  total_90: number;
  options: {
    name: string;
    access_points: number;
    rooms_served: number;
    rooms_total: number;
    total: number;
    total_90: number;
    chosen: boolean;
    words: string;
  }[];
  included: string[];
  excluded: string[];
  assumptions: string[];
  unknowns: string[];
  deposit: number;
  valid_days: number;
  invented_prices: boolean;
};
export type Takeoff = {
  parts: {
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
  }[];
  cuts: { id: string; kind: string; from_place: string; to_place: string; length_m: number; because: string[] }[];
  tools: { name: string; for_what: string }[];
  labour: { task: string; visit: number; count: number; minutes: number; minutes_90: number }[];
  quote: Quote;
};
export type OpenQuestion = { about: string[]; question: string; guess: string; costs: string; settle: string };
export type Plan = {
  cabling: RunVerdict[];
  before: RoomRate[];
  after: RoomRate[];
  notes: string[];
  choice: Choice;
  channels: {
    channels: {
      access_point: string;
      band: string;
      channel: number;
      width_mhz: number;
      power_dbm: number;
      dfs: boolean;
      note: string;
    }[];
    overlaps: string[];
    proven: boolean;
  };
  network: {
    switch: string;
    ports: { port: number; device: string; outlet: string; run: string; rate_mbps: number; poe_w: number }[];
    poe_budget_w: number;
    poe_used_w: number;
    ups: string;
    ups_minutes_all: number;
    notes: string[];
  };
  takeoff: Takeoff;
  order: Task[];
  open_questions: OpenQuestion[];
  in_force: {
    offer: string;
    option: string;
    kept: "all" | "words and price" | "unread" | "altered" | "erased";
    words: string;
  } | null;
  changes: { what: string; words: string; about: string[] }[];
  new_quote: Quote | null;
};
