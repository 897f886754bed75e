"""Random small problems of what feeds what, in which every rule bites."""

from __future__ import annotations

import numpy as np

from rehaul.design.coverage import Requirement
from rehaul.design.feeding import Counted, FeedProblem, Resource, SwitchClass, Way


def random_problem(seed: int) -> FeedProblem:
    """Up to 5 groups of 4 ways, 6 resources in chains, sets, media, counts, classes, must, forbidden.

    Costs are few and round, so that ties abound.
    """
    random = np.random.default_rng(seed)
    groups, places = int(random.integers(2, 6)), int(random.integers(3, 16))
    names = [f"r{i}" for i in range(random.integers(0, 7))]
    resources = tuple(
        Resource(
            name,
            float(random.choice([0.0, 10.0, 20.0, 33.37])),
            needs=tuple(other for other in names[:place] if random.random() < 0.25),
            excludes=str(random.choice(["", "", "set a", "set b"])),
            ports=int(random.random() < 0.3),
            watts=float(random.choice([0.0, 0.0, 4.5])),
            loads=(("air", 0.3),) if random.random() < 0.2 else (),
        )
        for place, name in enumerate(names)
    )
    counted = tuple(
        Counted(f"wired {i}", int(random.integers(1, 3))) for i in range(int(random.random() < 0.6) * 2)
    )
    reach = random.uniform(0.2, 0.7)
    ways: list[Way] = []
    rows = []
    for group in range(groups):
        for number in range(int(random.integers(1, 5))):
            wired = bool(counted) and random.random() < 0.4
            ways.append(
                Way(
                    id=f"{random.integers(100, 1000)}-{group}{number}",
                    group=f"g{group}",
                    cost=float(random.choice([0.0, 10.0, 10.0, 20.0, 30.0, 41.25])),
                    needs=tuple(name for name in names if random.random() < 0.25),
                    loads=(("air", float(random.choice([1 / 3, 0.5]))),) if random.random() < 0.3 else (),
                    ports=int(random.integers(0, 2)),
                    watts=float(random.choice([0.0, 7.3])),
                    counts=((f"wired {random.integers(2)}", int(random.integers(1, 3))),) if wired else (),
                    rate_mbps=float(random.choice([0.0, 100.0, 100.0, 433.3])),
                )
            )
            rows.append(random.random(places) < (0.0 if wired else reach))
    requirements = []
    for room in range(int(random.integers(0, 4))):
        members = np.flatnonzero(random.random(places) < 0.6)
        if not len(members):
            members = np.arange(1)
        weights = random.integers(1, 4, len(members)).astype(float)
        if random.random() < 0.3:
            weights = random.uniform(0.2, 3.0, len(members))
        requirements.append(Requirement(f"room {room}", members, weights, float(random.uniform(0.3, 1.0))))
    classes = (
        SwitchClass("own ports", int(random.integers(0, 3)), 0.0, 0.0),
        SwitchClass("small", 4, 15.0, float(random.choice([20.0, 30.0]))),
        SwitchClass("large", 8, 60.0, 55.0),
    )
    order = [f"g{i}" for i in random.permutation(groups)]
    fixed = [way.id for way in ways if way.group == order[-1]][:1] if groups > 2 else []
    return FeedProblem(
        ways=tuple(ways),
        serves=np.array(rows),
        requirements=tuple(requirements),
        counted=counted,
        resources=resources,
        switch_classes=classes[: int(random.integers(1, 4))],
        spare_ports=int(random.integers(0, 2)),
        must=tuple(order[:1]) if random.random() < 0.4 else (),
        forbidden=tuple(order[1:2]) if random.random() < 0.2 else (),
        fixed=tuple(fixed) if random.random() < 0.2 else (),
    )
