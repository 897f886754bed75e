import { expect, it } from "vitest";
import type { Plan } from "./planSchema";
import type { Answer } from "./said";
import { differences } from "./tried";

const points = (...ids: string[]) => ({ access_points: ids.map((id) => ({ site: { id } })) });
const room = (name: string, met: boolean, asked = 0.9) => ({ name, met, asked });
const shown = {
  choice: points("N1", "N2"),
  after: [room("Hall", true), room("Attic", false), room("Loft", false), room("Shed", false, 0)],
  takeoff: { quote: { total: 100 } },
} as unknown as Plan;
const answer = (sites: string[], after: object[], total: number) =>
  ({ choice: points(...sites), after, price: { total } }) as unknown as Answer;

it("says what it costs, what else moves, and which rooms fall short", () => {
  const rooms = [room("Hall", false), room("Attic", true), room("Loft", false), room("Shed", true, 0)];
  expect(differences(shown, answer(["N3", "N2"], rooms, 120))).toEqual({
    now: 100,
    then: 120,
    gained: ["N3"],
    lost: ["N1"],
    short: ["Hall"],
    served: ["Attic"],
  });
});
it("says nothing of what stays, and of rooms of which nobody asks anything", () => {
  const rooms = [room("Hall", true), room("Attic", false), room("Loft", false), room("Shed", true, 0)];
  expect(differences(shown, answer(["N2", "N1"], rooms, 100))).toEqual({
    now: 100,
    then: 100,
    gained: [],
    lost: [],
    short: [],
    served: [],
  });
});
