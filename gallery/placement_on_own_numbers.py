"""Which boxes, and what feeds them, on numbers of one's own: the exact choice without a house."""

import numpy as np

from rehaul.exact import FeedProblem, Requirement, Resource, SwitchClass, Way, feed_front, solve_feeds

ways = (
    Way("hall by old pair", "hall", cost=180.0, ports=1, watts=13.0),
    Way("hall by new pull", "hall", cost=180.0, needs=("pull to the hall",), ports=1, watts=25.0),
    Way("attic by new pull", "attic", cost=180.0, needs=("pull to the hall", "hall to attic"), ports=1),
    Way("study over coax", "study", cost=210.0, needs=("coax pair",)),
)
resources = (
    Resource("pull to the hall", 340.0),
    Resource("hall to attic", 120.0),
    Resource("coax pair", 150.0),
)
serves = np.array(  # way by place: rooms 0 to 5
    [[1, 1, 1, 0, 0, 0], [1, 1, 1, 1, 0, 0], [0, 0, 1, 1, 1, 0], [0, 0, 0, 0, 1, 1]], dtype=bool
)
rooms = tuple(Requirement(f"room {i}", np.array([i]), np.ones(1), 1.0) for i in range(6))
switch = SwitchClass("eight ports, 60 W", ports=8, watts=60.0, cost=95.0)
problem = FeedProblem(ways, serves, rooms, resources=resources, switch_classes=(switch,))
best = solve_feeds(problem)
print(f"all six rooms: {best.cost:.0f}; proven: {best.proven}")
print(*best.ways, *best.resources, best.switch, sep=", ")
for step in feed_front(problem):
    print(f"{step.met} rooms: {step.choice.cost:.0f}, {', '.join(step.choice.ways) or 'nothing'}")
