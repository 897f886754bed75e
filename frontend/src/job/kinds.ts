/** Words a job may use: written by tools/write_types.py from docs/job.schema.json; not to be edited. */

export const SCHEMA_VERSION = 3;

export const ACCEPTANCE_RESULT = ["pass", "fail", "not tested"] as const;
export const BAND = ["2.4", "5", "6"] as const;
export const BODY_KIND = ["fridge", "bath", "boiler", "duct", "mirror", "chimney", "other"] as const;
export const BOX_FED_BY = ["cord", "run", "wireless", "power line", "unknown"] as const;
export const CABLE_KIND = [
  "quad",
  "cat3",
  "cat5",
  "cat5e",
  "cat6",
  "cat6a",
  "coax",
  "fibre",
  "bell wire",
  "unknown",
] as const;
export const CHOICES_FIXING = ["screws", "reversible"] as const;
export const GRADE = ["certified", "measured", "inferred", "unknown"] as const;
export const HAZARD_STATE = ["suspected", "present", "made safe", "tested clear"] as const;
export const HAZARD_KIND = ["asbestos", "lead paint", "knob and tube", "other"] as const;
export const HEARD_WIDTH_MHZ = [20, 40, 80, 160, 320] as const;
export const HOUSE_TENURE = ["owned", "rented", "unknown"] as const;
export const LINE_CHECK_WHAT = [
  "who depends",
  "voltage",
  "modem sync",
  "disconnected",
  "reconnected",
  "withdrawn",
] as const;
export const MEETING_KIND = ["closet", "panel", "demarcation point", "junction box"] as const;
export const MEETING_POINT_ENCLOSURE = ["open wall", "cupboard", "flush metal can", "attic", "unknown"] as const;
export const OBLIGATION_KIND = [
  "monitored alarm",
  "pendant alarm",
  "entry phone",
  "lift",
  "dsl",
  "fax",
  "telephone",
  "television",
  "satellite",
  "cable modem",
  "other household",
  "other",
] as const;
export const OBLIGATION_STATE = ["in use", "believed unused", "moved and tested", "released"] as const;
export const OPENING_HINGE = ["near", "far", "unknown"] as const;
export const OPENING_SWING = ["left", "right", "unknown"] as const;
export const OPENING_KIND = ["door", "window", "gap"] as const;
export const OUTLET_KIND = ["telephone", "coax", "data", "blank plate", "unknown"] as const;
export const QUANTITY = ["down_mbps", "up_mbps", "power_dbm", "delay_ms", "loaded_delay_ms", "link_mbps"] as const;
export const RADIO_SETTING_WIDTH_MHZ = [20, 40, 80, 160, 320] as const;
export const READING_STAGE = ["before", "during", "after"] as const;
export const READING_DOORS = ["open", "shut", "unknown"] as const;
export const RUN_COAX = ["RG-59", "RG-6", "RG-11", "unknown"] as const;
export const RUN_STATE = ["live telephone", "alarm", "dead", "damaged", "unknown"] as const;
export const SERVICE_MEDIUM = ["cable", "dsl", "fibre", "wireless", "unknown"] as const;
export const STOREY_ACCESS = ["open below", "open above", "closed", "unknown"] as const;
export const STOREY_CEILING = ["hollow", "solid", "unknown"] as const;
export const TOPOLOGY = ["home run", "daisy chain", "spliced", "unknown"] as const;
export const TRACE_READING_KIND = ["continuity", "resistance", "tone", "link", "bridge", "withdrawn"] as const;
export const TRACE_READING_HEARD = ["loud", "faint", "none"] as const;
export const WALL_DRILLING = ["allowed", "forbidden", "unknown"] as const;
export const WIRE_MAP = ["good", "open", "short", "crossed", "reversed", "split pair"] as const;
export const JOB_UNITS = ["metric", "imperial"] as const;
export const JOB_PAPER = ["A4", "Letter"] as const;

/** Where the things of one kind stand in the document: `house.walls`, `boxes`. */
export const LISTS = {
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
} as const;

/** Things of which a job has exactly one; edits set their fields and name no id. */
export const SINGLES = ["job", "house", "service", "choices", "gate", "contacts"] as const;
