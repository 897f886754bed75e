"""What feeds what, worked by hand: a chain of switches, a shared coax, a router that moves, refusals."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rehaul.errors import BadInput
from rehaul.exact import (
    Counted,
    FeedProblem,
    Requirement,
    Resource,
    SwitchClass,
    Way,
    cheapest_fix,
    cost_of_group,
    cost_without_group,
    feed_front,
    lost_without,
    one_more,
    solve_feeds,
)

# Rooms 0 to 3 of one place each. The router in room 0 serves 0 as it stands, 0 and 1 moved. Upstairs (2) and
# the attic (3) may have a pull each, or hang on a switch upstairs; both may use the coax, but not at once.
WAYS = (
    (Way("router stays", "router", 0.0, rate_mbps=350.0), (0,)),
    (Way("router moved", "router", 40.0, rate_mbps=350.0), (0, 1)),
    (Way("hall pull", "hall", 90.0, ports=1, rate_mbps=1000.0), (1,)),
    (Way("up pull", "up", 200.0, ports=1, rate_mbps=1000.0), (2,)),
    (Way("up switch", "up", 60.0, ("up switch",), rate_mbps=1000.0), (2,)),
    (Way("up coax", "up", 80.0, ("coax",), (("coax", 0.6),), rate_mbps=400.0), (2,)),
    (Way("attic pull", "attic", 300.0, ports=1, rate_mbps=1000.0), (3,)),
    (Way("attic switch", "attic", 70.0, ("up switch",), rate_mbps=1000.0), (3,)),
    (Way("attic coax", "attic", 80.0, ("coax",), (("coax", 0.6),), rate_mbps=400.0), (3,)),
)
RESOURCES = (
    Resource("up fed", 150.0, ports=1),
    Resource("up switch", 50.0, needs=("up fed",), excludes="up box"),
    Resource("coax", 60.0, ports=1),
)
CLASSES = (SwitchClass("own ports", 2, 0.0, 0.0), SwitchClass("small", 8, 60.0, 100.0))


def house(**changes: object) -> FeedProblem:
    serves = np.zeros((len(WAYS), 4), dtype=np.bool_)
    for row, (_, rooms) in enumerate(WAYS):
        serves[row, list(rooms)] = True
    problem = FeedProblem(
        ways=tuple(way for way, _ in WAYS),
        serves=serves,
        requirements=tuple(Requirement(f"room {r}", np.array([r]), np.ones(1), 1.0) for r in range(4)),
        resources=RESOURCES,
        switch_classes=CLASSES,
        must=("router",),
    )
    return replace(problem, **changes)  # type: ignore[arg-type]


def test_a_chain_is_paid_once() -> None:
    """Moved router 40; both upper rooms on one switch, 60 + 70 + 50, fed for 150: 370."""
    choice = solve_feeds(house())
    assert choice.ways == ("attic switch", "router moved", "up switch")
    assert choice.resources == ("up fed", "up switch") and choice.switch == "own ports"
    assert (choice.cost, choice.feasible, choice.proven, choice.gap) == (370.0, True, True, 0.0)


def test_the_coax_carries_one_of_them() -> None:
    """Without the switch: coax for the attic, 80 + 60, and a pull upstairs, 200; the router has two ports."""
    choice = solve_feeds(house(resources=(RESOURCES[0], replace(RESOURCES[1], cost=550.0), RESOURCES[2])))
    assert choice.ways == ("attic coax", "router moved", "up pull")
    assert choice.cost == 40 + 80 + 60 + 200


def test_a_spare_port_may_cost_a_switch_or_none() -> None:
    assert solve_feeds(house(spare_ports=1)).switch == "own ports"
    spared = solve_feeds(house(spare_ports=2))
    assert (spared.switch, spared.cost) == ("small", 470.0)
    assert solve_feeds(house(spare_ports=2), enough=2).switch == ""  # nothing is plugged in


def test_front_by_hand() -> None:
    """Nothing done meets room 0. Two: moved, 40. Three: coax upstairs or in the attic, 180. Four: 370."""
    assert [(step.met, step.choice.cost) for step in feed_front(house())] == [
        (1, 0.0),
        (2, 40.0),
        (3, 180.0),
        (4, 370.0),
    ]
    third = feed_front(house())[2].choice
    assert third.ways == (
        "attic coax",
        "router moved",
    )  # as cheap and fast as upstairs


def test_the_faster_of_two_as_cheap() -> None:
    ways = (Way("a", "up", 50.0, rate_mbps=100.0), Way("b", "up", 50.0, rate_mbps=300.0))
    one = Requirement("room", np.array([0]), np.ones(1), 1.0)
    assert solve_feeds(FeedProblem(ways, np.ones((2, 1), dtype=np.bool_), (one,))).ways == ("b",)


def test_wired_outlets_are_counted() -> None:
    outlets = tuple(
        Way(f"outlet {i}", f"outlet {i}", 10.0 + i, ports=1, counts=(("study", 1),)) for i in range(3)
    )
    nowhere = np.zeros((3, 1), dtype=np.bool_)
    problem = FeedProblem(
        outlets, nowhere, counted=(Counted("study", 2),), switch_classes=CLASSES, spare_ports=0
    )
    choice = solve_feeds(problem)
    assert choice.ways == ("outlet 0", "outlet 1") and choice.counted == (2,) and choice.cost == 21.0
    three = solve_feeds(replace(problem, counted=(Counted("study", 3),)))
    assert three.switch == "small" and three.cost == 133.0
    four = solve_feeds(replace(problem, counted=(Counted("study", 4),)))
    assert not four.feasible and four.proven and four.ways == () and four.cost == 0.0


def test_what_each_part_is_for() -> None:
    problem = house()
    choice = solve_feeds(problem)
    assert lost_without(problem, choice, "attic switch") == (3,)
    assert lost_without(problem, choice, "up fed") == (2, 3)
    assert lost_without(problem, choice, "router moved") == (0, 1)


def test_why_not_there_and_why_there() -> None:
    problem = house()
    choice = solve_feeds(problem)
    hall = cost_of_group(problem, choice, "hall")  # 90 in place of moving, 40
    assert hall is not None and hall.extra_cost == 50.0
    assert (hall.added, hall.dropped) == (("hall pull", "router stays"), ("router moved",))
    assert cost_without_group(problem, choice, "attic") is None  # nothing else serves the attic
    assert cost_without_group(problem, choice, "router") is None
    nothing_fits = replace(problem, fixed=("up coax", "attic coax"))
    assert cost_of_group(nothing_fits, choice, "hall") is None


def test_a_price_is_asked_of_a_group_that_may_be_chosen() -> None:
    choice = solve_feeds(house())
    for group, words in (("hall", "both asked for and forbidden"), ("cellar", "no group cellar")):
        with pytest.raises(BadInput, match=words):
            cost_of_group(house(forbidden=("hall",)), choice, group)


def test_what_more_money_buys() -> None:
    problem = house()
    poor = solve_feeds(problem, enough=3)
    assert poor.met == (True, True, False, True)
    fix = cheapest_fix(problem, poor, 2)
    assert fix is not None and fix.extra_cost == 190.0 and fix.choice.met == (True,) * 4
    more = one_more(problem, poor)  # the coax is full: 60 + 50 + 150 on a switch, or a pull for 200
    assert more is not None and (more.way, more.cost, more.newly_met) == ("up pull", 200.0, (2,))
    assert one_more(problem, solve_feeds(problem)) is None


def test_what_cannot_be() -> None:
    alone = solve_feeds(house(forbidden=("attic",)))
    assert not alone.feasible and alone.proven and alone.met == (True, True, True, False)
    nothing_fits = replace(house(), fixed=("up coax", "attic coax"))
    choice = solve_feeds(nothing_fits)
    assert not choice.feasible and choice.proven and choice.ways == ()
    assert feed_front(nothing_fits) == ()


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"serves": np.zeros((2, 4), dtype=np.bool_)}, "one row for each way"),
        ({"resources": RESOURCES[1:]}, "no resource up fed"),
        ({"resources": (*RESOURCES, RESOURCES[0])}, "there twice"),
        ({"must": ("cellar",)}, "no group cellar"),
        ({"fixed": ("cellar",)}, "no way cellar"),
        ({"fixed": ("up pull", "up coax")}, "both fixed"),
        ({"forbidden": ("router",)}, "asked for and forbidden"),
        ({"resources": (replace(RESOURCES[0], cost=-1.0), *RESOURCES[1:])}, "negative"),
        ({"requirements": (Requirement("far", np.array([9]), np.ones(1), 1.0),)}, "not there"),
    ],
)
def test_what_is_refused(changes: dict[str, object], words: str) -> None:
    with pytest.raises(BadInput, match=words):
        house(**changes)


@pytest.mark.parametrize("seed", range(12))
def test_many_places_with_nothing_shared_cost_the_same(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """The search for many places stands in where nothing is shared: another search, the same price."""
    random = np.random.default_rng(seed)
    ways = tuple(Way(f"{i:02d}", f"site {i // 2}", float(random.integers(5, 40))) for i in range(16))
    rooms = tuple(Requirement(f"room {r}", np.arange(8 * r, 8 * r + 8), np.ones(8), 0.75) for r in range(4))
    problem = FeedProblem(ways, random.random((16, 32)) < 0.45, rooms)
    usual = solve_feeds(problem)
    monkeypatch.setattr("rehaul.exact.feeding.solve.MANY", 0)
    other = solve_feeds(problem)
    assert (usual.cost, usual.proven, sum(usual.met)) == (other.cost, other.proven, sum(other.met))
    steps = [(step.met, step.choice.cost) for step in feed_front(problem)]
    monkeypatch.undo()
    assert steps == [(step.met, step.choice.cost) for step in feed_front(problem)]
