import { describe, expect, it } from "vitest";
import { jobWith } from "../../tests/live";
import type { Change } from "../job/types";
import { asAbove, blankRow, cablesOf, cellsOf, columnWord, COLUMNS, isBlank } from "./cableRows";
import { laidOver, rowsForOutlets, type CableRow } from "./cableRows";

const put = (kind: "outlet" | "meeting_point" | "splitter" | "run", entity: object): Change => ({
  do: "put",
  kind,
  entity: entity as never,
});
const job = jobWith(
  put("meeting_point", { id: "MP1", name: "Closet", storey: "1" }),
  put("meeting_point", { id: "MP2", name: "Loft", storey: "1" }),
  put("meeting_point", { id: "MP3", name: "loft", storey: "1" }),
  put("splitter", { id: "SP1", name: "Splitter", storey: "1" }),
  put("outlet", { id: "1-01", storey: "1", old_label: "Desk" }),
  put("outlet", { id: "1-02", storey: "1", old_label: "" }),
  put("run", { id: "C1", ends: ["MP1", "1-01"] }),
);
const row = (some: Partial<CableRow>): CableRow => ({ ...blankRow(), ...some });
const made = (...rows: Partial<CableRow>[]) => cablesOf(job, rows.map(row), "a");
const runs = (...rows: Partial<CableRow>[]) =>
  made(...rows).changes.map((one) => (one as { entity: Record<string, unknown> }).entity);
const fault = (...rows: Partial<CableRow>[]) => [...made(...rows).faults];

describe("what is pasted", () => {
  it("is cut at tabs, else semicolons, else commas, but not within quotes", () => {
    expect(cellsOf("C2\tcat5e\tMP1\r\nC3\t\tMP1\n")).toEqual([["C2", "cat5e", "MP1"], ["C3", "", "MP1"]]); // prettier-ignore
    expect(cellsOf("a;b, c\nd;e")).toEqual([["a", "b, c"], ["d", "e"]]); // prettier-ignore
    expect(cellsOf('a,"b, c" ,d')).toEqual([["a", "b, c", "d"]]);
    expect(cellsOf("a\nb\n\n")).toEqual([["a"], ["b"]]);
    expect(cellsOf("")).toEqual([[""]]);
    expect(cellsOf("a,,\n,b")).toEqual([["a", "", ""], ["", "b"]]); // prettier-ignore
  });
  it("keeps marks of inches, quotes that are doubled, and lines that end within quotes", () => {
    expect(cellsOf('C2\t12" up\nC3\t3" off')).toEqual([["C2", '12" up'], ["C3", '3" off']]); // prettier-ignore
    expect(cellsOf('C2,"12"" up, left"\nC3,"two\nlines"')).toEqual([["C2", '12" up, left'], ["C3", "two\nlines"]]); // prettier-ignore
    expect(cellsOf('"",x')).toEqual([["", "x"]]);
    expect(cellsOf('"never closed,x')).toEqual([['"never closed', "x"]]);
  });
  it("is laid over the rows from its cell on; more rows come as they are needed", () => {
    const before = [row({ name: "C2", note: "kept" })];
    const after = laidOver(before, 0, "kind", [["coax", "MP1"], ["cat6", "MP2", "1-01", "new", "too wide"]]); // prettier-ignore
    expect(after).toEqual([
      row({ name: "C2", kind: "coax", from: "MP1", note: "kept" }),
      row({ kind: "cat6", from: "MP2", to: "1-01", note: "new" }),
    ]);
    expect(before[0]!.kind).toBe("");
    expect(laidOver(before, 2, "to", [["1-01"]]).map((one) => one.to)).toEqual(["", "", "1-01"]);
  });
  it("leaves out a line that only says what the columns are", () => {
    const said = [["Id", "Kind", "From", "To", "Note"], ["C2", "coax", "MP1", "1-01", ""]]; // prettier-ignore
    expect(laidOver([], 0, "name", said)).toEqual([row({ name: "C2", kind: "coax", from: "MP1", to: "1-01" })]);
    expect(laidOver([], 0, "name", [["Id or name", "", "from"], ["C2"]]).length).toBe(1); // prettier-ignore
    expect(laidOver([], 0, "kind", [["id"], ["coax"]])[0]!.kind).toBe("coax"); // prettier-ignore
    expect(laidOver([], 0, "name", [["C9", "Kind"]]).length).toBe(1);
    expect(laidOver([], 0, "name", [["", ""], ["C2"]]).length).toBe(2); // prettier-ignore
    expect(laidOver([], 0, "name", [])).toEqual([]);
    expect(COLUMNS.map(columnWord)).toEqual(["Id or name", "Kind", "From", "To", "Note"]);
  });
});

