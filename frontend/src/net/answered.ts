/** A plan with what is known of the next one: the rest of it stands as it was until that is there. */

import type { Plan } from "./planSchema";
import type { Answer } from "./said";

export function answered(plan: Plan, answer: Answer): Plan {
  const { price, choice, ...rest } = answer;
  const { front, why_not, what_one_more_buys, words, problem } = plan.choice;
  return {
    ...plan,
    ...rest,
    choice: { ...choice, front, why_not, what_one_more_buys, words, problem },
    takeoff: { ...plan.takeoff, quote: { ...price, options: plan.takeoff.quote.options } },
  };
}
