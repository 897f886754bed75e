/** What an answer would change of what is shown. */

import type { Plan, RoomRate } from "./planSchema";
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
  const [falls, fallsThen] = [short(shown.after), short(then.after)];
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

const short = (rows: readonly RoomRate[]) => rows.filter((row) => row.asked && !row.met).map((row) => row.name);