describe("rows of cables", () => {
  it("become cables as one edit, made and starting as the row above where that is not said", () => {
    const rows = [
      { kind: "cat5e", to: "1-01" },
      { to: "1-02" },
      {},
      { kind: "coax", from: "mp2", to: "" },
      { to: "desk" },
    ];
    expect(runs(...rows)).toEqual([
      { id: expect.stringMatching(/^Ca\d+$/) as string, kind: "cat5e", ends: ["MP1", "1-01"], note: "" },
      { id: expect.any(String) as string, kind: "cat5e", ends: ["MP1", "1-02"], note: "" },
      { id: expect.any(String) as string, kind: "coax", ends: ["MP2", "unknown"], note: "" },
      { id: expect.any(String) as string, kind: "coax", ends: ["MP2", "1-01"], note: "" },
    ]);
    expect(new Set(runs(...rows).map((one) => one.id)).size).toBe(4);
  });
  it("say what an empty cell means", () => {
    const rows = [row({ kind: " coax " }), row({ from: "MP2" }), blankRow()];
    expect(asAbove(job, rows, 0)).toEqual({ kind: "unknown", from: "MP1" });
    expect(asAbove(job, rows, 1)).toEqual({ kind: "coax", from: "MP1" });
    expect(asAbove(job, rows, 2)).toEqual({ kind: "coax", from: "MP2" });
    expect(asAbove(jobWith(), rows, 0).from).toBe("unknown");
    expect([isBlank(blankRow()), isBlank(row({ note: " " })), isBlank(row({ note: "x" }))]).toEqual([
      true,
      true,
      false,
    ]);
  });
  it("keep the id that was given; a name that can be none goes before the note", () => {
    expect(runs({ name: "K7", to: "1-01", note: " by the stair " })[0]).toMatchObject({
      id: "K7",
      note: "by the stair",
    });
    expect(runs({ name: "to the attic", to: "1-01", note: "old" })[0]).toMatchObject({ note: "to the attic: old" });
    expect(runs({ name: "to the attic" })[0]).toMatchObject({ note: "to the attic" });
  });
  it("name places by id, by name and by what stands on the plate, and say where none or two are called so", () => {
    expect(runs({ from: "Closet", to: "SPLITTER" })[0]!.ends).toEqual(["MP1", "SP1"]);
    expect(runs({ from: "?", to: "Unknown" })[0]!.ends).toEqual(["unknown", "unknown"]);
    expect(fault({ from: "cellar" })).toEqual([[0, "No one outlet or meeting point is called “cellar”."]]);
    expect(fault({ to: "1-01" }, { to: "Loft" })).toEqual([[1, "No one outlet or meeting point is called “Loft”."]]);
    expect(fault({ from: "nowhere", to: "" }, { to: "1-01" }).length).toBe(2); // as above
  });
  it("are refused whole where one of them cannot be", () => {
    expect(fault({ kind: "string", to: "1-01" })).toEqual([[0, "“string” is no kind of cable."]]);
    expect(fault({ from: "MP1", to: "closet" })).toEqual([[0, "Both ends are the same."]]);
    expect(fault({ name: "C1", to: "1-01" })).toEqual([[0, "C1 is taken."]]);
    expect(fault({ name: "MP1", to: "1-01" }, { name: "C5" }, { name: "C5" })).toEqual([
      [0, "MP1 is taken."],
      [2, "C5 is taken."],
    ]);
    expect(made({ to: "1-01" }, { to: "nowhere" }).changes).toEqual([]);
    expect(made({}).changes).toEqual([]);
  });
  it("are proposed for the outlets that no cable ends on", () => {
    expect(rowsForOutlets(job)).toEqual([row({ to: "1-02" })]);
  });
});
