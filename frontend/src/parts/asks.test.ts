import { expect, test } from "vitest";
import type { Job } from "../job/types";
import { asOne, changesFor, shown, type About, type Answer } from "./asks";

const about = (id: string, kind = "run", storey = ""): About => ({ id, kind, name: id, storey, says: "" });
const answer = (kind: string, field: string, values: string[] = []): Answer => ({
  kind,
  field,
  values,
  words: values,
  unit: "",
});
const job = {
  house: {
    runs: [
      { id: "C1", ends: ["unknown", "1-01"] },
      { id: "C2", ends: ["unknown", "unknown"] },
    ],
    outlets: [{ id: "1-01", storey: "1" }],
    meeting_points: [],
    splitters: [],
    storeys: [{ id: "2", floor: { construction: "unknown", thickness_m: 0.25 } }],
  },
  obligations: [{ id: "O1", run: "C1" }],
} as unknown as Job;

test("one answer is set on every thing asked about that still stands", () => {
  const changes = changesFor(job, answer("run", "state", ["dead"]), [about("C1"), about("C2"), about("gone")], "dead");
  expect(changes).toEqual(["C1", "C2"].map((id) => ({ do: "set", kind: "run", id, fields: { state: "dead" } })));
});

test("a field within a field leaves the rest of it as it was", () => {
  expect(changesFor(job, answer("storey", "floor.construction", ["timber"]), [about("2", "storey")], "timber")).toEqual(
    [{ do: "set", kind: "storey", id: "2", fields: { floor: { construction: "timber", thickness_m: 0.25 } } }],
  );
});

test("yes and no are true and false, and what is typed without a list is a number", () => {
  const asked = [about("lead_paint", "gate"), about("asbestos", "gate")];
  expect(changesFor(job, answer("gate", "", ["yes", "no"]), asked, "no")).toEqual([
    { do: "set", kind: "gate", fields: { lead_paint: false, asbestos: false } },
  ]);
  expect(changesFor(job, answer("house", "built_year"), [], "1950")).toEqual([
    { do: "set", kind: "house", fields: { built_year: 1950 } },
  ]);
  expect([asOne(answer("house", "built_year")), asOne(answer("gate", "")), asOne(answer("run", "state"))]).toEqual([
    true,
    false,
    false,
  ]);
});

test("a cable is shown on the storey of an end that is known, and what somebody depends on by its cable", () => {
  expect(shown(job, about("C1"))).toEqual({ thing: { kind: "run", id: "C1" }, storey: "1" });
  expect(shown(job, about("O1", "obligation"))).toEqual({ thing: { kind: "run", id: "C1" }, storey: "1" });
  expect(shown(job, about("C2"))).toBeNull();
  expect(shown(job, about("S1", "splitter", "1"))).toBeNull();
});
