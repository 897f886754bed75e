"""The cheapest choice, proven: numbers in, numbers out; it knows no house, no box and no cable."""

from rehaul.exact.coverage import CoverProblem, Requirement, Selection
from rehaul.exact.covering.solve import SharedWarm, solve_exact
from rehaul.exact.feeding.core import Core, core_of
from rehaul.exact.feeding.figures import Figures
from rehaul.exact.feeding.problem import (
    Counted,
    FeedChoice,
    FeedProblem,
    FeedStep,
    Resource,
    SwitchClass,
    Way,
)
from rehaul.exact.feeding.reasons import (
    FeedAddition,
    FeedChange,
    Unsettled,
    cheapest_fix,
    cost_of_group,
    cost_without_group,
    lost_without,
    one_more,
)
from rehaul.exact.feeding.solve import Solver, feed_front, least_cost, solve_feeds

__all__ = [
    "Core",
    "Counted",
    "CoverProblem",
    "FeedAddition",
    "FeedChange",
    "FeedChoice",
    "FeedProblem",
    "FeedStep",
    "Figures",
    "Requirement",
    "Resource",
    "Selection",
    "SharedWarm",
    "Solver",
    "SwitchClass",
    "Unsettled",
    "Way",
    "cheapest_fix",
    "core_of",
    "cost_of_group",
    "cost_without_group",
    "feed_front",
    "least_cost",
    "lost_without",
    "one_more",
    "solve_exact",
    "solve_feeds",
]
