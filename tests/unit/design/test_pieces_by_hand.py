"""Small rules of a design by hand: cords, names and addresses, what old cables still need, money of tries."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rehaul.design import oldcables
from rehaul.design.addresses import addresses, box_name
from rehaul.design.channels import _row, with_widths
from rehaul.design.cords import cord_item, new_cord
from rehaul.design.drops import DropTry, _check, _high_90, _left, _quantile, best_policy
from rehaul.design.oldcables import add_cables, add_run, checked_at_the_closet, ends_known, link_known
from rehaul.design.option import Option
from rehaul.design.outlets import least_mbps
from rehaul.design.robust import met_samples
from rehaul.design.settings import also_afresh, boxes_set_afresh, is_narrow, settings_options, wider_only
from rehaul.design.tries import NEVER_MIN, DropAttempt
from rehaul.design.wanted import _chances, _coax_near, _money, _name_of, _way
from rehaul.design.works import Work, Works, cost_of
from rehaul.errors import BadInput
from rehaul.facts.drops import drop_ways
from rehaul.facts.work import labour, prices
from rehaul.house import House, Job, MeetingPoint, Outlet, Room, Run, RunTest, Storey
from rehaul.house.job import Box, Choices, Need, RadioSetting, Service
from rehaul.wlan import BandChannel

thing = SimpleNamespace
HALL = Room(id="r1", name="Hall", storey="1", polygon=((0, 0), (9, 0), (9, 9), (0, 9)))
CLOSET = MeetingPoint(id="M1", name="Closet", storey="1", position=(1, 1))


def job(*runs: Run, **more: Any) -> Job:
    house = House(
        storeys=(Storey(id="1", name="Ground", elevation_m=0), Storey(id="2", name="Up", elevation_m=3)),
        rooms=(HALL,),
        outlets=more.pop("outlets", (Outlet(id="1-01", storey="1", position=(5, 5)),)),
        meeting_points=(CLOSET,),
        runs=runs,
    )
    choices = more.pop("choices", Choices(labour_per_h=60.0))  # a minute costs 1.00
    return Job(id="j", title="Invented", house=house, choices=choices, **more)


@pytest.mark.parametrize(
    ("length_m", "item"),
    [
        (0.0, "cord_025"), (0.25, "cord_025"), (0.26, "cord_050"), (0.5, "cord_050"), (1.0, "cord_100"),
        (1.01, "cord_200"), (2.5, "cord_300"), (3.01, "cord_500"), (5.0, "cord_500"), (5.01, "cord_long"),
    ],
)  # fmt: skip
def test_the_shortest_cord_that_reaches(length_m: float, item: str) -> None:
    assert cord_item(length_m) == item and item in prices()


def test_a_cord_carries_what_its_ports_do() -> None:
    link = new_cord("c", "A", "B", 94.1, poe_class=4, length_m=2.0)
    assert (link.a, link.b, link.medium, link.age) == ("A", "B", "cord", "new")
    assert (link.low_mbps, link.rate_mbps, link.high_mbps, link.poe_class) == (94.1, 94.1, 94.1, 4)


def point(name: str, place: str = "P1") -> Any:
    return thing(name=name, site=thing(id=place))


def test_names_and_addresses() -> None:
    assert [box_name(point(name)) for name in ("Living Room (2)!", "Küche", "居間")] == [
        "ap-living-room-2", "ap-k-che", "ap-",
    ]  # fmt: skip
    keeps = Box(id="B1", name="box", equipment="router HE 2x2", storey="1", position=(1, 1))
    rows = addresses(job(boxes=(keeps,)), [point("Hall", "P1"), point("Den", "P2")], switch=True)
    assert [(row.network, row.address) for row in rows[:4]] == [
        ("home", "10.84.10.1"), ("guest", "10.84.20.1"), ("things", "10.84.30.1"),
        ("management", "10.84.90.1"),
    ]  # fmt: skip
    assert [(row.name, row.network, row.address, row.note) for row in rows[4:7]] == [
        ("switch", "management", "10.84.90.2", ""),
        ("ap-hall", "management", "10.84.90.10", "P1"),
        ("ap-den", "management", "10.84.90.11", "P2"),
    ]
    assert len(rows) == 8
    goes = keeps.model_copy(update={"keep": False})
    assert len(addresses(job(boxes=(goes,)), [], switch=False)) == 4


MAPPED, LINKED = RunTest(wire_map="good"), RunTest(link_mbps=1000.0)  # type: ignore[arg-type]
BOTH, CROSSED = RunTest(wire_map="good", link_mbps=1000.0), RunTest(wire_map="split pair")  # type: ignore[arg-type]


def cable(name: str = "C1", ends: tuple[str, ...] = ("M1", "1-01"), **more: Any) -> Run:
    return Run.model_validate({"id": name, "ends": ends, "kind": "quad", "state": "dead", **more})


@pytest.mark.parametrize(
    ("more", "ends", "link"),
    [
        ({}, False, False),
        ({"traced": "measured"}, True, False),
        ({"traced": "certified"}, True, False),
        ({"traced": "inferred"}, False, False),
        ({"tests": (MAPPED,)}, True, False),
        ({"tests": (LINKED,)}, True, False),
        ({"tests": (MAPPED, LINKED)}, True, False),  # never both at once
        ({"tests": (BOTH,)}, True, True),
        ({"tests": (CROSSED, BOTH)}, True, True),
        ({"tests": (BOTH,), "ends": ("M1", "unknown")}, False, True),
        ({"tests": (BOTH,), "ends": ("M1", "1-01", "1-02")}, True, False),
        ({"tests": (BOTH,), "state": "damaged"}, True, False),
    ],
)
def test_what_is_on_record_of_a_cable(more: dict[str, Any], ends: bool, link: bool) -> None:
    run = cable(**more)
    assert (ends_known(run), link_known(run)) == (ends, link)


def test_what_an_old_cable_still_needs() -> None:
    """Dead ends unknown: a check on the day and a tone; a chain of four boxes has three stretches to tag."""
    dead, known = cable("C1"), cable("C2", traced="measured")
    chain = cable("C3", ("M1", "1-01", "1-02", "1-03"))
    untested = cable("C4", state="unknown")
    away = cable("C5", ("1-01", "1-02"), state="unknown")
    here = job(dead, known, chain, untested, away)
    assert checked_at_the_closet(here) == ("C4",), "not dead for sure, and ends where the work is"
    works = Works(here)
    whole = works.known[add_cables(here, works)]
    left = sum(bool(oldcables.left_norm(here, run)) for run in here.house.runs)
    assert whole.tasks[:2] == ("photo", "live_check") and len(whole.tasks) == 2 + left
    assert whole.parts == (("tag", 2.0 * left),) and left > 0
    tasks = {run.id: works.known[add_run(works, run)] for run in here.house.runs}
    assert tasks["C1"].tasks == ("live_check", "tone") and tasks["C2"].tasks == ("live_check",)
    assert tasks["C3"].tasks == ("live_check", "tone", "tag", "tag", "tag")
    assert tasks["C3"].parts == (("tag", 3.0),) and tasks["C1"].parts == ()
    assert tasks["C4"].tasks == ("tone",), "it is checked where the cables meet"
    assert tasks["C5"].tasks == ("live_check", "tone")
    assert tasks["C1"].saves == ("tag",) and tasks["C1"].saves_parts == (("tag", 2.0),)
    assert tasks["C1"].words != tasks["C2"].words


def test_a_fault_whose_place_is_known_is_opened_not_searched(monkeypatch: pytest.MonkeyPatch) -> None:
    for place, norm in ((None, "repair"), (object(), "fault")):
        monkeypatch.setattr(oldcables, "fault_place", lambda run, place=place: place)
        assert oldcables.mend_norm(cable(state="damaged")) == norm


def test_what_a_work_saves_is_taken_off_and_never_more_than_it_costs() -> None:
    """At 1.00 a minute: a rack less a tag and its two labels; a tag less a rack is 0."""
    here = job()
    rack, tag = labour()["rack"], labour()["tag"]
    item = prices()["tag"].unit_price
    plain = cost_of(here, Work("w", tasks=("rack",), parts=(("tag", 3.0),)))
    assert plain.middle == pytest.approx(rack.minutes + 3 * item)
    less = cost_of(here, Work("w", tasks=("rack",), saves=("tag",), saves_parts=(("tag", 2.0),)))
    assert less.middle == pytest.approx(rack.minutes - tag.minutes - 2 * item)
    assert less.high_90 == pytest.approx(rack.minutes_90 - tag.minutes_90 - 2 * item)
    none = cost_of(here, Work("w", tasks=("tag",), saves=("rack",)))
    assert (none.middle, none.high_90) == (0.0, 0.0)


def test_sampled_fields_become_places_and_ask_two_standard_errors_more() -> None:
    """0.9 in 100 samples: a standard error of 0.03, so 0.96 is asked; what is asked for sure stays sure."""
    met = np.zeros((100, 2, 3), dtype=bool)
    met[7, 1, 2] = True
    table, asked = met_samples(met, ["a", "b", "c"], [0.9, 1.0, 0.99])
    assert table.shape == (2, 300) and np.flatnonzero(table).tolist() == [300 + 207]
    assert [one.name for one in asked] == ["a", "b", "c"]
    assert [round(float(one.share), 4) for one in asked] == [0.96, 1.0, 1.0]  # 0.99 and 0.0199 are over 1
    assert asked[1].places.tolist() == list(range(100, 200)) and set(asked[1].weights) == {1.0}


def test_a_wired_outlet_carries_what_is_asked_and_no_more_than_is_paid_for() -> None:
    """A line of 100 pays for 94.1 with full frames."""
    needs = (Need(id="N1", room="r1", down_mbps=40), Need(id="N2", room="r1", down_mbps=30))
    assert least_mbps(job(service=Service(down_mbps=100), needs=needs))["r1"] == 40.0
    more = (Need(id="N1", room="r1", down_mbps=700),)
    assert least_mbps(job(service=Service(down_mbps=100), needs=more))["r1"] == 94.1


def test_an_option_carries_what_its_slowest_piece_does() -> None:
    plain: dict[str, Any] = {"id": "o", "what": "outlet", "group": "g", "cost": 0.0, "cost_90": 0.0}
    assert Option(**plain).wire_mbps == float("inf")
    slow: Any = thing(port_mbps=100)
    assert Option(**plain, equipment=slow).wire_mbps == pytest.approx(94.15, abs=0.01)
    feed, up = (thing(links=(new_cord(n, "A", n, rate),)) for n, rate in (("f", 60.0), ("u", 50.0)))
    assert Option(**plain, equipment=slow, feed=feed).wire_mbps == 60.0
    both = Option(**plain, equipment=slow, feed=feed, uplink=up)
    assert both.wire_mbps == 50.0 and [link.id for link in both.links] == ["u", "f"]


NARROW = Box(
    id="B1", name="router", equipment="router HE 2x2", storey="1", position=(1, 1),
    set_to=(RadioSetting(band="5", channel=36, width_mhz=20),),  # type: ignore[arg-type]
)  # fmt: skip


def set_to(width_mhz: int | None) -> Box:
    row = RadioSetting(band="5", channel=36, width_mhz=width_mhz)  # type: ignore[arg-type]
    return NARROW.model_copy(update={"set_to": (row,)})


def test_a_radio_is_narrow_below_the_widest_that_a_plan_gives() -> None:
    """At 5 GHz a plan gives 80 MHz at most."""
    assert [is_narrow(set_to(width)) for width in (20, 40, 80, 160, None)] == [
        True,
        True,
        False,
        False,
        False,
    ]
    assert not is_narrow(NARROW.model_copy(update={"radio": False}))
    assert not is_narrow(NARROW.model_copy(update={"equipment": "of no table"}))
    other = NARROW.model_copy(update={"id": "B2"})
    found = settings_options(job(boxes=(NARROW, other, set_to(80))), NARROW)
    assert [(o.id, o.afresh_of, o.needs) for o in found] == [
        ("settings B1", "router here", ("commission", "router here")),
        ("settings B2", "box B2", ("commission",)),
    ]
    assert {(o.cost, o.cost_90) for o in found} == {(0.0, 0.0)}, "what it takes is the commissioning"
    gone = NARROW.model_copy(update={"keep": False})
    assert settings_options(job(boxes=(gone,)), None) == []


def test_a_narrow_router_that_moves_may_be_set_afresh_there_too() -> None:
    plain: dict[str, Any] = {"id": "o", "what": "router", "group": "g", "cost": 1.0, "cost_90": 2.0}
    moves, stays = (Option(**plain, router=thing(id=at), box=NARROW, needs=("w",)) for at in ("r1 2", "here"))
    first, second = also_afresh(moves)
    assert first is moves and second.needs == ("w", "commission") and second.afresh_of == "o"
    assert (second.id, second.cost) == ("o set afresh", 1.0)
    assert also_afresh(stays) == [stays]
    wide = Option(**plain, router=thing(id="r1 2"), box=set_to(80))
    assert also_afresh(wide) == [wide]
    (row,) = boxes_set_afresh([first, second])
    assert (row.box, row.name) == ("B1", "router") and "80" in row.words and "20" in row.words


def test_only_what_gets_wider_is_called_set_afresh() -> None:
    here = job(boxes=(NARROW,))
    choice: Any = thing(set_afresh=(thing(box="B1"), thing(box="B9")))
    for width, wider in ((20, False), (40, True), (10, False)):
        row = thing(access_point="B1", band="5", width_mhz=width)
        found = wider_only(here, choice, thing(channels=(row,)))  # type: ignore[arg-type]
        assert [one.box for one in found] == (["B1"] if wider else [])


def test_a_channel_is_named_by_its_lowest_part() -> None:
    """80 MHz around channel 42 begin at 36; 40 around 38 at 36; 20 are their own."""
    radiator: Any = thing(id="AP1", equipment="access point HE 2x2")
    for number, width, first in ((42, 80, 36), (38, 40, 36), (36, 20, 36), (155, 80, 149)):
        channel = BandChannel("5", width, number, 5000.0 + 5 * number)
        row = _row(job(country="US"), radiator, "5", channel)
        assert (row.channel, row.centre_channel, row.width_mhz) == (first, number, width)
        assert row.air_left == 1.0 and row.access_point == "AP1"


def way(name: str, chance: float = 0.5, **more: Any) -> DropAttempt:
    return DropAttempt(name, chance, **{"minutes": 10.0, "minutes_90": 30.0, "parts": 5.0, **more})


def test_nine_tries_of_ten_by_hand() -> None:
    values, chances = np.array([3.0, 1.0, 2.0]), np.array([0.05, 0.5, 0.45])
    assert _quantile(values, chances) == 2.0 and _quantile(values, chances, 0.5) == 1.0
    assert _quantile(values, np.array([0.2, 0.4, 0.4])) == 3.0
    sure = DropTry(way("a", 1.0, finish=7.0), NEVER_MIN, 1.0, 1.0)
    cost, minutes = _high_90((sure,), 500.0, 2.0)
    assert minutes == pytest.approx(30.0, rel=0.02) and cost == pytest.approx(5 + 7 + 2 * 30, rel=0.02)
    assert _high_90((), 500.0, 2.0) == (500.0, 0.0)
    never = DropTry(way("a", 0.0, finish=7.0), NEVER_MIN, 1.0, 0.0)
    assert _high_90((never,), 500.0, 2.0)[0] == pytest.approx(5 + 500 + 60, rel=0.02)
    pair = tuple(DropTry(way(n, 0.0), NEVER_MIN, 1.0, 0.0) for n in "ab")
    assert _high_90(pair, 500.0, 0.0)[0] == pytest.approx(510.0), "the parts of both are spent"


def test_a_spent_cable_is_no_way_any_more() -> None:
    reuse, mend = way("reuse", needs_old=True), way("repair", needs_old=True)
    cord, new = way("pull cord", needs_old=True, spends_old=True), way("new cable")
    every = (reuse, mend, cord, new)
    assert [one.name for one in _left(every, cord)] == ["new cable"]
    assert [one.name for one in _left(every, reuse)] == ["repair", "pull cord", "new cable"]


def test_ways_are_few_and_money_is_not_below_nothing() -> None:
    _check([way(name) for name in "ab"], 0.0, 0.0)
    for ways, without, minute in (
        ([way("a"), way("a")], 1.0, 1.0), ([way("a")], -0.01, 1.0), ([way("a")], 1.0, -0.01),
        ([way(str(n)) for n in range(40)], 1.0, 1.0),
    ):  # fmt: skip
        with pytest.raises(BadInput):
            _check(ways, without, minute)
    nothing = best_policy([way("dear", parts=900.0)], 300.0, 1.0)
    assert nothing.steps == () and (nothing.cost, nothing.cost_90, nothing.chance) == (300.0, 300.0, 0.0)


def test_what_a_try_costs_before_and_after_it_works() -> None:
    """At 1.00 a minute: cable of the route and what the table adds; after it, the ends."""
    rows = drop_ways()
    cable_m = prices()["cable_cat6"].unit_price
    found = _way(job(), rows["surface cable", "anywhere"], 10.0)
    assert found.parts == pytest.approx(70 + 1.5 * 10 * cable_m) and found.chance == 0.98
    ends = sum(labour()[task].minutes for task in ("jack", "panel_port", "plate", "test"))
    jacks = 2 * prices()["jack"].unit_price + prices()["plate"].unit_price
    assert found.finish == pytest.approx(ends + jacks)
    assert not found.needs_old and not found.spends_old
    box = _way(job(), rows["new cable", "same storey"], 10.0, 0.4)
    assert box.parts == pytest.approx(10 * cable_m + prices()["box_low_voltage"].unit_price)
    assert box.chance == 0.4
    cord = _way(job(), rows["pull cord", "in conduit"], 0.0)
    assert cord.needs_old and cord.spends_old
    for name, old in (("reuse", "old cable"), ("repair", "old cable")):
        assert (
            _way(job(), rows[name, old], 0.0).needs_old and not _way(job(), rows[name, old], 0.0).spends_old
        )
    assert _money("jack jack plate") == pytest.approx(jacks) and _money("") == 0
    names = [_name_of(*row) for row in (("fished", True), ("fished", False), ("pull cord", False),
                                        ("surface", False), ("fibre", False))]  # fmt: skip
    assert names == ["reuse", "new cable", "pull cord", "surface cable", "fibre"]


def test_chances_of_a_cable_as_it_is_and_mended() -> None:
    def verdict(*rows: tuple[float, float, float]) -> Any:
        return thing(
            ethernet=[
                thing(rate_mbps=rate, chance=chance, lifted_chance=lifted) for rate, chance, lifted in rows
            ]
        )

    assert _chances(verdict((100, 0.9, 0.9), (1000, 0.4, 0.7))) == (0.4, 0.7)
    assert _chances(verdict((1000, 0.8, 0.5), (2500, 0.1, 0.1))) == (0.8, 0.8)
    assert _chances(verdict((1000, 1.0, 1.0))) == (0.99, 0.99) and _chances(verdict((100, 1, 1))) == (
        0.0,
        0.0,
    )


@pytest.mark.parametrize(
    ("kind", "storey", "at", "near"),
    [
        ("coax", "1", (5.0, 5.0), True),
        ("coax", "2", (5.0, 5.0), False),
        ("coax", "1", None, False),
        ("telephone", "1", (5.0, 5.0), False),
        ("coax", "1", (50.0, 5.0), False),
        ("coax", "1", (5.0, 50.0), False),
    ],
)
def test_coax_is_near_on_the_same_storey_within_a_cord(
    kind: str, storey: str, at: tuple[float, float] | None, near: bool
) -> None:
    outlet = Outlet(id="1-01", storey=storey, kind=kind, position=at)  # type: ignore[arg-type]
    assert _coax_near(job(outlets=(outlet,)), "1", (5.0, 5.5)) is near
    if kind == "telephone":
        run = Run(id="X1", ends=("M1", "1-01"), kind="coax")  # type: ignore[arg-type]
        assert _coax_near(job(run, outlets=(outlet,)), "1", (5.0, 5.5)), "a coax ends in it"


def test_widths_of_a_plan_go_to_the_boxes_that_it_sets() -> None:
    from rehaul.predict import Radiator

    boxes = [Radiator(name, name, "access point HE 2x2", (0.0, 0.0, 2.0)) for name in ("AP1", "AP2")]
    rows = [
        thing(access_point=name, band=thing(value=band), width_mhz=width, air_left=left)
        for name, band, width, left in (("AP1", "5", 40, 0.5), ("AP2", "5", 80, 0.9), ("AP1", "2.4", 20, 0.7))
    ]
    first, second = with_widths(boxes, thing(channels=rows), boxes={"AP1"})  # type: ignore[arg-type]
    assert dict(first.widths_mhz) == {"2.4": 20, "5": 40} and dict(first.air_left) == {"2.4": 0.7, "5": 0.5}
    assert second == boxes[1]
