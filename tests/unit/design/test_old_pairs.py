"""Old pairs as feeds: which may be counted on, what each takes, and what comes through a row of them."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.design.after import path_to
from rehaul.design.feeds import Feed, copper_feeds, link_id, may_switch, plug, through_switch, usable_segments
from rehaul.design.oldcables import VISIT, add_cables, is_qualified, left_norm, may_tone
from rehaul.design.routerplaces import router_places
from rehaul.design.uplink import core_of, uplinks
from rehaul.design.works import Work, Works
from rehaul.house import (
    Box,
    Choices,
    Gate,
    House,
    Job,
    LineCheck,
    MeetingPoint,
    Obligation,
    ObligationState,
    Outlet,
    Room,
    Run,
    RunTest,
    Service,
    SignOff,
    Storey,
    use_hold,
)
from rehaul.house.obligations import counts_on
from rehaul.network.cabling import run_verdicts
from rehaul.network.model import Graph, Link, Node
from rehaul.network.segments import run_segments
from rehaul.network.series import series_of
from rehaul.network.standing import port_payload_mbps

POINT = MeetingPoint(id="M1", name="Closet", storey="1", kind="closet", position=(0.5, 0.5))
PLATES = tuple(
    Outlet(id=f"1-0{n}", storey="1", position=(5.0 * n, 5.0), room="r1", mains=True) for n in (1, 2, 3)
)
ROOM = Room(id="r1", name="Hall", storey="1", polygon=((0, 0), (20, 0), (20, 6), (0, 6)))
LENGTH = {"low": 9.0, "middle": 10.0, "high": 11.0}
TESTED = RunTest(wire_map="good", link_mbps=1000.0)


def pair(name: str, *ends: str, **more: Any) -> Run:
    told = {"kind": "cat5e", "pairs": 4, "gauge_awg": 24, "state": "dead", "length_m": LENGTH, "splices": 0}
    told |= {"topology": "home run"}
    return Run(id=name, ends=ends, **{**told, **more})


def job(*runs: Run, outlets: tuple[Outlet, ...] = PLATES, **more: Any) -> Job:
    house = House(
        storeys=(Storey(id="1", name="Ground", elevation_m=0.0),),
        rooms=(ROOM,),
        outlets=outlets,
        meeting_points=(POINT,),
        runs=runs,
        **more.pop("house", {}),
    )
    return Job(id="j", title="Invented", house=house, **more)


def fed(of: Job) -> tuple[dict[str, Feed], Works]:
    works = Works(of)
    works.add(Work(VISIT))
    add_cables(of, works)
    return {feed.id: feed for feed in copper_feeds(of, works, "M1")}, works


def test_a_dead_pair_with_known_ends_is_counted_on() -> None:
    found, works = fed(job(pair("C1", "M1", "1-01")))
    assert set(found) == {"C1"} and found["C1"].from_core
    assert "live_check" in [
        task for name in works.all_of(found["C1"].works) for task in works.known[name].tasks
    ]


ALARM = Obligation(id="O1", kind="monitored alarm", run="C1")
UNUSABLE: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    "an alarm hangs on it": ({}, {"obligations": (ALARM,)}),
    "it is noted as live": ({"state": "live telephone"}, {}),
    "volts were found on it": (
        {"state": "unknown"},
        {"line_checks": (LineCheck(id="L1", at="M1", what="voltage", run="C1", dc_v=48.0),)},
    ),
    "its far end was never found": ({"ends": ("M1", "1-01", "unknown")}, {}),
    "it is no pair": ({"kind": "coax"}, {}),
    "the provider's line comes in on it": ({}, {"service": Service(medium="dsl", run="C1")}),
    "it feeds a box that stays": (
        {},
        {
            "boxes": (
                Box(id="B1", name="Box", equipment="router HE 2x2", storey="1", position=(5, 5), run="C1"),
            )
        },
    ),
    "it is damaged, and no wall may be opened": (
        {"state": "damaged"},
        {"house": {"tenure": "rented"}, "gate": Gate(landlord_agrees=False)},
    ),
}


@pytest.mark.parametrize("why", UNUSABLE)
def test_a_pair_is_not_counted_on_where(why: str) -> None:
    of_run, of_job = UNUSABLE[why]
    cable = pair("C1", *of_run.pop("ends", ("M1", "1-01")), **of_run) if of_run else pair("C1", "M1", "1-01")
    found = job(cable, **of_job)
    assert not usable_segments(found) and not fed(found)[0]


def test_what_the_household_has_moved_first_is_counted_on_and_held() -> None:
    found = job(pair("C1", "M1", "1-01"), obligations=(ALARM,), choices=Choices(to_be_moved=("O1",)))
    assert set(fed(found)[0]) == {"C1"}
    assert not may_tone(found, "C1")


def test_no_tone_goes_on_what_somebody_depends_on() -> None:
    untested = job(pair("C1", "M1", "1-01", state="unknown"))
    assert may_tone(untested, "C1")
    assert not may_tone(untested.model_copy(update={"obligations": (ALARM,)}), "C1")
    assert not may_tone(job(pair("C1", "M1", "1-01", state="alarm")), "C1")


def test_what_stays_is_tagged_taken_off_or_let_be() -> None:
    run = pair("C1", "M1", "1-01")
    assert left_norm(job(run), run) == "tag"
    assert left_norm(job(run, service=Service(medium="dsl", run="C1")), run) == ""
    assert left_norm(job(run, obligations=(ALARM,)), run) == ""
    moved = job(run, obligations=(ALARM,), choices=Choices(to_be_moved=("O1",)))
    assert left_norm(moved, run) == "disconnect"


def test_a_damaged_pair_is_mended_and_its_mending_paid() -> None:
    whole, works = fed(job(pair("C1", "M1", "1-01")))
    broken, more = fed(job(pair("C1", "M1", "1-01", state="damaged")))
    assert "mend C1" in broken["C1"].works and "mend C1" not in whole["C1"].works
    assert more.cost_all(broken["C1"].works).middle > works.cost_all(whole["C1"].works).middle


@pytest.mark.parametrize(
    ("more", "known"),
    [
        ({"tests": (TESTED,)}, True),
        ({}, False),
        ({"tests": (RunTest(link_mbps=1000.0),)}, False),
        ({"tests": (TESTED,), "state": "damaged"}, False),
    ],
    ids=["tested", "never", "no wire map", "broken since"],
)
def test_a_cable_is_qualified_first_unless_it_was_tested_whole(more: dict[str, Any], known: bool) -> None:
    run = pair("C1", "M1", "1-01", **more)
    assert is_qualified(run_segments(job(run).house, run)) is known


def test_a_joined_row_is_qualified_however_well_its_pieces_are_known() -> None:
    one, two = pair("C1", "M1", "1-01", tests=(TESTED,)), pair("C2", "1-01", "1-02", tests=(TESTED,))
    house = job(one, two).house
    assert not is_qualified((*run_segments(house, one), *run_segments(house, two)))


def chain() -> Job:
    """A slow pair to the first plate and a fast one on from there: joined, or with a small switch between."""
    return job(
        pair("C1", "M1", "1-01", kind="quad", pairs=2, tests=(RunTest(wire_map="good", link_mbps=100.0),)),
        pair("C2", "1-01", "1-02", tests=(TESTED,)),
    )


def test_behind_a_small_switch_the_slower_link_and_both_chances_count() -> None:
    found, _ = fed(chain())
    first, both = found["C1"], found["C1+C2"]
    own = both.links[1]
    assert first.line_mbps < 1000 <= own.rate_mbps / 0.9
    assert both.line_mbps == first.line_mbps
    assert both.chance == pytest.approx(first.links[0].chance * own.chance, abs=1e-3)
    assert both.shared == ((first.links[0].id, first.links[0].rate_mbps),)
    assert {"switch at 1-01", "plug C1@1-01 switch"} <= set(both.works) and not both.from_core


def test_a_row_joined_straight_through_is_no_better_than_its_worst_piece() -> None:
    found, _ = fed(chain())
    joined = found["C1-C2"]
    assert len(joined.links) == 1 and joined.links[0].pieces == ("C1", "C2")
    assert joined.line_mbps <= found["C1"].line_mbps
    assert joined.chance < min(found["C1"].chance, found["C1+C2"].links[1].chance), "a splice is a risk"


def test_a_whole_chain_that_ran_with_errors_is_not_counted_on_for_that_rate() -> None:
    """Nobody knows whether other plates threw the errors into it: joined through, it may lack what it lacked.
    What some of its pieces carry was never measured."""
    errors = RunTest(wire_map="good", link_mbps=1000.0, port_mbps=1000.0, errors=340, soak_s=600.0)
    ends = ("M1", "1-01", "1-02", "1-03")
    clean, faulty = (
        run_segments(job().house, pair("C1", *ends, kind="cat5", topology="unknown", tests=tests))
        for tests in ((), (errors,))
    )
    chances = [series_of(pieces).chance_of(1000.0) for pieces in (clean, faulty)]
    assert 0.6 > chances[1] > 0 and chances[1] <= chances[0]
    assert series_of(faulty[:2]).rates == series_of(clean[:2]).rates


def test_a_whole_chain_of_which_nobody_knows_how_it_runs_is_no_better_than_what_is_known_of_it() -> None:
    """Something may hang on it between its plates; some of its pieces, cut free, are judged by themselves."""
    ends = ("M1", "1-01", "1-02", "1-03")
    known, unknown = (
        run_segments(job().house, pair("C1", *ends, kind="cat5", topology=topology))
        for topology in ("daisy chain", "unknown")
    )
    (verdict,) = run_verdicts(job(pair("C1", *ends, kind="cat5", topology="unknown")))
    best = {row.rate_mbps: max(row.chance, row.lifted_chance) for row in verdict.ethernet}
    assert series_of(unknown).chance_of(10.0) < series_of(known).chance_of(10.0)
    assert all(likely <= best[rate] + 0.011 for rate, likely in series_of(unknown).rates)
    assert series_of(unknown[:2]).rates == series_of(known[:2]).rates


def test_a_cable_that_comes_out_at_another_household_waits_for_its_word() -> None:
    theirs = ROOM.model_copy(update={"id": "r2", "household": "Upstairs"})
    plate = PLATES[0].model_copy(update={"room": "r2"})
    house = job(pair("C1", "M1", "1-01"), pair("C2", "M1", "1-02"), outlets=(plate, *PLATES[1:]))
    house = house.model_copy(update={"house": house.house.model_copy(update={"rooms": (ROOM, theirs)})})
    assert "Upstairs" in use_hold(house, "C1") and not counts_on(house, "C1") and counts_on(house, "C2")
    asked = Obligation(id="O1", kind="other household", run="C1")
    signed = {"by": "Upstairs", "date": "2026-03-01", "words": "the pair may go"}
    agreed = asked.model_copy(
        update={"state": ObligationState.MOVED, "sign_off": SignOff.model_validate(signed)}
    )
    for obligation, free in ((asked, False), (agreed, True)):
        assert counts_on(house.model_copy(update={"obligations": (obligation,)}), "C1") is free


def test_a_small_switch_needs_mains() -> None:
    dark = tuple(plate.model_copy(update={"mains": False}) for plate in PLATES)
    of = chain()
    lit = fed(of)[0]["C1"]
    assert may_switch(of, lit)
    dim = of.model_copy(update={"house": of.house.model_copy(update={"outlets": dark})})
    assert not may_switch(dim, lit)
    assert "C1+C2" not in fed(dim)[0] and "C1-C2" in fed(dim)[0]


def test_what_hangs_on_a_small_switch_shares_the_cable_before_it() -> None:
    found, works = fed(chain())
    feed = through_switch(works, found["C1"])
    assert (found["C1"].links[-1].id, found["C1"].links[-1].rate_mbps) in feed.shared
    assert not feed.from_core and "switch at 1-01" in feed.works


def test_one_thing_alone_is_plugged_in_where_a_cable_comes_out() -> None:
    found, works = fed(chain())
    names = [plug(works, found["C1"], what) for what in ("box", "outlet", "switch", "uplink")]
    assert len({works.known[name].excludes for name in names}) == 1 and works.known[names[0]].excludes


def test_a_segment_is_put_to_one_use() -> None:
    """Ended at a plate or joined on through it: never both."""
    found, works = fed(chain())
    ends = {works.known[n].excludes for n in works.all_of(found["C1"].works)} - {""}
    through = {works.known[n].excludes for n in works.all_of(found["C1-C2"].works)} - {""}
    assert "C1@1-01" in ends & through
    assert {n for n in works.all_of(found["C1"].works) if works.known[n].excludes == "C1@1-01"}.isdisjoint(
        works.all_of(found["C1-C2"].works)
    )


def _link(name: str, a: str, b: str, rate: float, chance: float) -> Link:
    return Link(
        id=name,
        a=a,
        b=b,
        medium="twisted pair",
        low_mbps=rate,
        rate_mbps=rate,
        high_mbps=rate,
        chance=chance,
    )


def test_a_path_is_as_fast_as_its_narrowest_link_and_as_sure_as_all_of_them() -> None:
    graph = Graph(
        nodes=tuple(Node(id=n, kind="outlet", name=n) for n in ("street", "r", "s", "p")),
        links=(
            _link("line", "street", "r", 500.0, 1.0),
            _link("thin", "r", "s", 94.0, 0.9),
            _link("last", "s", "p", 941.0, 0.8),
        ),
    )
    found = path_to(graph, "p", "wired outlet", "r1")
    assert (found.rate_mbps, found.narrowest) == (94.0, "thin")
    assert found.chance == pytest.approx(0.72)
    assert [link.id for link in found.links] == ["line", "thin", "last"]


def test_an_uplink_over_an_old_cable_is_as_fast_as_the_routers_port_and_takes_the_plug() -> None:
    """A cable good for 2.5 Gb/s, a router with ports of 1 Gb/s beside its plate."""
    box = Box(
        id="B1", name="Router", equipment="router HE 2x2", storey="1", position=(5.0, 4.5), movable=False
    )
    fast = RunTest(wire_map="good", link_mbps=2500.0, port_mbps=2500.0)
    of = job(pair("C1", "M1", "1-01", kind="cat6", tests=(fast,)), boxes=(box,))
    found, works = fed(of)
    core = core_of(of, POINT, box)
    assert core is not None and found["C1"].links[0].rate_mbps > port_payload_mbps(box)
    ups = uplinks(of, works, core, box, router_places(of, works, box), tuple(found.values()))
    (old,) = (up for up in ups if any(link.run == "C1" for link in up.links))
    assert old.rate_mbps == port_payload_mbps(box) == old.links[0].rate_mbps
    taken = {works.known[name].excludes for name in old.works}
    assert works.known[plug(works, found["C1"], "box")].excludes in taken


def test_joined_cables_with_long_names_keep_apart() -> None:
    names = ("telephone-hall-west", "telephone-attic-01", "telephone-attic-02")
    runs = [Run(id=name, ends=("M1", f"O{number}")) for number, name in enumerate(names)]
    house = House(storeys=(Storey(id="1", name="Ground", elevation_m=0, height_m=2.5),))
    first, one, other = (run_segments(house, run)[0] for run in runs)
    assert link_id((first, one)) != link_id((first, other))
    assert link_id((first, one, other)) != link_id((first, other, one))
    assert max(len(link_id(row)) for row in ((first, one), (first, one, other))) <= 32
