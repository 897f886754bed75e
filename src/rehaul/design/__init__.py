"""Choose: access point sites, switch, names and addresses, what to do with every wanted drop."""

from rehaul.design.channels import channel_plan, with_widths
from rehaul.design.choosing import choose
from rehaul.design.coverage import CoverProblem, Requirement
from rehaul.design.drops import CheapTest, Policy, TestWorth, best_policy, best_test, worth_of_test
from rehaul.design.exact import solve_exact
from rehaul.design.general import solve_general
from rehaul.design.networking import network
from rehaul.design.placement import front, solve
from rehaul.design.reasons import cheapest_fix, cost_of_banning, cost_of_pinning, lost_without, one_more
from rehaul.design.robust import SampledRoom, over_samples
from rehaul.design.tries import DropAttempt, from_own_log, walk_away_min
from rehaul.design.wanted import DropDecision, drop_decisions

__all__ = [
    "CheapTest",
    "CoverProblem",
    "DropAttempt",
    "DropDecision",
    "Policy",
    "Requirement",
    "SampledRoom",
    "TestWorth",
    "best_policy",
    "best_test",
    "channel_plan",
    "cheapest_fix",
    "choose",
    "cost_of_banning",
    "cost_of_pinning",
    "drop_decisions",
    "from_own_log",
    "front",
    "lost_without",
    "network",
    "one_more",
    "over_samples",
    "solve",
    "solve_exact",
    "solve_general",
    "walk_away_min",
    "with_widths",
    "worth_of_test",
]
