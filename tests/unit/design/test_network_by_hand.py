"""Old cables, shared work, addresses, racks, ports and shortfalls: single functions by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.design.addresses import addresses, box_name, subnets
from rehaul.design.battery import cheapest_battery
from rehaul.design.judged import _lacks, _without, as_it_turns_out, with_gets
from rehaul.design.naming import numbered
from rehaul.design.networking import (
    _apart_m,
    _below,
    _first_with,
    _fits,
    _is_beside,
    _is_can,
    _on_board,
    _panel,
    _rack,
    line_mbps,
)
from rehaul.design.oldcables import (
    add_cables,
    add_run,
    checked_at_the_closet,
    ends_known,
    is_qualified,
    left_norm,
    link_known,
    may_tone,
    mend_norm,
)
from rehaul.design.results import FrontPoint, Port, told_beaten
from rehaul.design.works import Work, Works, cost_of, price_of
from rehaul.errors import BadInput
from rehaul.facts.equipment import equipment, equipment_of
from rehaul.house import UNKNOWN, Box, House, Job, MeetingPoint, Obligation, Outlet, Run, Storey
from rehaul.house.job import Choices
from rehaul.network.segments import segments_of
from rehaul.power import ups_minutes

thing = SimpleNamespace
CLOSET = MeetingPoint(id="M1", name="Closet", storey="0", position=(1.0, 1.0))


def run(name: str = "C1", *ends: str, **more: Any) -> Run:
    return Run.model_validate(
        {"id": name, "ends": ends or ("M1", "0-01"), "kind": "cat5", "state": "dead", **more}
    )


def job(*runs: Run, **more: Any) -> Job:
    house = House(
        storeys=(Storey(id="0", name="Ground", elevation_m=0.0),),
        outlets=tuple(Outlet(id=f"0-0{n}", storey="0", position=(n, 1.0)) for n in (1, 2, 3)),
        meeting_points=(CLOSET,),
        runs=runs,
    )
    return Job(
        id="j",
        title="Invented",
        house=house,
        choices=Choices(labour_per_h=60.0, **more.pop("choices", {})),
        **more,
    )


GOOD = {"wire_map": "good", "link_mbps": 1000}


@pytest.mark.parametrize(
    ("more", "ends", "whole"),
    [
        ({}, False, False),
        ({"traced": "measured"}, True, False),
        ({"traced": "inferred"}, False, False),
        ({"tests": [{"wire_map": "good"}]}, True, False),
        ({"tests": [{"link_mbps": 100}]}, True, False),
        ({"tests": [GOOD]}, True, True),
        ({"tests": [GOOD], "state": "damaged"}, True, False),
        ({"tests": [GOOD], "ends": ("M1", "0-01", "0-02")}, True, False),
        ({"tests": [GOOD], "ends": ("M1", UNKNOWN)}, False, True),
    ],
)
def test_what_is_on_record_of_a_cable(more: dict[str, Any], ends: bool, whole: bool) -> None:
    one = run(**more)
    assert (ends_known(one), link_known(one)) == (ends, whole)


def test_a_link_is_qualified_where_it_is_one_whole_tested_cable() -> None:
    tested, bare = run("C1", tests=[GOOD]), run("C2")
    pieces = {piece.id: piece for piece in segments_of(job(tested, bare))}
    assert is_qualified((pieces["C1"],))
    assert not is_qualified((pieces["C2"],)) and not is_qualified((pieces["C1"], pieces["C2"]))


def test_what_comes_to_the_closet_and_is_not_known_to_be_dead_is_checked() -> None:
    house = job(
        run("C1"),
        run("C2", state="unknown", kind="quad"),
        run("C3", "0-01", "0-02", state="unknown", kind="quad"),
    )
    assert checked_at_the_closet(house) == ("C2",)
    owed = Obligation.model_validate({"id": "O1", "kind": "lift", "run": "C1"})
    held = job(run("C1"), run("C2", state="unknown", kind="quad"), obligations=(owed,))
    assert checked_at_the_closet(held) == ("C1", "C2")
    assert not may_tone(held, "C1") and may_tone(held, "C2")


def test_the_task_for_a_cable_that_is_not_used() -> None:
    owed = Obligation.model_validate({"id": "O1", "kind": "telephone", "run": "C1"})
    plain, bound = run("C1", kind="quad"), run("C1", kind="quad")
    assert left_norm(job(plain), plain) == "tag"
    assert left_norm(job(bound, obligations=(owed,)), bound) == ""
    moved = job(bound, obligations=(owed,), choices={"to_be_moved": ("O1",)})
    assert left_norm(moved, bound) == "disconnect"
    assert mend_norm(run(state="damaged")) == "repair"


def test_work_on_an_old_cable_saves_the_tag_it_would_have_got() -> None:
    works = Works(job(run("C1"), run("C2", tests=[GOOD]), run("C3", "M1", "0-01", "0-02", "0-03")))
    add_cables(works.job, works)
    first, tested, chain = (works.known[add_run(works, one)] for one in works.job.house.runs)
    assert first.tasks == ("live_check", "tone") and first.saves == ("tag",)
    assert tested.tasks == ("live_check",), "its ends are known"
    assert chain.tasks == ("live_check", "tone", "tag", "tag", "tag") and chain.parts == (("tag", 3.0),)
    all_cables = works.known["cables"]
    assert all_cables.tasks == ("photo", "tag", "tag", "tag") and all_cables.parts == (("tag", 6.0),)


def test_money_of_shared_work_by_hand() -> None:
    """At 60 an hour a minute is 1.00: a jack 8 minutes and 4.50; a tag 4, so that saving one takes 4 off."""
    works = Works(job())
    works.add(Work("base", tasks=("photo",)))  # 3 minutes
    works.add(Work("jack", tasks=("jack",), parts=(("jack", 2.0),), needs=("base",)))
    works.add(Work("jack", tasks=("rack",)))  # stands already
    works.add(Work("saving", tasks=("jack",), saves=("tag",), needs=("base", "jack")))
    works.add(Work("idle", tasks=("photo",), saves=("jack",)))
    assert works.cost("jack").middle == 8 + 9 and works.cost("saving").middle == 4
    assert (works.cost("saving").middle, works.cost("saving").high_90) == (8 - 4, 13 - 8)
    assert works.cost("idle").middle == 0, "never less than nothing"
    assert works.all_of(["saving"]) == ("base", "jack", "saving")
    assert works.cost_all(["saving", "jack"]).middle == 3 + 17 + 4
    works.put(Work("jack", tasks=("photo",)))
    assert works.cost("jack").middle == 3
    works.load("jack", "air", 0.25)
    assert works.known["jack"].loads == (("air", 0.25),)
    assert cost_of(job(), Work("x", parts=(("access point HE 2x2", 2.0),))).middle == 2 * price_of(
        "access point HE 2x2"
    )
    with pytest.raises(BadInput, match="no price"):
        price_of("a kettle")


def test_addresses_go_up_from_ten_and_the_switch_is_two() -> None:
    points: Any = [thing(name="Living Room", site=thing(id="P1")), thing(name="Café 2", site=thing(id="P2"))]
    rows = {row.name: row for row in addresses(job(), points, switch=True) if row.name != "router"}
    assert rows["switch"].address == "10.84.90.2"
    assert (rows["ap-living-room"].address, rows["ap-caf-2"].address) == ("10.84.90.10", "10.84.90.11")
    assert rows["ap-living-room"].note == "P1" and len(rows) == 3
    assert "switch" not in {row.name for row in addresses(job(), points, switch=False)}
    gateways = {row.network: row.address for row in addresses(job(), (), switch=False)}
    assert gateways["home"] == "10.84.10.1" and gateways["things"] == "10.84.30.1"
    box = Box(id="RT", name="Box", equipment="router HE 2x2", storey="0", position=(0, 0))
    for keep, told in ((True, True), (False, False)):
        kept = job(boxes=(box.model_copy(update={"keep": keep}),))
        assert ("provider's box" in {row.name for row in addresses(kept, (), switch=False)}) is told
    assert {row.name: (row.vlan, row.subnet) for row in subnets()}["guest"] == (20, "10.84.20.0/24")
    assert box_name(thing(name="  The *Attic* ")) == "ap-the-attic"  # type: ignore[arg-type]
    assert numbered(["Hall", "Den", "Hall"]) == ["Hall 1", "Den", "Hall 2"]


def test_the_cheapest_battery_that_lasts_and_else_the_largest() -> None:
    kinds = equipment_of("battery")
    for load_w, minutes in ((20.0, 10.0), (60.0, 60.0), (500.0, 600.0)):
        lasting = [k for k in kinds if ups_minutes(load_w, k.battery_v, k.battery_ah) >= minutes]
        found = cheapest_battery(load_w, minutes)
        assert (
            found.price == min(k.price for k in lasting)
            if lasting
            else found.battery_ah * found.battery_v == max(k.battery_ah * k.battery_v for k in kinds)
        )


def test_boxes_stand_one_over_the_other_with_the_battery_below() -> None:
    router = Box(id="RT", name="Router", equipment="router HE 2x2", storey="0", position=(0, 0))
    odd = router.model_copy(update={"id": "X", "equipment": "a kettle"})
    battery, switch, panel = (equipment_of(kind)[0] for kind in ("battery", "switch", "panel"))
    found = list(reversed(_rack([router, odd], switch, panel, battery)))
    assert [row.name for row in found] == ["Battery", "Router", "Switch", "Panel"]
    assert [row.kind for row in found] == ["battery", "box", "switch", "panel"]
    unit = 1
    for row in found:
        assert row.unit == unit and row.height_u == max(1, equipment()[row.equipment].rack_u)
        unit += row.height_u
    assert [row.new for row in found] == [True, False, True, True]
    assert _rack([], None, None, None) == ()


@pytest.mark.parametrize(
    ("inside", "units", "fits"),
    [(None, 9, True), ((0.5, 0.2, 0.1), 4, True), ((0.5, 0.2, 0.1), 5, False), ((0.48, 0.9, 0.1), 1, False),
     ((0.4826, 2 * 0.04445, 0.1), 2, True)],
)  # fmt: skip
def test_what_goes_where_the_cables_meet(inside: Any, units: int, fits: bool) -> None:
    """19 inches wide, 44.45 mm a unit."""
    assert _fits(CLOSET.model_copy(update={"inside_m": inside}), units) is fits
    assert _fits(None, units) and not _is_can(None)
    assert _is_can(CLOSET.model_copy(update={"enclosure": "flush metal can"})) and not _is_can(CLOSET)


@pytest.mark.parametrize(
    ("position", "storey", "moved_to", "beside", "on_board"),
    [
        ((1.0, 1.9), "0", None, True, True),
        ((1.0, 2.0), "0", None, True, True),
        ((1.0, 2.1), "0", None, True, False),
        ((5.0, 1.0), "0", None, True, False),
        ((5.1, 1.0), "0", None, False, False),
        ((1.0, 1.0), "1", None, False, False),
        ((9.0, 9.0), "0", (1.0, 1.0), True, True),
    ],
)
def test_a_box_within_a_cord_of_the_board(
    position: Any, storey: str, moved_to: Any, beside: bool, on_board: bool
) -> None:
    box = Box(id="RT", name="R", equipment="router HE 2x2", storey=storey, position=position)
    router = thing(
        box="RT" if moved_to else "", do="move" if moved_to else "stay", storey="0", position=moved_to
    )
    chosen: Any = thing(choice=thing(router=router))
    assert (_is_beside(chosen, box, CLOSET), _on_board(chosen, box, CLOSET)) == (beside, on_board)
    assert _apart_m(chosen, box, None) == 0.0


def test_small_parts_of_the_port_map() -> None:
    links = [
        thing(a="switch", b="s1", rate_mbps=940),
        thing(a="s1", b="AP1", rate_mbps=90),
        thing(a="s1", b="x", rate_mbps=0),
    ]
    below = _below(thing(links=links))  # type: ignore[arg-type]
    assert below("switch") == ["switch", "s1", "AP1"] and below("AP1") == ["AP1"]
    rows = [Port(port=1, device="a", rate_mbps=1, panel_port=1), Port(port=2, device="b", rate_mbps=1)]
    assert _panel(rows, "0-01") == 2 and _panel(rows, "") is None
    assert [line_mbps(rate) for rate in (94.0, 95.2, 900.0, 2300.0)] == [100, 1000, 1000, 2500]
    kinds: Any = [thing(ports=8), thing(ports=16)]
    assert [_first_with(kinds, n).ports for n in (3, 8, 9, 40)] == [8, 8, 16, 16]


def point(cost: float, rooms: int, **more: Any) -> FrontPoint:
    names = tuple(f"R{n}" for n in range(rooms))
    return FrontPoint(cost=cost, rooms_served=rooms, rooms=names, sites=(), equipment=(), **more)


def test_a_point_of_the_front_is_beaten_by_a_cheaper_one_that_serves_as_many() -> None:
    front = (point(10, 1), point(20, 1), point(30, 3), point(30, 2), point(40, 2, chosen=True))
    assert [row.beaten for row in told_beaten(front)] == [False, True, False, False, False]


def rate(**more: Any) -> Any:
    given = {
        "room": "r", "name": "R", "met": False, "down_met": True, "up_met": True, "too_late": False,
        "need_mbps": 50.0, "up_need_mbps": 10.0, "median_mbps": 40.0, "up_median_mbps": 8.0,
        "served_pct": 70.0, "up_served_pct": 60.0, "delay": None, **more,
    }  # fmt: skip
    return thing(**given)


@pytest.mark.parametrize(
    ("more", "kinds"),
    [
        ({"met": True, "down_met": False}, []),
        ({"down_met": False}, ["down"]),
        ({"up_met": False, "too_late": True}, ["up", "delay"]),
        ({}, ["down"]),  # all at once is too much
        ({"need_mbps": 0.0}, ["up"]),
    ],
)
def test_what_a_room_lacks(more: dict[str, Any], kinds: list[str]) -> None:
    assert list(_lacks(rate(**more))) == kinds


class Chosen(thing):
    """As much of a choice as is told anew."""

    def model_copy(self, update: dict[str, Any]) -> Chosen:
        return Chosen(**{**self.__dict__, **update})


def test_shortfalls_as_predicted_keep_the_remedy_of_the_choice() -> None:
    def short(room: str, kind: str, **more: Any) -> Any:
        return Chosen(
            room=room, kind=kind, fix="as chosen", fix_cost=9.0, gets_mbps=1.0, need_mbps=2.0, **more
        )

    need = thing(room="r")
    choice: Any = Chosen(shortfalls=(short("r", "down"), short("r", "outlets"), short("gone", "down")))
    asking: Any = thing(needs=(need,), choices=thing(dfs=True), service=thing(up_mbps=5.0))
    after: Any = thing(rooms=(rate(down_met=False, up_met=False, too_late=True),))
    found = with_gets(asking, choice, after).shortfalls
    said = [(row.kind, row.gets_mbps, row.fix, row.fix_cost) for row in found]
    assert said[:2] == [("outlets", 1.0, "as chosen", 9.0), ("down", 0.0, "as chosen", 9.0)]
    assert said[2:4] == [("down", 40.0, "as chosen", 9.0), ("up", 8.0, "as chosen", 9.0)]
    assert said[4] == ("delay", 0.0, "Wire the device", None)
    assert found[0].says == "1 of 2 wired outlets" and "nothing could be predicted" in found[1].says
    assert "70 % of it" in found[2].says and "60 % of it" in found[3].says
    bare: Any = Chosen(shortfalls=())
    up = with_gets(asking, bare, thing(rooms=(rate(up_met=False),))).shortfalls[0]  # type: ignore[arg-type]
    assert "raise the plan" in up.fix and up.fix_cost is None
    for dfs, words, cost in ((True, "ask for less", None), (False, "choices.dfs", 0.0)):
        asking.choices.dfs = dfs
        (down,) = with_gets(asking, bare, thing(rooms=(rate(down_met=False),))).shortfalls  # type: ignore[arg-type]
        assert words in down.fix and down.fix_cost == cost


def test_the_front_without_rooms_that_fall_short() -> None:
    assert (
        _without(point(1, 3), {"R1"}).rooms == ("R0", "R2")
        and _without(point(1, 3), {"R1"}).rooms_served == 2
    )
    late, slow = thing(kind="delay", name="R0"), thing(kind="down", name="R1")
    front = (point(0, 3, nothing=True), point(10, 3), point(20, 3, chosen=True))
    choice: Any = Chosen(shortfalls=(late, slow), front=front, devices=(), set_afresh=(), words="All served.")
    before: Any = thing(rooms=(thing(name="R2", met=False), thing(name="R1", met=True)))
    found = as_it_turns_out(choice, before)
    assert [row.rooms for row in found.front] == [("R1",), ("R1", "R2"), ("R2",)]
    assert found.words == ""
