"""What feeds what: the exact choice over ways to feed and the resources they share."""

from rehaul.design.feeding.problem import (
    Counted,
    FeedChoice,
    FeedProblem,
    FeedStep,
    Resource,
    SwitchClass,
    Way,
)
from rehaul.design.feeding.reasons import (
    FeedAddition,
    FeedChange,
    cheapest_fix,
    cost_of_group,
    cost_without_group,
    lost_without,
    one_more,
)
from rehaul.design.feeding.solve import feed_front, least_cost, solve_feeds

__all__ = [
    "Counted",
    "FeedAddition",
    "FeedChange",
    "FeedChoice",
    "FeedProblem",
    "FeedStep",
    "Resource",
    "SwitchClass",
    "Way",
    "cheapest_fix",
    "cost_of_group",
    "cost_without_group",
    "feed_front",
    "least_cost",
    "lost_without",
    "one_more",
    "solve_feeds",
]
