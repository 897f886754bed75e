"""Small sums of a scope of work by hand: cords, left pieces, names, numbers kept, what a plan needs."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.facts.pulls import pull_ways
from rehaul.facts.work import prices
from rehaul.house import Gate, Hazard, House, Job, MeetingPoint, Outlet, Room, Run, Storey
from rehaul.house.job import Choices
from rehaul.network.segments import run_segments
from rehaul.takeoff import parts as counting
from rehaul.takeoff import signed
from rehaul.takeoff.labels import UNTESTED, hold_names, labels_for
from rehaul.takeoff.parts import _Tally, cuts
from rehaul.takeoff.results import Task, Timetable
from rehaul.takeoff.scope import (
    Pull,
    _crossed,
    _far_end,
    cord_length_m,
    freed_runs,
    left_pieces,
    place_name,
    storey_at,
    used_runs,
)
from rehaul.takeoff.signed import hold_sources, stands_on, timetable_now
from rehaul.takeoff.stints import stints_of
from rehaul.takeoff.timetabling import numbered_as

thing = SimpleNamespace
ROOMS = tuple(
    Room(id=f"r{n}", name=name, storey=str(n), polygon=((0, 0), (3, 0), (3, 3), (0, 3)))
    for n, name in enumerate(("Hall", "Study"))
)
CLOSET = MeetingPoint(id="M1", name="Closet", storey="0", position=(1, 1))
CHAIN = Run(id="C1", ends=("M1", "0-01", "1-01", "1-02"), kind="quad", state="dead")  # type: ignore[arg-type]
PLAIN = Run(id="C2", ends=("M1", "1-03"), kind="quad", state="dead")  # type: ignore[arg-type]


def job(*runs: Run, **more: Any) -> Job:
    house = House(
        storeys=tuple(Storey(id=str(n), name=f"Storey {n}", elevation_m=3.0 * n) for n in range(3)),
        rooms=ROOMS,
        outlets=(
            Outlet(id="0-01", storey="0", position=(1, 1), height_m=0.3),
            Outlet(id="1-01", storey="1", position=(9, 9)),
            Outlet(id="1-02", storey="1"),
            Outlet(id="1-03", storey="1", room="r1"),
        ),
        meeting_points=(CLOSET,),
        runs=runs,
        **more.pop("house", {}),
    )
    return Job(id="j", title="Invented", house=house, choices=Choices(labour_per_h=60.0), **more)


@pytest.mark.parametrize(
    ("plate", "length_m"),
    [("0-01", 7.3), ("1-02", 0.5), ("none", 0.5)],  # 3 and 4 along the walls are 5, 2 up, 0.3 more
)
def test_the_cord_goes_straight_and_up(plate: str, length_m: float) -> None:
    point: Any = thing(site=thing(id=plate, position=(4.0, 5.0), height_m=2.3))
    assert cord_length_m(job(), point) == pytest.approx(length_m)
    low: Any = thing(site=thing(id="0-01", position=(1.0, 1.0), height_m=0.0))
    assert cord_length_m(job(), low) == pytest.approx(0.6), "below the plate counts as above it"


def test_places_have_the_names_people_know() -> None:
    here = job()
    names = {"0-01": "Hall", "1-01": "Storey 1", "1-02": "Storey 1", "1-03": "Study", "M1": "Closet"}
    assert {name: place_name(here, name) for name in names} == names
    assert (place_name(here, "r1"), place_name(here, "what")) == ("Study", "what")
    assert [storey_at(here, name) for name in ("0-01", "1-03", "M1", "r1")] == ["0", "1", "0", ""]


def test_storeys_between_a_place_and_the_closet() -> None:
    assert [_crossed(job(), storey, CLOSET) for storey in ("0", "1", "2", "9")] == [0, 1, 2, 0]
    assert _crossed(job(), "2", None) == 0


def scope(*used: str, runs: tuple[Run, ...] = (CHAIN, PLAIN), **more: Any) -> Any:
    """A scope whose kept link uses those pieces of the chain."""
    here = more.pop("job", job(*runs))
    pieces = [piece for run in runs for piece in run_segments(here.house, run) if piece.id in used]
    kept = (thing(pieces=pieces),) if pieces else ()
    return thing(**{"job": here, "kept": kept, "pulls": (), "extras": (), "in_use": (), **more})


def test_pieces_of_a_used_chain_that_nothing_uses_stay() -> None:
    assert left_pieces(scope("C1.1")) == ("C1.2", "C1.3")
    assert left_pieces(scope("C1.2", "C1.3")) == ("C1.1",)
    assert (
        left_pieces(scope("C1.1", "C1.2", "C1.3")) == left_pieces(scope("C2")) == left_pieces(scope()) == ()
    )


def test_a_chain_is_followed_from_where_it_starts() -> None:
    pieces = run_segments(job(CHAIN).house, CHAIN)
    assert _far_end(tuple(pieces), "M1") == "1-02"
    assert _far_end(tuple(reversed(pieces)), "1-02") == "M1"
    assert _far_end(tuple(pieces[:2]), "M1") == "1-01"


def test_cables_a_hand_goes_on() -> None:
    extra = thing(touches=("C3",), work=thing(over=("C4",)))
    found = scope("C2", pulls=(thing(spends="C5"), thing(spends="")), extras=(extra,))
    assert used_runs(found) == {"C2", "C3", "C4", "C5"}


def test_a_line_is_freed_where_all_who_need_it_are_moved_and_nothing_uses_it() -> None:
    owed: Any = {"obligations": ({"id": "O1", "kind": "telephone", "run": "C2"},)}
    base = Job.model_validate(
        job(CHAIN, PLAIN).model_dump() | owed | {"choices": {"to_be_moved": ("O1",), "labour_per_h": 60}}
    )
    assert freed_runs(scope(job=base)) == {"C2"}
    assert freed_runs(scope("C2", job=base)) == freed_runs(scope(job=base, in_use=("C2",))) == set()
    stays = base.model_copy(update={"choices": Choices()})
    assert freed_runs(scope(job=stays)) == set()


def step(
    name: str, *needs: str, place: str = "Hall", key: str = "", minutes: float = 10.0, **more: Any
) -> Task:
    given = {"title": name, "stage": "run", "visit": 2, "storey": "0", **more}
    return Task(id=name, key=key or name, needs=needs, place=place, minutes=minutes, **given)


def test_steps_keep_the_numbers_people_know() -> None:
    times = Timetable(
        tasks=(step("T01", key="b"), step("T02", "T01", "T03", key="new"), step("T03", key="a")),
        people=1, visits=1, working_min=30, least_working_min=30, walks=0, proven=True, gap_pct=0.0,
        waiting=0,
    )  # fmt: skip
    found = numbered_as([step("T07", key="a"), step("T05", key="b")], times)
    assert [(row.id, row.key, row.needs) for row in found.tasks] == [
        ("T05", "b", ()), ("T02", "new", ("T05", "T07")), ("T07", "a", ()),
    ]  # fmt: skip
    assert found.working_min == 30


def test_stints_part_where_somebody_has_to_come_back() -> None:
    """Hall, what needs it in the Study, the Hall again: three stints; what needs nothing joins the first."""
    rows = [
        step("a", minutes=10.4), step("b", "a", place="Study"), step("c", "b"), step("d", minutes=10.4),
        step("e", "c"), step("f", "nobody", place="Study", minutes=0.2, storey="1"),
    ]  # fmt: skip
    found = stints_of(rows)
    said = [(s.place, s.storey, [t.id for t in s.tasks], s.after) for s in found]
    assert sorted(said[:2]) == [("Hall", "0", ["a", "d"], ()), ("Study", "1", ["f"], ())]
    first = next(n for n, row in enumerate(said[:2]) if row[0] == "Hall")
    assert said[2:] == [("Study", "0", ["b"], (first,)), ("Hall", "0", ["c", "e"], (2,))]
    assert sorted(s.minutes for s in found) == [1, 10, 20, 21], "20.8 is 21, and nothing takes no time"


def test_what_a_signed_plan_cannot_be_carried_out_without(monkeypatch: pytest.MonkeyPatch) -> None:
    site = thing(id="P1", room="r0", storey="0", run="C1", spends="C9")
    plan = thing(
        choice=thing(
            router=thing(box="B1"),
            access_points=(thing(site=site),),
            outlets=(thing(id="0-01", room="r1", storey="1", run=""),),
            devices=(thing(room="r2"),),
        ),
        network=thing(ports=(thing(run="C3", outlet="1-02"),)),
        graph=thing(
            links=(thing(age="old", run="C4"), thing(age="new", run="C5"), thing(age="kept", run="C6"))
        ),
    )
    monkeypatch.setattr(signed, "read_signed_plan", lambda text: plan)
    assert stands_on("this very plan") == {
        "B1", "P1", "r0", "0", "C1", "C9", "0-01", "r1", "1", "r2", "C3", "1-02", "C4",
    }  # fmt: skip


HAZARD = Hazard(id="H1", kind="asbestos", state="suspected", room="r1")  # type: ignore[arg-type]


def test_a_hold_is_kept_with_its_reason_and_ends_with_it() -> None:
    """A step beyond a room with a hazard and one after a cable in use; words of no known reason stay."""
    alarm = PLAIN.model_copy(update={"state": "live telephone"})
    here = job(alarm, house={"hazards": (HAZARD,)})
    from rehaul.takeoff.holds import hole_hold, joined, run_hold

    holds = {"a": run_hold(here, "C2"), "b": joined(hole_hold(here, "1", "r1"), "Held: not today."), "c": ""}
    assert all(holds[name] for name in "ab")
    rows = [step(name, key=f"k{name}", held=holds[name]) for name in "abc"]
    found = hold_sources(here, rows)
    assert found["ka"] == (("run", "C2", ""),)
    assert found["kb"] == (("hole", "1", "r1"), ("text", "Held: not today.", ""))
    assert set(found) == {"ka", "kb"}
    times = Timetable(
        tasks=tuple(rows), people=1, visits=1, working_min=30, least_working_min=30, walks=0, proven=True,
        gap_pct=0.0, waiting=2,
    )  # fmt: skip
    plan: Any = thing(timetable=times, holds=found)
    same = timetable_now(here, plan)
    assert [bool(row.held) for row in same.tasks] == [True, True, False] and same.working_min == 30
    dead = job(PLAIN.model_copy(update={"tests": ()}), house={"hazards": (HAZARD,)})
    free = {row.key: row.held for row in timetable_now(dead, plan).tasks}
    assert not free["ka"] and free["kb"] and [row.id for row in same.tasks] == ["a", "b", "c"]
    gone = {row.key: row.held for row in timetable_now(job(), plan).tasks}
    assert not gone["ka"] and gone["kb"] == "Held: not today.", "the cable is gone, and the hazard"


def pull(name: str, way: str, length_m: float, floors: int, outlet: str = "1-03") -> Pull:
    return Pull(name, outlet, "Study", "r1", "1", length_m, floors, pull_ways()[way])


def test_what_new_cables_take_by_hand() -> None:
    """12 m and 5 m of route, 3 m of slack at the closet and 0.3 behind each plate: 15.3 and 8.3 m.

    Seven holes through floors at six to a cartridge are two; labels are four a cable, straps two.
    """
    tally = _Tally()
    pulls = (pull("P1", "fished", 12.0, 4), pull("P2", "surface", 5.0, 3), pull("P3", "surface", 5.0, 0))
    counting._pulls(thing(pulls=pulls), tally)  # type: ignore[arg-type]
    cable = pull_ways()["fished"].cable
    assert tally.need[cable] == pytest.approx(15.3 + 2 * 8.3) and tally.because[cable] == ["P1", "P2", "P3"]
    assert (tally.need["label"], tally.need["hook_loop"]) == (12, 6)
    assert tally.need["fire_seal"] == 2 and tally.because["fire_seal"] == ["P1", "P2"]
    trunking = pull_ways()["surface"].parts_per_m
    assert trunking and tally.need[trunking] == 10.0
    less = _Tally()
    counting._pulls(thing(pulls=(pull("P1", "fished", 12.0, 6), pulls[2])), less)  # type: ignore[arg-type]
    assert less.need["fire_seal"] == 1
    none = _Tally()
    counting._pulls(thing(pulls=(pulls[2],)), none)  # type: ignore[arg-type]
    assert "fire_seal" not in none.need
    fibre = _Tally()
    counting._pulls(thing(pulls=(pull("P1", "fibre", 9.0, 0),)), fibre)  # type: ignore[arg-type]
    assert any("conv-1-03" in why and "cord-conv-1-03" in why for why in fibre.because.values())


def test_a_line_is_rounded_up_to_what_is_sold() -> None:
    """Each item of the price list: need and spare, in whole boxes, and the price of those."""
    for item, row in prices().items():
        tally = _Tally()
        tally.add(item, 0, "nobody")
        assert item not in tally.need and item not in tally.because
        tally.add(item, 3, "a", "")
        tally.add(item, 2, "b", "a")
        line = counting._line(item, tally)
        least = 5 * (1 + row.spare_pct / 100)
        assert (line.need, line.because) == (5.0, ("a", "b"))
        assert least - 1e-9 <= line.quantity < least + row.sold_in and line.quantity % row.sold_in == 0
        assert line.spare == pytest.approx(line.quantity - 5.0)
        assert line.price == pytest.approx(line.quantity * row.unit_price, abs=0.006)


def test_cords_and_cables_to_cut_by_hand() -> None:
    point = thing(
        id="AP1", name="Hall", supply=False, site=thing(id="0-01", position=(4.0, 5.0), height_m=2.3)
    )
    loose = thing(**{**point.__dict__, "id": "AP2", "supply": True})
    ports = (
        thing(port=1, panel_port=7, device="AP1", run="C2", outlet="1-03", cord_m=0.5),
        thing(port=2, panel_port=None, device="uplink", run="", outlet="", cord_m=1.0),
    )
    given: Any = thing(
        job=job(), meeting_point=CLOSET, pulls=(pull("P1", "fished", 12.04, 1),),
        access_points=(point, loose), network=thing(ports=ports, switch="S"),
    )  # fmt: skip
    rows = {row.id: row for row in cuts(given)}
    assert list(rows) == ["P1", "cord-AP1", "cord-AP2", "cord-P01", "cord-P02"]
    assert (rows["P1"].length_m, rows["P1"].from_place, rows["P1"].to_place) == (15.3, "Closet", "Study")
    assert rows["cord-AP1"].length_m == 7.3 and "0-01" in rows["cord-AP1"].from_place
    assert rows["cord-AP1"].from_place != rows["cord-AP2"].from_place == "0-01"
    assert rows["cord-P01"].because == ("AP1", "C2", "1-03") and rows["cord-P02"].because == ("uplink",)
    assert "7" in rows["cord-P01"].to_place and "Study" in rows["cord-P01"].to_place
    assert rows["cord-P02"].to_place == "uplink" and "2" in rows["cord-P02"].from_place
    own = {row.id: row for row in cuts(thing(**{**given.__dict__, "network": thing(ports=ports, switch="")}))}
    assert own["cord-P01"].from_place != rows["cord-P01"].from_place
    nowhere = cuts(thing(**{**given.__dict__, "meeting_point": None}))  # type: ignore[arg-type]
    assert nowhere[0].from_place == "closet"


def test_labels_at_both_ends_say_where_the_other_is() -> None:
    untested = Run(id="C3", ends=("M1", "0-01"), kind="quad")
    live = Run(id="C4", ends=("M1", "unknown"), kind="quad", state="live telephone")  # type: ignore[arg-type]
    here = job(PLAIN, untested, live)
    ports = (
        thing(panel_port=3, outlet="1-03", device="AP1", link="", run="C2"),
        thing(panel_port=None, outlet="", device="uplink", link="up", run=""),
        thing(panel_port=4, outlet="", device="AP2", link="P1", run=""),
    )
    network: Any = thing(ports=ports, rack=(thing(kind="switch", unit=2), thing(kind="box", unit=1)))
    choice: Any = thing(
        outlets=(thing(id="N-1", name="Study"), thing(id="1-03", name="Study")),
        access_points=(thing(id="AP1", name="Hall"),),
    )
    rows = labels_for(here, choice, network, (), (pull("P1", "fished", 5.0, 1),))
    ends = [(row.id, row.place, row.alias, row.wrap) for row in rows if row.on == "cable end"]
    assert [(name, place) for name, place, *_ in ends] == [
        ("C2", "Closet"), ("C2", "Study"), ("C3", "Closet"), ("C3", "Storey 0"),
        ("C4", "Closet"), ("P1", "Closet"), ("P1", "Study"),
    ]  # fmt: skip
    said = {(name, place): alias for name, place, alias, _ in ends}
    assert "Study" in said["C2", "Closet"] and "Closet" in said["C2", "Study"]
    assert UNTESTED in said["C3", "Closet"] and "Storey 0" in said["C3", "Closet"]
    assert "live telephone" in said["C4", "Closet"]
    assert "Study" in said["P1", "Closet"] and "Closet" in said["P1", "Study"]
    assert all(wrap for *_, wrap in ends) and not any(row.wrap for row in rows if row.on != "cable end")
    assert [row.id for row in rows if row.on == "plate"] == ["0-01", "1-01", "N-1"]
    panel = [(row.id, row.alias, row.place) for row in rows if row.on == "panel"]
    assert [(name, alias) for name, alias, _ in panel] == [("C2", "Study"), ("P1", "AP2")]
    assert "3" in panel[0][2] and "4" in panel[1][2]
    boxes = [(row.id, row.place) for row in rows if row.on == "box"]
    assert [name for name, _ in boxes] == ["AP1", "switch"] and "2" in boxes[1][1]
    bare = labels_for(here, choice, network, (), (), cabling=False)
    assert {row.on for row in bare} == {"panel", "box"}
    assert (hold_names(here, "C2"), hold_names(here, "C3"), hold_names(here, "C4")) == (
        "", UNTESTED, "live telephone",
    )  # fmt: skip
    owed = here.model_copy(update={"gate": Gate(knob_and_tube=True)})
    assert hold_names(owed, "C2") == "", "a hazard holds holes, not cables"
