/** Many cables entered as rows of a table, typed or pasted: what they come to, and what is not understood. */

import { freshIds } from "../job/ids";
import { CABLE_KIND, LISTS } from "../job/kinds";
import { thingOf } from "../job/things";
import type { CableKind, Change, Job, Kind } from "../job/types";
import { say, term } from "../words/say";

export const COLUMNS = ["name", "kind", "from", "to", "note"] as const;
export type Column = (typeof COLUMNS)[number];
export type CableRow = Record<Column, string>;

export const blankRow = (): CableRow => ({ name: "", kind: "", from: "", to: "", note: "" });
export const isBlank = (row: CableRow): boolean => COLUMNS.every((column) => !row[column].trim());

const ID = /^[A-Za-z0-9][A-Za-z0-9._-]{0,31}$/;

/**
 * Cells of a table as another program copies it: tabs, else semicolons, else commas. A cell in quotes (RFC 4180, 2)
 * holds separators, ends of lines and doubled quotes; elsewhere a quote is a letter like any other, as in 12" up.
 */
export function cellsOf(text: string): string[][] {
  const all = text.replace(/\r\n?/g, "\n").replace(/\n+$/, "");
  const between = ["\t", ";", ","].find((one) => all.includes(one)) ?? "\t";
  const lines: string[][] = [[]];
  for (let at = 0; at <= all.length; at += 1) {
    const [cell, end] = cellAt(all, at, between);
    lines.at(-1)!.push(cell);
    if (all[end] === "\n") lines.push([]);
    at = end;
  }
  return lines;
}

/** The cell that begins at a letter, and where the separator after it is. */
function cellAt(text: string, start: number, between: string): [string, number] {
  const quoted = /^[^\S\t\n]*"/.exec(text.slice(start));
  if (quoted) {
    let cell = "";
    for (let at = start + quoted[0].length; at < text.length; at += 1) {
      if (text[at] !== '"') cell += text[at];
      else if (text[at + 1] === '"') cell += text[(at += 1)];
      else return [cell.trim(), endOf(text, at + 1, between)];
    }
  }
  const end = endOf(text, start, between);
  return [text.slice(start, end).trim(), end];
}

function endOf(text: string, start: number, between: string): number {
  let end = start;
  while (end < text.length && text[end] !== between && text[end] !== "\n") end += 1;
  return end;
}

/** The rows with pasted cells laid over them from one cell on; what is too wide is left out. A line of headings is not
 *  laid. */
export function laidOver(
  rows: readonly CableRow[],
  row: number,
  column: Column,
  cells: readonly string[][],
): CableRow[] {
  const next = rows.map((one) => ({ ...one }));
  const first = COLUMNS.indexOf(column);
  const body = cells[0] && isHeading(cells[0], first) ? cells.slice(1) : cells;
  body.forEach((line, i) => {
    while (next.length <= row + i) next.push(blankRow());
    line.forEach((cell, j) => {
      const name = COLUMNS[first + j];
      if (name) next[row + i]![name] = cell;
    });
  });
  return next;
}

/** Its words are those of the columns they would be laid on. */
function isHeading(line: readonly string[], first: number): boolean {
  const own = COLUMNS.map((column) => [column, "id", columnWord(column)].map((word) => word.toLowerCase()));
  const said = line.map((cell, j) => (cell ? (own[first + j]?.includes(cell.toLowerCase()) ?? false) : null));
  return said.includes(true) && !said.includes(false);
}

export function columnWord(column: Column): string {
  if (column === "name") return say("page_cables.id_or_name");
  if (column === "kind") return say("page_cables.kind");
  if (column === "from") return say("page_cables.from");
  return column === "to" ? say("page_cables.to") : say("page_cables.note");
}

/** What a row means where a cell is empty: made and starting as the row above; the first one from the first closet. */
export function asAbove(job: Job, rows: readonly CableRow[], row: number): Pick<CableRow, "kind" | "from"> {
  const above = (column: "kind" | "from") =>
    rows
      .slice(0, row)
      .reverse()
      .map((one) => one[column].trim())
      .find(Boolean);
  return { kind: above("kind") ?? "unknown", from: above("from") ?? job.house.meeting_points[0]?.id ?? "unknown" };
}

/** One row for each outlet that no cable ends on. */
export function rowsForOutlets(job: Job): CableRow[] {
  const ended = new Set(job.house.runs.flatMap((run) => run.ends));
  const free = job.house.outlets.filter((one) => !ended.has(one.id));
  return free.map((one) => ({ ...blankRow(), to: one.id }));
}

/** The edit that puts all rows on the schedule, or what is wrong, by row. */
export function cablesOf(
  job: Job,
  rows: readonly CableRow[],
  mark: string,
): { changes: Change[]; faults: Map<number, string> } {
  const faults = new Map<number, string>();
  const given = new Set<string>();
  const made = rows.flatMap((row, i) => {
    if (isBlank(row)) return [];
    const above = asAbove(job, rows, i);
    const kind = kindOf(row.kind.trim() || above.kind);
    const ends = [row.from.trim() || above.from, row.to.trim() || "unknown"].map((place) => placeOf(job, place));
    const id = row.name.trim();
    const own = ID.test(id);
    if (kind === null) faults.set(i, say("page_cables.no_such_kind", { kind: row.kind.trim() || above.kind }));
    else if (ends.includes(null)) {
      const at = ends.indexOf(null);
      faults.set(i, say("page_cables.no_such_place", { place: (at ? row.to : row.from).trim() || above.from }));
    } else if (ends[0] === ends[1] && ends[0] !== "unknown") faults.set(i, say("page_cables.both_ends_are_one"));
    else if (own && (given.has(id) || isTaken(job, id))) faults.set(i, say("page_cables.id_is_taken", { id }));
    if (own) given.add(id);
    const note = own || !id ? row.note.trim() : [id, row.note.trim()].filter(Boolean).join(": ");
    return [{ id: own ? id : "", kind, ends, note }];
  });
  if (faults.size) return { changes: [], faults };
  const fresh = freshIds(job, "run", mark, made.filter((one) => !one.id).length);
  const changes = made.map(({ id, ...fields }): Change => ({
    do: "put",
    kind: "run",
    entity: { ...fields, id: id || fresh.shift()! },
  }));
  return { changes, faults };
}

/** A kind by its word in this language or in the document. */
function kindOf(typed: string): CableKind | null {
  const low = typed.toLowerCase();
  return CABLE_KIND.find((kind) => kind === low || term(kind).toLowerCase() === low) ?? null;
}

/** Where a cable ends, by id, by name, or by what is written on the plate; null where none or several are called so. */
function placeOf(job: Job, typed: string): string | null {
  const low = typed.toLowerCase();
  if (low === "unknown" || low === "?" || low === term("unknown").toLowerCase()) return "unknown";
  const { outlets, meeting_points, splitters } = job.house;
  const byId = [...outlets, ...meeting_points, ...splitters].find((one) => one.id.toLowerCase() === low);
  if (byId) return byId.id;
  const called = [
    ...outlets.filter((one) => one.old_label.toLowerCase() === low),
    ...[...meeting_points, ...splitters].filter((one) => one.name.toLowerCase() === low),
  ];
  return called.length === 1 ? called[0]!.id : null;
}

const isTaken = (job: Job, id: string): boolean =>
  (Object.keys(LISTS) as Kind[]).some((kind) => thingOf(job, kind, id));
