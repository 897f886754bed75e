/** What an answer would change of what is shown. */

import type { Plan } from "./planSchema";
import type { Answer } from "./said";

export type Differences = {
  now: number; // price
  then: number;
  gained: string[]; // sites
  lost: string[];
  short: string[]; // names of rooms that fall short then, and not now
  served: string[]; // the other way round
};

export function differences(shown: Plan, then: Answer): Differences {
  const sites = (choice: Plan["choice"]) => choice.access_points.map((one) => one.site.id);
  const [here, there] = [sites(shown.choice), sites(then.choice)];
  const short = (choice: Plan["choice"]) => [...new Set(choice.shortfalls.map((one) => one.name))];
  const [falls, fallsThen] = [short(shown.choice), short(then.choice)];
  const without = (names: string[], others: string[]) => names.filter((name) => !others.includes(name));
  return {
    now: shown.takeoff.quote.total,
    then: then.price.total,
    gained: without(there, here),
    lost: without(here, there),
    short: without(fallsThen, falls),
    served: without(falls, fallsThen),
  };
}
