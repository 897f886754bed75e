"""What a set of ways comes to, in whole numbers: money, ports, watts, shares, sets, what hangs on what."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from rehaul.exact import Counted, FeedProblem, Requirement, Resource, SwitchClass, Way
from rehaul.exact.feeding.figures import Figures

CLASSES = (  # in no order: the cheapest that is enough counts, of equal ones the smallest
    SwitchClass("big", 9, 60.0, 90.0),
    SwitchClass("wide", 4, 10.0, 20.0),
    SwitchClass("small", 3, 10.0, 20.0),
    SwitchClass("tiny", 1, 60.0, 30.0),
)
BOXES = (Resource("r1", 5.0, excludes="shelf"), Resource("r2", 7.5, excludes="shelf"))
APART = (
    Resource("r3", 1.0, excludes="wall"),
    Resource("r4", 2.0, needs=("r1", "r2")),
    Resource("r5", 3.0),
    Resource("r6", 4.0),
    Resource("r7", 1.0, excludes="wall"),
)


def figures(*ways: Way, resources: tuple[Resource, ...] = (), **more: Any) -> Figures:
    nowhere = np.zeros((len(ways), 1), dtype=np.bool_)
    given: dict[str, Any] = {"switch_classes": CLASSES, "resources": resources} | more
    return Figures(FeedProblem(ways, given.pop("serves", nowhere), **given))


def tally(found: Figures, *names: str) -> Any:
    ids = [way.id for way in found.ways]
    return found.tally([ids.index(name) for name in names])


def way(name: str, **fields: Any) -> Way:
    return Way(name, fields.pop("group", f"group of {name}"), fields.pop("cost", 0.0), **fields)


def test_money_in_hundredths_and_rates_in_tenths_with_each_resource_paid_once() -> None:
    found = figures(
        way("b", cost=10.25, needs=("r1",), rate_mbps=99.9),
        way("a", cost=0.1, needs=("r1", "r3"), rate_mbps=0.3),
        resources=(*BOXES, *APART),
    )
    both = tally(found, "b", "a")
    assert both.cost == 1025 + 10 + 600 and both.rate == 999 + 3
    assert [found.ways[at].id for at in both.ways] == ["a", "b"]
    assert [found.resources[at].id for at in both.resources] == ["r1", "r3"]
    assert (both.fits, both.switch) == (True, -1)
    assert both.key == (1635, -1002, (0, 1))
    none = tally(found)
    assert (none.cost, none.rate, none.fits, none.switch, none.resources) == (0, 0, True, -1, ())


@pytest.mark.parametrize(
    ("ports", "watts", "spare", "switch"),
    [
        (0, 0.0, 0, None),
        (3, 0.0, 0, "small"),
        (3, 0.0, 1, "wide"),
        (4, 0.0, 1, "big"),
        (8, 0.0, 1, "big"),
        (9, 0.0, 1, ""),
        (0, 0.001, 0, "small"),
        (1, 10.0, 0, "small"),
        (1, 10.001, 0, "tiny"),
        (1, 10.001, 1, "big"),
        (1, 60.001, 0, ""),
    ],
)
def test_the_cheapest_switch_that_is_enough_beside_the_spare_ports(
    ports: int, watts: float, spare: int, switch: str | None
) -> None:
    found = figures(way("a", ports=ports, watts=watts), spare_ports=spare)
    whole = tally(found, "a")
    assert whole.fits == (switch != "") == found.fits_alone.tolist()[0]
    assert whole.switch == (-1 if not switch else [one.id for one in found.classes].index(switch))
    assert whole.cost == {None: 0, "": 0, "small": 2000, "wide": 2000, "tiny": 3000, "big": 9000}[switch]


def test_what_a_resource_plugs_in_counts_too() -> None:
    hub = Resource("hub", 1.0, ports=2, watts=4.0, loads=(("coax", 0.7),))
    found = figures(
        way("a", needs=("hub",), ports=2, watts=7.0), way("b", loads=(("coax", 0.4),)), resources=(hub,)
    )
    alone = tally(found, "a")
    assert (found.classes[alone.switch].id, alone.cost) == ("big", 9100)  # 4 ports, but 11 W
    hungry = figures(way("a", needs=("hub",), ports=7), way("b", needs=("hub",), ports=8), resources=(hub,))
    assert hungry.fits_alone.tolist() == [True, False]  # of 9 ports
    assert alone.fits and tally(found, "b").fits and not tally(found, "a", "b").fits  # 1.1 of the coax


def test_a_medium_is_shared_up_to_the_whole() -> None:
    thirds = figures(*(way(name, loads=(("coax", 1 / 3),)) for name in "abcd"))
    assert tally(thirds, "a", "b", "c").fits and not tally(thirds, "a", "b", "c", "d").fits
    apart = figures(
        way("a", loads=(("coax", 0.6),)),
        way("b", loads=(("air", 0.6),)),
        way("c", loads=(("air", 0.4), ("air", 0.4))),
    )
    assert tally(apart, "a", "b").fits and not tally(apart, "b", "c").fits
    alone = figures(
        way("a", loads=(("coax", 1.0),)),
        way("b", loads=(("coax", 1.001),)),
        way("c", loads=(("air", 0.6), ("air", 0.6))),
    )
    assert alone.fits_alone.tolist() == [True, False, False]
    assert tally(alone, "a").fits and not tally(alone, "b").fits
    part = figures(way("a", loads=(("coax", 0.29),)))  # 289999.99999999994 millionths as a float has it
    assert part.takes[0].tolist() == [0, 0, 290000]


def test_of_a_set_one_resource_at_most_is_used() -> None:
    found = figures(
        way("a", needs=("r1",)),
        way("b", needs=("r2",)),
        way("c", needs=("r1",)),
        way("d", needs=("r3",)),
        way("e", needs=("r1", "r2")),
        way("f", needs=("r4",)),  # which needs both in turn
        way("g", needs=("r5",)),
        way("h", needs=("r1", "r3", "r5", "r6")),
        way("i", needs=("r7",)),
        way("j", needs=("r6",)),
        resources=(*BOXES, *APART),
    )
    assert not tally(found, "a", "b").fits
    assert tally(found, "a", "c").fits and tally(found, "a", "d").fits and tally(found, "b", "g").fits
    assert not tally(found, "d", "i").fits and tally(found, "a", "i").fits
    assert tally(found, "g", "j").fits  # of no set
    assert found.fits_alone.tolist() == [True, True, True, True, False, False, True, True, True, True]
    assert [tally(found, name).fits for name in "abcdefghij"] == found.fits_alone.tolist()
    assert tally(found, "f").cost == 200 + 500 + 750


def test_one_set_alone_is_a_set() -> None:
    found = figures(way("a", needs=("r1",)), way("b", needs=("r2",)), resources=BOXES)
    assert not tally(found, "a", "b").fits and found.fits_alone.all()
    assert not figures(way("a", needs=("r1", "r2")), resources=BOXES).fits_alone.any()


def test_a_group_holds_one_and_what_must_be_is_there() -> None:
    ways = (way("a", group="up"), way("b", group="up"), way("c", group="down"))
    free = figures(*ways)
    assert tally(free, "a", "c").fits and not tally(free, "a", "b").fits
    must = figures(*ways, must=("down",))
    assert not tally(must, "a").fits and tally(must, "a", "c").fits
    fixed = figures(*ways, fixed=("a",))  # its group holds one, whichever it is
    assert not tally(fixed, "c").fits and tally(fixed, "a").fits


def test_what_hangs_on_others_is_carried_by_the_cheapest_that_goes_with_it() -> None:
    ways = (
        way("air", cost=10.0, beside=("far", "near", "poor")),
        way("far", cost=30.0, group="there"),
        way("near", cost=20.0, group="there"),
        way("other", cost=1.0, group="there"),
        way("poor", cost=1.0, needs=("r1", "r2")),
        way("mesh", beside=("near", "solid")),
        way("solid", cost=500.0),
    )
    found = figures(*ways, resources=BOXES)
    ids = [one.id for one in found.ways]

    def carried(*names: str) -> tuple[list[str], bool]:
        whole = found.carried([ids.index(name) for name in names])
        return [ids[at] for at in whole.ways], whole.fits

    assert not tally(found, "air").fits and tally(found, "air", "far").fits
    assert carried("air") == (["air", "near"], True)  # the cheapest does not fit by itself
    assert carried("air", "far") == (["air", "far"], True)
    assert carried("air", "other") == (["air", "other", "poor"], False)  # its group is taken
    assert carried("other") == (["other"], True)
    assert carried("mesh") == (["mesh", "near"], True)
    assert carried("mesh", "other") == (["mesh", "other", "solid"], True)
    assert [ids[at] for at in np.flatnonzero(found.hangs)] == ["air", "mesh"]


def test_what_is_served_and_counted() -> None:
    asked = (
        Requirement("hall", np.array([0, 1]), np.array([3.0, 1.0]), 0.75),
        Requirement("attic", np.array([2]), np.ones(1), 1.0),
    )
    serves = np.array([[True, False, False], [False, True, False], [False, True, True]])
    counts = (Counted("study", 2), Counted("den", 1))
    found = figures(
        way("a", counts=(("study", 1), ("den", 0))),
        way("b", counts=(("study", 1), ("study", 1), ("elsewhere", 5))),
        way("c", counts=(("den", 1),)),
        serves=serves,
        requirements=asked,
        counted=counts,
    )
    assert found.met_by([0]) == tally(found, "a").met == (True, False, False, False)  # three of four parts
    assert found.met_by([1]) == (False, False, True, False)
    assert found.met_by([0, 2]) == (True, True, False, True)
    assert tally(found, "a", "b").counted.tolist() == [3, 0]
    said = found.choice(tally(found, "a"), bound=0.0, proven=True, nodes=0, wanted=1)
    assert (said.served, said.met, said.counted) == ((0.75, 0.0), (True, False, False, False), (1, 0))
    assert said.feasible


def test_the_same_without_what_is_shared() -> None:
    found = figures(way("a", cost=1.25), way("b", group="up", cost=7.0), way("c", group="up"), must=("up",))
    assert found.coverage.cost.tolist() == [1.25, 7.0, 0.0]
    up = found.groups["up"]
    assert found.coverage.pinned == (up,) and found.part(np.array([1])).pinned == (up,)
    assert found.part(np.array([0])).pinned == () and found.part(np.array([0])).cost.tolist() == [1.25]


def test_the_answer_is_in_money_with_the_gap_that_is_left() -> None:
    found = figures(way("a", cost=10.0, ports=1), way("b", cost=70.0), must=("group of a",))
    both = tally(found, "a", "b")  # 10 + 70 and a switch for 20

    def answer(**how: Any) -> Any:
        return found.choice(both, **({"bound": 7500.0, "proven": False, "nodes": 3, "wanted": 0} | how))

    one = answer()
    assert (one.ways, one.switch, one.cost, one.bound, one.gap) == (("a", "b"), "small", 100.0, 75.0, 0.25)
    assert (one.nodes, one.feasible, one.proven) == (3, True, False)
    assert answer(bound=7500.4).bound == 75.0  # money has hundredths
    proven = answer(proven=True)
    assert (proven.bound, proven.gap, proven.proven) == (100.0, 0.0, True)
    assert answer(bound=12000.0).bound == 100.0  # a bound above the cost says nothing
    assert not answer(wanted=1).feasible and not answer(possible=False).feasible
    free = tally(figures(way("a")), "a")
    nothing = figures(way("a")).choice(free, bound=-5.0, proven=False, nodes=0, wanted=0)
    assert (nothing.cost, nothing.gap, nothing.switch) == (0.0, 0.0, "")
    least = figures(way("a", cost=0.01))
    assert least.choice(tally(least, "a"), bound=0.0, proven=False, nodes=0, wanted=0).gap == 1.0
    wide = figures(way("a", ports=9))
    assert wide.choice(tally(wide, "a"), bound=0.0, proven=True, nodes=0, wanted=0).switch == "big"


def test_what_is_taken_and_what_there_is_room_for_in_whole_milliwatts_and_ports() -> None:
    """15.4 W are 15400, half a milliwatt or less is none; a class has its ports less the spare ones."""
    users = figures(
        way("a", ports=2, watts=15.4),
        way("b", watts=0.0004),
        resources=(Resource("r1", 5.0, ports=1, watts=30.001),),
        spare_ports=2,
    )
    assert users.takes.tolist() == [[2, 15400], [0, 0]]
    assert users.resource_takes.tolist() == [[1, 30001]]
    assert [row.id for row in users.classes] == ["small", "wide", "tiny", "big"]
    assert users.class_room.tolist() == [[1, 10000], [2, 10000], [-1, 60000], [7, 60000]]
    assert users.class_cost.tolist() == [2000, 2000, 3000, 9000]
