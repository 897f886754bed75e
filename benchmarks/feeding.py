"""The choice over feeds: time of one choice and of the front, on invented houses of several sizes.

    python benchmarks/feeding.py            # 20 to 100 options x 4 feeds; 60 sites x 3 kinds x 10,000 places
    python benchmarks/feeding.py --quick    # the small ones, one house each
    python benchmarks/feeding.py --limit 60 # seconds for the large one with feeds

Sites, walls and levels are those of `benchmarks/placement.py`. Feeds, what they share and what it costs are
drawn at random: a cable that is there, a new pull, coax through adapters that share it, a wireless hop that
shares the air; a switch at a far box hangs on what feeds that box. Wired outlets are counted by room.
Times are CPU seconds of this process.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from typing import Any

import numpy as np
from placement import house

from rehaul.exact import (
    Counted,
    CoverProblem,
    FeedChoice,
    FeedProblem,
    Resource,
    SwitchClass,
    Way,
    feed_front,
    solve_feeds,
)

CLASSES = (
    SwitchClass("router's own ports", 3, 0.0, 0.0),
    SwitchClass("8 ports", 8, 60.0, 95.0),
    SwitchClass("16 ports", 16, 150.0, 210.0),
    SwitchClass("24 ports", 24, 250.0, 330.0),
)
CLOSETS = 4
KIND_WATTS = (9.0, 13.0, 20.0)


def resources() -> tuple[Resource, ...]:
    """Fourteen things that are paid once: adapters, far switches and what they hang on."""
    far = [Resource(f"closet {i} fed", 45.0 + 10 * i, ports=1) for i in range(CLOSETS)]
    switches = [
        Resource(f"closet {i} switch", 60.0, needs=(f"closet {i} fed",), excludes=f"closet {i}", watts=5.0)
        for i in range(CLOSETS)
    ]
    joined = [
        Resource(f"closet {i} joined", 4.0, needs=(f"closet {i} fed",), excludes=f"closet {i}")
        for i in range(CLOSETS)
    ]
    return (*far, *switches, *joined, Resource("coax head", 70.0, ports=1), Resource("radio for hops", 35.0))


def with_feeds(plain: CoverProblem, seed: int, rooms_wired: int = 4) -> FeedProblem:
    """The placement problem with four feeds for every option, a router, and wired outlets in some rooms."""
    random = np.random.default_rng([seed, 77])
    ways, rows = [], []
    asked = len(plain.requirements)
    rate_of_room = random.choice([50.0, 100.0, 250.0, 500.0], asked)
    for option, (site, kind) in enumerate(zip(plain.site.tolist(), plain.kind.tolist(), strict=True)):
        spot = np.random.default_rng([seed, site])
        closet, pull, there = int(spot.integers(CLOSETS)), float(spot.integers(120, 420)), spot.random() < 0.6
        price = float(plain.cost[option]) * 0.6
        watts = KIND_WATTS[kind % 3]
        on, by = (f"closet {closet} switch",), (f"closet {closet} joined",)
        coax, air = (("coax", float(spot.uniform(0.1, 0.45))),), (("air", float(spot.uniform(0.2, 0.7))),)
        old = float(spot.choice([100, 1000]))
        feeds: list[dict[str, Any]] = [
            {"cost": price + pull, "ports": 1, "watts": watts, "rate_mbps": 1000.0},
            {"cost": price + 15.0, "needs": on, "rate_mbps": old}
            if there
            else {"cost": price + pull * 0.7, "needs": by, "rate_mbps": 1000.0},
            {"cost": price + 55.0, "needs": ("coax head",), "loads": coax, "rate_mbps": 400.0},
            {"cost": price + 5.0, "needs": ("radio for hops",), "loads": air, "rate_mbps": 150.0},
        ]
        for number, feed in enumerate(feeds):
            ways.append(Way(f"{site:03d}/{kind}/{number}", f"site {site:03d}", **feed))
            serves = plain.serves[option].copy()
            for room, requirement in enumerate(plain.requirements):
                if feed["rate_mbps"] < rate_of_room[room]:
                    serves[requirement.places] = False
            rows.append(serves)
    nobody = np.zeros(plain.serves.shape[1], dtype=np.bool_)
    stays = plain.serves[int(random.integers(len(plain.site)))]
    moved = plain.serves[0]
    for name, cost, serves in (("stays", 0.0, stays), ("radio off", 0.0, nobody), ("moved", 60.0, moved)):
        ways.append(Way(f"router {name}", "router", cost, rate_mbps=350.0))
        rows.append(serves)
    for room in range(rooms_wired):
        for outlet in range(3):
            closet, cost = int(random.integers(CLOSETS)), float(random.integers(10, 120))
            group, adds = f"outlet {room}-{outlet}", ((f"wired {room}", 1),)
            on, by = (f"closet {closet} switch",), (f"closet {closet} joined",)
            ways.append(Way(f"{group}/0", group, cost + 40, ports=1, counts=adds, rate_mbps=1000.0))
            ways.append(Way(f"{group}/1", group, cost, on, counts=adds, rate_mbps=1000.0))
            ways.append(Way(f"{group}/2", group, cost, by, counts=adds, rate_mbps=1000.0))
            rows += [nobody] * 3
    return FeedProblem(
        ways=tuple(ways),
        serves=np.array(rows),
        requirements=plain.requirements,
        counted=tuple(Counted(f"wired {room}", 1 + room % 2) for room in range(rooms_wired)),
        resources=resources(),
        switch_classes=CLASSES,
        spare_ports=1,
        must=("router",),
    )


def without_feeds(plain: CoverProblem) -> FeedProblem:
    """The placement problem as it is, in the words of feeds."""
    names = zip(plain.site.tolist(), plain.kind.tolist(), plain.cost.tolist(), strict=True)
    ways = tuple(Way(f"{site:03d}/{kind}", f"site {site:03d}", cost) for site, kind, cost in names)
    return FeedProblem(ways, plain.serves, plain.requirements)


def cpu_ms(work: Callable[[], Any]) -> tuple[float, Any]:
    started = time.process_time()
    answer = work()
    return (time.process_time() - started) * 1e3, answer


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--quick", action="store_true", help="one small house of each size")
    arguments.add_argument("--limit", type=float, default=20.0, help="processor seconds for each choice")
    options = arguments.parse_args()
    solve_feeds(with_feeds(house(9, 6, 100)[1], 9))  # compile
    print("options  ways  places  asked | choice ms   cost  proven  gap %  nodes | front ms  points  proven")
    for sites, places in ((7, 150), (10, 300), (17, 300), (33, 600)):
        for seed in (1,) if options.quick else (1, 2, 3):
            problem = with_feeds(house(seed, sites, places, blocky=True)[1], seed)
            took, choice = cpu_ms(lambda p=problem: solve_feeds(p, options.limit))
            tell(problem, sites * 3, took, choice)
            took, steps = cpu_ms(lambda p=problem: feed_front(p, options.limit))
            sure = all(step.choice.proven for step in steps)
            print(f"{took:9.0f} {len(steps):7d}  {sure}", flush=True)
    if options.quick:
        return
    for seed in (1, 2, 3):
        plain = house(seed)[1]
        for problem in (without_feeds(plain), with_feeds(plain, seed)):
            took, choice = cpu_ms(lambda p=problem: solve_feeds(p, options.limit))
            tell(problem, 180, took, choice)
            print(flush=True)


def tell(problem: FeedProblem, options: int, took_ms: float, choice: FeedChoice) -> None:
    print(
        f"{options:7d} {len(problem.ways):5d} {problem.serves.shape[1]:7d} {len(problem.asked):6d} |"
        f" {took_ms:9.0f} {choice.cost:6.0f}  {choice.proven!s:6s} {100 * choice.gap:5.1f} {choice.nodes:6d}",
        end=" |",
    )


if __name__ == "__main__":
    main()
