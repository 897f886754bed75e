/** What one can do on a plan sheet, by the key that takes it up. */

import { say } from "../words/say";

export type Tool =
  | "select"
  | "probe"
  | "wall"
  | "room"
  | "outside"
  | "door"
  | "window"
  | "gap"
  | "outlet"
  | "meeting"
  | "box"
  | "body"
  | "reading"
  | "route"
  | "align"
  | "scale"
  | "picture";

export type ToolRow = { tool: Tool; key: string; name: string; hint: string };

export const TOOLS: ToolRow[] = [
  {
    tool: "select",
    key: "v",
    name: say("page_plan.select"),
    hint: say("page_plan.press_a_thing_to_see_and"),
  },
  {
    tool: "wall",
    key: "w",
    name: say("page_common.wall"),
    hint: say("page_plan.press_where_the_wall_starts_then"),
  },
  {
    tool: "room",
    key: "r",
    name: say("page_common.room"),
    hint: say("page_plan.press_inside_walls_that_close_around"),
  },
  {
    tool: "outside",
    key: "e",
    name: say("page_plan.outside_area"),
    hint: say("page_plan.press_in_the_garden_drive_or"),
  },
  { tool: "door", key: "d", name: say("page_plan.door"), hint: say("page_plan.press_on_a_wall") },
  { tool: "window", key: "n", name: say("page_plan.window"), hint: say("page_plan.press_on_a_wall") },
  { tool: "gap", key: "g", name: say("page_plan.gap"), hint: say("page_plan.press_on_a_wall_an_opening") },
  { tool: "outlet", key: "o", name: say("page_common.outlet"), hint: say("page_plan.press_where_the_plate_is_it") },
  { tool: "meeting", key: "m", name: say("page_plan.meeting_point"), hint: say("page_plan.press_where_cables_meet") },
  { tool: "box", key: "a", name: say("page_plan.box"), hint: say("page_plan.press_where_the_modem_router_or") },
  { tool: "body", key: "b", name: say("page_plan.body"), hint: say("page_plan.press_where_a_fridge_bath_boiler") },
  {
    tool: "reading",
    key: "t",
    name: say("page_common.reading"),
    hint: say("page_plan.press_where_you_measured_then_type"),
  },
  {
    tool: "route",
    key: "c",
    name: say("page_plan.cable_route"),
    hint: say("page_plan.choose_a_cable_then_press_along"),
  },
  {
    tool: "probe",
    key: "p",
    name: say("page_plan.ask_a_spot"),
    hint: say("page_plan.press_anywhere_to_see_what_gets"),
  },
];

/** The letters of all tools. */
export const ALL_KEYS = TOOLS.map((row) => row.key).join("");
