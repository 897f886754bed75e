import { expect, it } from "vitest";
import type { Plan } from "./planSchema";
import type { Answer } from "./said";
import { differences } from "./tried";

const choice = (sites: string[], short: string[]) => ({
  access_points: sites.map((id) => ({ site: { id } })),
  shortfalls: short.map((name) => ({ name })),
});
const shown = {
  choice: choice(["N1", "N2"], ["Attic", "Loft", "Loft"]), // by its rate and by its outlets
  takeoff: { quote: { total: 100 } },
} as unknown as Plan;
const answer = (sites: string[], short: string[], total: number) =>
  ({ choice: choice(sites, short), price: { total } }) as unknown as Answer;

it("says what it costs, what else moves, and which rooms fall short", () => {
  expect(differences(shown, answer(["N3", "N2"], ["Hall", "Hall", "Loft"], 120))).toEqual({
    now: 100,
    then: 120,
    gained: ["N3"],
    lost: ["N1"],
    short: ["Hall"],
    served: ["Attic"],
  });
});
it("says nothing of what stays", () => {
  expect(differences(shown, answer(["N2", "N1"], ["Loft", "Attic"], 100))).toEqual({
    now: 100,
    then: 100,
    gained: [],
    lost: [],
    short: [],
    served: [],
  });
});
