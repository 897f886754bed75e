"""Other points of the front than the chosen one, old devices and boxes that stand: small cases by hand."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rehaul.design import results
from rehaul.design.battery import cheapest_battery
from rehaul.design.choosing import Chosen, _level, _pulls_of
from rehaul.design.devices import helps, stands, stays
from rehaul.design.offered import _left_out, _resources
from rehaul.design.reasoned import _radios_alone
from rehaul.design.searching import _affordable, doing_nothing, settled, with_chosen
from rehaul.exact import FeedChoice
from rehaul.house import Job, Need

thing: Any = SimpleNamespace


def test_what_another_point_leaves_out() -> None:
    """Rates of rooms that it does not serve, each way that is asked for, then their wired outlets."""
    needs = (
        thing(room="r1", down_mbps=50.0, up_mbps=5.0),
        thing(room="r2", down_mbps=20.0, up_mbps=0.0),
        thing(room="r3", down_mbps=0.0, up_mbps=7.0),
    )
    job = Job(
        id="j",
        title="J",
        needs=(
            Need(id="n1", room="r1", wired_outlets=2),
            Need(id="n2", room="r2", wired_outlets=1),
            Need(id="n3", room="r3"),
        ),
    )
    names = {"r1": "Hall", "r2": "Den", "r3": "Loft"}
    chosen = thing(placing=thing(rooms=names, needs=needs))
    rows = list(_left_out(job, chosen, thing(rooms=("Den",))))
    assert [(row.room, row.name, row.kind, row.need_mbps) for row in rows] == [
        ("r1", "Hall", "down", 50.0),
        ("r1", "Hall", "up", 5.0),
        ("r3", "Loft", "up", 7.0),
        ("r1", "Hall", "outlets", 2.0),
    ]
    assert all((row.gets_mbps, row.served_pct, row.fix_cost) == (0.0, 0.0, None) and row.fix for row in rows)
    assert list(_left_out(job, chosen, thing(rooms=("Hall", "Den", "Loft")))) == []


def test_what_is_paid_once_at_a_point() -> None:
    costs = {"visit": 60.0, "free": 0.0, "silent": 0.0}
    works = thing(
        all_of=lambda needs: list(dict.fromkeys(needs)),
        known={
            "visit": thing(words="a visit"),
            "free": thing(words="said all the same"),
            "silent": thing(words=""),
        },
        cost=lambda name: thing(middle=costs[name]),
    )
    kinds = (thing(id="switch 5", cost=40.0), thing(id="switch 8", cost=70.0))
    other = thing(
        placing=thing(offering=thing(works=works), problem=thing(switch_classes=kinds)),
        options=(thing(needs=("visit", "silent")), thing(needs=("visit", "free"))),
    )
    rows = [(row.id, row.cost) for row in _resources(other, thing(switch="switch 8"))]
    assert rows == [("visit", 60.0), ("free", 0.0), ("main switch switch 8", 70.0)]
    assert [row.id for row in _resources(other, thing(switch=""))] == ["visit", "free"]


def point(cost: float, *met: bool, ways: tuple[str, ...] = (), proven: bool = True) -> FeedChoice:
    return FeedChoice(
        ways=ways or (f"w{cost:g}",), resources=(), switch="", cost=cost, served=(), met=met,
        feasible=all(met), bound=cost, proven=proven, gap=0.0, nodes=0, counted=(),
    )  # fmt: skip


def test_a_budget_takes_what_serves_most_within_it() -> None:
    best, nothing = point(900.0, True, True, True), point(0.0, False, False, False)
    dearer, cheaper = point(400.0, True, True, False), point(390.0, True, False, True)
    found = {899.0: dearer, 399.0: cheaper, 100.0: None, 50.0: point(50.0, False, False, False)}

    def taken(budget: float, stands: FeedChoice | None = nothing) -> FeedChoice:
        search: Any = thing(best=best, within=lambda money, look: found[money])
        return _affordable(search, budget, stands, None)

    assert [taken(budget) for budget in (900.0, 899.0, 399.0)] == [best, dearer, cheaper]
    assert taken(100.0) == replace(nothing, proven=False), "time may have been up before anything was found"
    assert taken(100.0, None) is best, "what is pinned is over it, and nothing else is allowed"
    today = point(0.0, True, True, False)
    assert taken(899.0, today) is today, "what stands meets as much"
    found[899.0] = replace(dearer, proven=False)
    assert taken(899.0, today) == replace(today, proven=False), "a search cut short proves nothing"
    assert taken(50.0) is nothing


@pytest.mark.parametrize("budget", [None, 0.0])
def test_nothing_is_the_proven_choice_only_of_a_search_that_ended(budget: float | None) -> None:
    job: Any = thing(choices=thing(budget=budget))
    placing: Any = thing(problem=thing(must=()))
    nothing, empty = point(0.0, True, False), point(0.0, False, False, ways=("none",), proven=False)

    def taken(best: FeedChoice) -> FeedChoice:
        search: Any = thing(best=best, within=lambda money, look: None)
        return settled(job, placing, search, nothing)

    assert taken(empty) == replace(nothing, proven=False)
    assert taken(replace(empty, proven=True)) is nothing
    free = point(0.0, True, True, proven=False)
    assert taken(free) is free, "what costs nothing and meets more"


@pytest.mark.parametrize(
    ("best", "any_found"),
    [
        (point(9.0, True), True),
        (point(9.0, True, proven=False), True),
        (replace(point(0.0, False, proven=False), ways=()), False),
        (replace(point(0.0, False), ways=()), True),
    ],
)
def test_what_stands_is_not_what_a_search_found(best: FeedChoice, any_found: bool) -> None:
    stands: Any = thing(feeds=point(0.0, False), search=thing(best=best))
    whole: dict[str, Any] = {"choice": None, "options": (), "placing": None, "pulls": {}, "switch": ""}
    assert Chosen(**whole, found=stands).found_any is any_found
    assert not Chosen(**whole).found_any


def test_the_choice_stands_on_its_own_front() -> None:
    chosen = point(500.0, True, True, ways=("a",))
    front = [point(0.0, False, False), point(600.0, True, True), point(700.0, True, False)]
    assert [one.cost for one in with_chosen(front, chosen)] == [0.0, 500.0]
    more = [*front, point(500.0, True, True, ways=("a",))]
    assert with_chosen(more, chosen) is more
    assert _level(thing(place=thing(storey="1"))) == "1" and _level(thing(place=None)) == ""


def test_new_cables_are_numbered_with_the_router_s_own_first() -> None:
    def option(name: str, pull_m: float | None, uplink: Any = None) -> Any:
        return thing(id=name, feed=None if pull_m is None else thing(pull_m=pull_m), uplink=uplink)

    new = thing(links=(thing(age="new", length_m=0.0), thing(age="new", length_m=4.0)))
    cord = thing(links=(thing(age="new", length_m=0.0), thing(age="old", length_m=4.0)))
    rows = [option("a", 3.0, new), option("b", 0.0, new), option("c", None), option("d", 0.5)]
    assert _pulls_of(rows) == {"uplink": "NC1", "a": "NC2", "d": "NC3"}
    assert _pulls_of([option("a", 3.0, cord)]) == {"a": "NC1"}


def test_words_where_radios_are_all_that_is_done() -> None:
    def said(**more: Any) -> str:
        given = {
            "access_points": (),
            "outlets": (),
            "set_afresh": (),
            "devices": (),
            "router": thing(do="keep"),
        }
        return str(_radios_alone(thing(**{**given, **more})))

    rows = (thing(words="Set one"), thing(words="Set one"))
    assert said() == "" and said(set_afresh=rows).count("Set one") == 1
    assert said(devices=rows) != "" and said(set_afresh=rows, outlets=(1,)) == ""
    assert said(set_afresh=rows, router=thing(do="move")) == said(set_afresh=rows, access_points=(1,)) == ""


def option(what: str, router: str | None = None, keep: bool | None = None) -> Any:
    return thing(
        what=what,
        router=None if router is None else thing(id=router),
        box=None if keep is None else thing(keep=keep),
    )


@pytest.mark.parametrize(
    ("one", "standing", "staying"),
    [
        (option("box", keep=True), True, True),
        (option("box", keep=False), True, False),
        (option("router", "here", True), True, True),
        (option("router", "here", False), True, False),
        (option("router", "elsewhere", True), False, False),
        (option("router"), False, False),
        (option("access point", keep=True), False, False),
    ],
)
def test_boxes_that_stand_and_those_that_stay(one: Any, standing: bool, staying: bool) -> None:
    assert (stands(one), stays(one)) == (standing, staying)


def test_a_new_radio_helps_where_the_room_is_short_for_its_device_alone() -> None:
    """Nine of ten places are enough."""

    def places(served: int) -> Any:
        return np.arange(10) < served

    assert helps(places(8), places(9)) and helps(places(0), places(10))
    assert not helps(places(9), places(10)), "it is served as it is"
    assert not helps(places(0), places(8)), "the new radio is not enough"


def test_the_cheapest_battery_that_lasts_aged() -> None:
    """Batteries of 108, 216 and 432 Wh give 73.4, 146.9 and 293.8 aged: as many minutes at 60 W."""
    assert [cheapest_battery(60.0, minutes).battery_v for minutes in (10, 73, 74, 146, 147, 293, 999)] == [
        12, 12, 24, 24, 48, 48, 48,
    ]  # fmt: skip


def test_what_a_kept_plan_leaves_out_means_the_same_as_ever() -> None:
    """Plans of earlier versions lack what came later: it is read as not so."""

    def left_out(model: Any, *fields: str) -> list[Any]:
        return [model.model_fields[name].default for name in fields]

    assert left_out(results.Site, "new_pull_m", "hop") == [0.0, False]
    assert left_out(results.AccessPoint, "supply") + left_out(results.WiredOutlet, "beside_switch") == [
        False,
        False,
    ]
    assert left_out(results.RouterDecision, "height_m", "cost") == [0.0, 0.0]
    assert left_out(results.FrontPoint, "chosen", "nothing", "beaten") == [False, False, False]
    assert left_out(results.Channel, "dfs", "air_left") == [False, 1.0]
    assert left_out(results.Port, "poe_class", "poe_w", "cord_m", "injector") == [0, 0.0, 0.5, False]
    assert left_out(results.RackItem, "new") == [True]
    points = tuple(
        results.FrontPoint(cost=cost, rooms_served=rooms, rooms=(), sites=(), equipment=())
        for cost, rooms in ((0.0, 1), (5.0, 1), (6.0, 2))
    )
    assert [point.beaten for point in results.told_beaten(points)] == [False, True, False]


@pytest.mark.parametrize(
    ("share", "outlets", "met", "feasible"),
    [
        (0.75, 0, (True,), True),
        (0.75 + 5e-10, 0, (True,), True),  # rounding alone
        (0.76, 0, (False,), False),
        (0.75, 1, (True, False), False),
        (0.76, 1, (False, False), False),
        (None, 0, (), True),
        (None, 1, (False,), False),
    ],
)
def test_doing_nothing_meets_what_the_boxes_that_stand_reach_and_no_wired_outlet(
    share: float | None, outlets: int, met: tuple[bool, ...], feasible: bool
) -> None:
    """Of three places that weigh 1, 2 and 1 two boxes that stand reach one each: three quarters.

    What would be bought reaches all three and does not count; a wired outlet is never there yet.
    """
    options = (
        thing(id="new", what="pull", router=None),
        thing(id="standing", what="box", router=None),
        thing(id="here", what="router", router=thing(id="here")),
    )
    need = thing(places=np.arange(3), weights=np.array([1.0, 2.0, 1.0]), share=share)
    problem = thing(
        serves=np.array([[True, True, True], [False, True, False], [True, False, False]]),
        requirements=() if share is None else (need,),
        counted=(thing(),) * outlets,
    )
    found = doing_nothing(thing(problem=problem, offering=thing(options=options)))
    assert (found.met, found.feasible) == (met, feasible)
    assert found.served == (() if share is None else (0.75,)) and found.counted == (0,) * outlets
    assert (found.ways, found.cost, found.bound, found.gap) == (("here", "standing"), 0.0, 0.0, 0.0)
    assert found.proven and found.switch == "" and found.resources == ()
