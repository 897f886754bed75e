/** What one can do on a plan sheet, by the key that takes it up. */

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
    name: "Select",
    hint: "Press a thing to see and change it; drag to move it; drag empty paper to move the sheet.",
  },
  {
    tool: "wall",
    key: "w",
    name: "Wall",
    hint: "Press where the wall starts, then where it ends; or type how long it is. It goes on from there; Escape ends it.",
  },
  { tool: "room", key: "r", name: "Room", hint: "Press inside walls that close around a room." },
  {
    tool: "outside",
    key: "e",
    name: "Outside area",
    hint: "Press in the garden, drive or terrace; then drag the corners of the area.",
  },
  { tool: "door", key: "d", name: "Door", hint: "Press on a wall." },
  { tool: "window", key: "n", name: "Window", hint: "Press on a wall." },
  { tool: "gap", key: "g", name: "Gap", hint: "Press on a wall: an opening with nothing in it." },
  { tool: "outlet", key: "o", name: "Outlet", hint: "Press where the plate is; it goes to the nearest wall's face." },
  { tool: "meeting", key: "m", name: "Meeting point", hint: "Press where cables meet." },
  { tool: "box", key: "a", name: "Box", hint: "Press where the modem, router or access point stands." },
  { tool: "body", key: "b", name: "Body", hint: "Press where a fridge, bath, boiler or chimney breast stands." },
  { tool: "reading", key: "t", name: "Reading", hint: "Press where you measured, then type what was read." },
  {
    tool: "route",
    key: "c",
    name: "Cable route",
    hint: "Choose a cable, then press along its way, from plate to plate. Backspace takes a point back, Enter ends.",
  },
  {
    tool: "probe",
    key: "p",
    name: "Ask a spot",
    hint: "Press anywhere to see what gets there, and which link is the narrowest.",
  },
];

/** The letters of all tools. */
export const ALL_KEYS = TOOLS.map((row) => row.key).join("");
