"""Random small problems of what feeds what, in which every rule bites."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from rehaul.exact import Counted, FeedProblem, Requirement, Resource, SwitchClass, Way


def hung(ways: list[Way], seed: int) -> list[Way]:
    """The same, some ways only beside one of some ways of one group, as a box needs an uplink."""
    random = np.random.default_rng([seed, 1])
    group = str(random.choice(sorted({way.group for way in ways})))
    carriers = [way.id for way in ways if way.group == group]
    kinds = [
        tuple(
            sorted(
                random.choice(carriers, int(random.integers(1, len(carriers) + 1)), replace=False).tolist()
            )
        )
        for _ in range(2)
    ]
    return [
        replace(way, beside=kinds[int(random.integers(2))])
        if way.group != group and random.random() < 0.6
        else way
        for way in ways
    ]


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
    if seed % 2:
        ways = hung(ways, seed)
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


def house_problem(seed: int) -> FeedProblem:
    """A house: 10 to 18 places, 2 kinds of box, 3 feeds each; uplinks, a shared coax, wired outlets."""
    random = np.random.default_rng([seed, 5])
    places, sites, rooms = 60, int(random.integers(10, 19)), int(random.integers(5, 10))
    spots, boxes = random.uniform(0, 10, (places, 2)), random.uniform(0, 10, (sites, 2))
    room_of = random.integers(0, rooms, places)
    pulls = [Resource(f"pull {i}", float(random.integers(60, 300)), ports=1) for i in range(sites)]
    runs = [
        Resource(f"run {i}", float(random.integers(5, 60)), needs=("panel",), ports=1) for i in range(sites)
    ]
    uplinks = [Resource(f"uplink {i}", float(random.integers(0, 90)), excludes="uplink") for i in range(3)]
    shared = [Resource("panel", 80.0), Resource("coax head", 70.0, ports=1)]
    ways, rows = [], []
    for site in range(sites):
        for kind, reach in ((0, 2.4), (1, 3.4)):
            near = np.hypot(*(spots - boxes[site]).T) < reach
            price = 90.0 + 60 * kind
            fast = tuple(f"up {i}" for i in range(3))
            coax = (("coax", float(random.uniform(0.2, 0.6))),)
            for feed, more in (
                ("pull", {"needs": (f"pull {site}",), "watts": 15.0, "beside": fast}),
                ("run", {"needs": (f"run {site}",), "watts": 15.0, "beside": fast[1:]}),
                ("coax", {"needs": ("coax head",), "loads": coax, "beside": fast}),
            ):
                ways.append(Way(f"{site:02d} {kind} {feed}", f"site {site}", price, rate_mbps=900.0, **more))
                rows.append(near if feed != "coax" else near & (random.random(places) < 0.8))
    for number in range(3):
        ways.append(Way(f"up {number}", "uplink", 0.0, needs=(f"uplink {number}",)))
        rows.append(np.zeros(places, dtype=np.bool_))
    for outlet in range(6):
        counts = ((f"wired {outlet % 2}", 1),)
        ways.append(Way(f"wired {outlet}", f"wired {outlet}", 20.0, needs=(f"run {outlet}",), counts=counts))
        rows.append(np.zeros(places, dtype=np.bool_))
    requirements = [
        Requirement(f"room {room}", at, random.integers(1, 4, len(at)).astype(float), 0.85)
        for room in range(rooms)
        if len(at := np.flatnonzero(room_of == room))
    ]
    return FeedProblem(
        ways=tuple(ways),
        serves=np.array(rows),
        requirements=tuple(requirements),
        counted=(Counted("wired 0", 1), Counted("wired 1", 2)),
        resources=(*pulls, *runs, *uplinks, *shared),
        switch_classes=(
            SwitchClass("own ports", 3, 30.0, 0.0),
            SwitchClass("small", 8, 60.0, 95.0),
            SwitchClass("large", 16, 150.0, 210.0),
        ),
        spare_ports=1,
    )
