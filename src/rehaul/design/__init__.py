"""Choose: access point sites, switch, names and addresses, what to do with every wanted drop."""

from rehaul.design.channels import channel_plan, with_widths
from rehaul.design.choosing import choose
from rehaul.design.drops import CheapTest, Policy, TestWorth, best_policy, best_test, worth_of_test
from rehaul.design.networking import network
from rehaul.design.tries import DropAttempt, from_own_log, walk_away_min
from rehaul.design.wanted import DropDecision, drop_decisions

__all__ = [
    "CheapTest",
    "DropAttempt",
    "DropDecision",
    "Policy",
    "TestWorth",
    "best_policy",
    "best_test",
    "channel_plan",
    "choose",
    "drop_decisions",
    "from_own_log",
    "network",
    "walk_away_min",
    "with_widths",
    "worth_of_test",
]
