import { describe, expect, it } from "vitest";
import { jobWith } from "../../tests/live";
import { applied } from "../job/apply";
import type { Change, Job, Kind } from "../job/types";
import { droppedStorey } from "./dropStorey";

const put = (kind: Kind, entity: { id: string } & Record<string, unknown>): Change => ({ do: "put", kind, entity });
const both: Change[] = ["1", "2"].flatMap((storey) => [
  put("room", { id: `R${storey}`, storey, name: "Room", polygon: [] }),
  put("wall", { id: `W${storey}`, storey, start: [0, 0], end: [4, 0] }),
  put("opening", { id: `X${storey}`, wall: `W${storey}`, kind: "door", offset_m: 1, width_m: 1 }),
  put("need", { id: `N${storey}`, room: `R${storey}` }),
  put("body", { id: `H${storey}`, storey, kind: "fridge" }),
  put("outlet", { id: `${storey}-01`, storey, room: `R${storey}`, position: [1, 1] }),
  put("meeting_point", { id: `MP${storey}`, storey, name: "Closet", position: [1, 1] }),
  put("splitter", { id: `SP${storey}`, storey, name: "Splitter" }),
  put("box", { id: `BX${storey}`, storey, name: "Box" }),
  put("reading", { id: `Q${storey}`, storey, value: 1 }),
  put("hazard", { id: `HZ${storey}`, storey: null, room: `R${storey}`, kind: "asbestos" }),
  put("run", { id: `C${storey}`, ends: [`MP${storey}`, `${storey}-01`], route: [] }),
  put("placed_plug", { id: `PP${storey}`, outlet: `${storey}-01` }),
  put("trace_reading", { id: `TR${storey}`, outlet: `${storey}-01`, end: null, other: null }),
  put("trace_reading", { id: `TW${storey}`, outlet: null, end: null, other: `TR${storey}` }),
  put("trace_reading", { id: `TE${storey}`, outlet: null, end: `C${storey}`, other: null }),
  put("acceptance", { id: `AC${storey}`, about: `C${storey}` }),
  put("line_check", { id: `LC${storey}`, at: `MP${storey}`, run: null, outlet: null, other: null }),
]);
const house = (...more: Change[]): Job => ({
  ...jobWith(put("storey", { id: "2", name: "Up", elevation_m: 3 }), ...both, ...more),
  service: { modem: "BX1", run: null, enters: "2-01" } as never,
});
const idsOf = (job: Job): string[] =>
  [...Object.values(job), ...Object.values(job.house)]
    .filter(Array.isArray)
    .flat()
    .map((one: { id: string }) => one.id)
    .sort();

describe("a storey that goes", () => {
  it("takes along what stands on it and what is said of that, and nothing else", () => {
    const job = house();
    const { changes, things } = droppedStorey(job, "2");
    const left = idsOf(applied(job, changes));
    expect(left.filter((id) => id.includes("2"))).toEqual([]);
    expect(left).toEqual(idsOf(job).filter((id) => !id.includes("2")));
    expect(things).toBe(18);
  });
  it("leaves what the server takes along by itself to it, and no thing twice", () => {
    const { changes } = droppedStorey(house(), "2");
    const dropped = changes.flatMap((one) => (one.do === "drop" ? [one] : []));
    expect(dropped.filter((one) => one.kind === "opening" || one.kind === "need")).toEqual([]);
    expect(new Set(dropped.map((one) => one.id)).size).toBe(dropped.length);
    expect(dropped.at(-1)).toEqual({ do: "drop", kind: "storey", id: "2" });
  });
  it("leaves the cables that come from elsewhere, with an end that is not known", () => {
    const job = house(put("run", { id: "CX", ends: ["MP1", "2-01"], route: [[0, 0, 0], [0, 0, 3]] })); // prettier-ignore
    const after = applied(job, droppedStorey(job, "2").changes);
    expect(after.house.runs.find((one) => one.id === "CX")).toMatchObject({ ends: ["MP1", "unknown"], route: [] });
    expect(after.house.runs.find((one) => one.id === "C1")!.ends).toEqual(["MP1", "1-01"]);
  });
  it.each([
    ["obligation", { id: "G", run: "C2" }],
    ["bell", { id: "BL", run: "C2" }],
    ["decision", { id: "DC", run: "C2" }],
    ["line_check", { id: "LZ", run: "C2", at: "MP1", outlet: null, other: null }],
  ] as [Kind, { id: string; run: string }][])("keeps a cable on which a %s hangs", (kind, entity) => {
    const job = house(put(kind, entity));
    const after = applied(job, droppedStorey(job, "2").changes);
    expect(after.house.runs.find((one) => one.id === "C2")!.ends).toEqual(["unknown", "unknown"]);
    expect(idsOf(after)).toContain(entity.id);
  });
  it("takes a cable along of which one end was never known", () => {
    const job = house(put("run", { id: "CU", ends: ["2-01", "unknown"], route: [] }));
    expect(idsOf(applied(job, droppedStorey(job, "2").changes))).not.toContain("CU");
  });
  it("takes the service's word for what went, and leaves the rest of it", () => {
    const job = house();
    const after = applied(job, droppedStorey(job, "2").changes);
    expect(after.service).toEqual({ modem: "BX1", run: null, enters: null });
    const below = applied(job, droppedStorey(job, "1").changes);
    expect(below.service).toEqual({ modem: null, run: null, enters: "2-01" });
  });
});
