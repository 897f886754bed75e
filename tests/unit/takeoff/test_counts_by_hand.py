"""How many of each part a job takes, counted by hand; what holds a cable; the gap of a timetable."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.errors import BadInput
from rehaul.house import House, Job, MeetingPoint, Obligation, Outlet, Run, RunState, Storey
from rehaul.takeoff import parts as counting
from rehaul.takeoff import timetabling
from rehaul.takeoff.crew import Roster
from rehaul.takeoff.labels import hold_names
from rehaul.takeoff.parts import _Tally, parts
from rehaul.takeoff.results import PartLine, Task

thing: Any = SimpleNamespace


def job(*runs: Run, **more: Any) -> Job:
    house = House(
        storeys=(Storey(id="0", name="Ground", elevation_m=0.0),),
        outlets=(Outlet(id="0-01", storey="0", position=(1, 1), height_m=0.3),),
        meeting_points=(MeetingPoint(id="M1", name="Closet", storey="0", position=(1, 1)),),
        runs=runs,
    )
    return Job(id="j", title="Invented", house=house, **more)


def scope(**more: Any) -> Any:
    """Nothing to do, but for what is given."""
    nothing = {
        "job": job(), "access_points": (), "network": thing(rack=(), ports=()), "graph": thing(nodes=()),
        "choice": thing(outlets=(), devices=()), "kept": (), "pulls": (), "extras": (), "cabling": False,
        "in_use": (),
    }  # fmt: skip
    return thing(**(nothing | more))


def counted(whole: Any) -> dict[str, tuple[float, tuple[str, ...]]]:
    """How many are needed of each part, and what for."""
    return {line.item: (line.need, line.because) for line in parts(whole)}


def test_an_access_point_on_screws_and_one_that_stands() -> None:
    """Each is one box with one cord, here right beside its plate: 0.3 m more are a cord of half a metre."""
    place = {"id": "0-01", "position": (1.0, 1.0), "height_m": 0.3}
    fixed = thing(
        id="AP1", equipment="access point HE 2x2", supply=False, site=thing(fixing="screws", **place)
    )
    stood = thing(
        id="AP2", equipment="access point HE 2x2", supply=True, site=thing(fixing="stands", **place)
    )
    assert counted(scope(access_points=(fixed, stood))) == {
        "access point HE 2x2": (2, ("AP1", "AP2")),
        "screw_anchor": (4, ("AP1",)),
        "cord_050": (2, ("AP1", "AP2")),
        "mains_supply": (1, ("AP2",)),
    }


def test_what_is_new_in_the_rack_is_bought_once() -> None:
    rack = (
        thing(new=True, equipment="switch 8 PoE 60", name="S1", kind="switch"),
        thing(new=True, equipment="panel 12", name="P1", kind="panel"),
        thing(new=False, equipment="router", name="B1", kind="box"),
    )
    assert counted(scope(network=thing(rack=rack, ports=()))) == {
        "switch 8 PoE 60": (1, ("S1", "switch")),
        "panel 12": (1, ("P1",)),
    }


def test_a_cord_for_every_port_and_an_injector_where_one_is_said() -> None:
    """The cord is named after its port; what it is of the graph is named where it is a cord or the uplink."""
    ports = (
        thing(port=1, device="AP1", link="C1", cord_m=0.5, injector=True),
        thing(port=2, device="PC", link="cord-9", cord_m=0.5, injector=False),
        thing(port=3, device="router", link="uplink", cord_m=1.0, injector=False),
    )
    assert counted(scope(network=thing(rack=(), ports=ports))) == {
        "cord_050": (2, ("AP1", "cord-P01", "PC", "cord-P02", "cord-9")),
        "injector": (1, ("AP1",)),
        "cord_100": (1, ("router", "cord-P03", "uplink")),
    }


def test_a_small_switch_comes_with_one_cord_and_names_the_outlets_at_its_ports() -> None:
    nodes = (thing(id="sw-1"), thing(id="M1"))
    links = (thing(a="sw-1", b="N-1"), thing(a="sw-1", b="PC"), thing(a="M1", b="N-2"))
    outlets = (thing(id="N-1"), thing(id="N-2"))
    found = scope(graph=thing(nodes=nodes, links=links), choice=thing(outlets=outlets, devices=()))
    assert counted(found) == {"switch_small": (1, ("sw-1", "N-1")), "cord_025": (1, ("sw-1",))}


def test_other_work_and_a_device_s_adapter_bring_their_own_parts() -> None:
    extra = thing(about=("X1",), work=thing(id="W1", parts=(("coax_cap", 3.0), ("entry_filter", 1.0))))
    device = thing(item="radio_adapter", id="D1", room="r1")
    assert counted(scope(extras=(extra,), choice=thing(outlets=(), devices=(device,)))) == {
        "coax_cap": (3, ("X1", "W1")),
        "entry_filter": (1, ("X1", "W1")),
        "radio_adapter": (1, ("D1", "r1")),
    }


def test_an_old_pair_gets_two_jacks_a_plate_and_a_box_wherever_it_is_joined_or_mended() -> None:
    """Two joins and one damaged cable are three boxes; four labels and two straps a link."""
    kept = thing(
        link=thing(id="L1"), plate="0-01", joins=("J1", "J2"),
        runs=(thing(id="C1", state=RunState.DAMAGED), thing(id="C2", state=RunState.DEAD)),
    )  # fmt: skip
    tally = _Tally()
    counting._terminations(scope(kept=(kept,)), tally)
    assert tally.need == {"jack": 2, "plate": 1, "label": 4, "hook_loop": 2, "joint_box": 3}
    assert tally.because["plate"] == ["0-01", "L1"] and tally.because["joint_box"] == ["L1", "J1", "J2", "C1"]


def test_a_cable_that_stays_is_tagged_at_both_ends_and_a_piece_of_one_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Not what is used, nor what carries something; of two pieces of one cable the cable is named once."""
    runs = [
        Run.model_validate({"id": name, "ends": ("M1", "0-01"), "kind": "quad", "state": "dead"})
        for name in ("C1", "C2", "C3")
    ]
    monkeypatch.setattr(counting, "used_runs", lambda scope: {"C2"})
    monkeypatch.setattr(counting, "left_pieces", lambda scope: ("C2.1", "C2.3"))
    monkeypatch.setattr(counting, "left_norm", lambda job, run: "tag")
    tally = _Tally()
    counting._left(scope(job=job(*runs), in_use=("C3",)), tally)
    assert tally.need == {"tag": 4} and tally.because["tag"] == ["C1", "C2", "C2.1", "C2.3"]


def test_a_label_names_who_is_owed_and_leaves_out_what_has_no_name() -> None:
    """The cable is live, which is a reason without a name; the two who depend on it have one each."""
    live = Run.model_validate({"id": "C1", "ends": ("M1", "0-01"), "kind": "quad", "state": "live telephone"})
    owed = tuple(Obligation.model_validate({"id": f"O{n}", "kind": "fax", "run": "C1"}) for n in (1, 2))
    assert hold_names(job(live), "C1") == "live telephone"
    assert hold_names(job(live, obligations=owed), "C1") == "O1 O2"


def test_the_gap_of_a_timetable_is_told_to_a_tenth_over_both_phases(monkeypatch: pytest.MonkeyPatch) -> None:
    """The survey takes 40 minutes for sure, the rest 80 where 79 may do: 1 of 120 is 0.83 per cent."""
    found = iter((Roster((0,), (1,), 40, 1, 40, True), Roster((0,), (1,), 80, 2, 79, False)))
    monkeypatch.setattr(timetabling, "roster", lambda *_, **__: next(found))
    monkeypatch.setattr(timetabling, "ThreadPoolExecutor", InOrder)
    rows = [
        Task.model_validate({"id": name, "key": name, "title": name, "stage": stage, "visit": 1,
                             "storey": "0", "place": "Hall", "minutes": 10.0, "needs": ()})
        for name, stage in (("T01", "trace"), ("T02", "run"))
    ]  # fmt: skip
    said = timetabling.timetable(job(), rows, people=1)
    assert (said.working_min, said.least_working_min, said.walks) == (120, 119, 3)
    assert said.gap_pct == 0.8 and not said.proven


class InOrder:
    """Stands for the threads: one after the other."""

    def __enter__(self) -> Any:
        return thing(map=map)

    def __exit__(self, *_: object) -> None:
        pass


def test_a_cable_that_somebody_is_still_owed_gets_no_tag_and_none_where_no_cable_is_touched() -> None:
    """Both are dead pairs that nothing uses; the fax on the second has not been moved."""
    runs = [
        Run.model_validate({"id": name, "ends": ("M1", "0-01"), "kind": "quad", "state": "dead"})
        for name in ("C1", "C2")
    ]
    owed = (Obligation.model_validate({"id": "O1", "kind": "fax", "run": "C2"}),)
    house = job(*runs, obligations=owed)
    assert counted(scope(job=house, cabling=True)) == {"tag": (2, ("C1",))}
    assert counted(scope(job=house)) == {}


def test_a_cable_in_the_wall_takes_no_trunking_and_no_converters() -> None:
    """Its parts are bought for the cable alone; a fibre's for its converter and cord too."""
    way = thing(cable="cable_cat6", parts_per_m="", way="fished", parts="jack plate")
    fibre = thing(cable="cable_fibre", parts_per_m="duct", way="fibre", parts="fibre_kit")
    pulls = tuple(
        thing(id=name, way=how, length_m=4.0, outlet=f"{name}-1", floors_crossed=0)
        for name, how in (("P1", way), ("P2", fibre))
    )
    tally = _Tally()
    counting._pulls(scope(pulls=pulls), tally)
    assert set(tally.need) == {
        "cable_cat6", "jack", "plate", "label", "hook_loop", "cable_fibre", "duct", "fibre_kit",
    }  # fmt: skip
    assert tally.need["jack"] == tally.need["plate"] == tally.need["fibre_kit"] == 1
    assert tally.need["duct"] == 4.0 and tally.because["duct"] == ["P2"]
    assert tally.because["jack"] == ["P1"]
    assert tally.because["fibre_kit"] == ["P2", "conv-P2-1", "cord-conv-P2-1"]


def line(item: str, need: float) -> PartLine:
    tally = _Tally()
    tally.add(item, need, "a")
    return counting._line(item, tally)


def test_spares_of_what_is_lost_and_none_of_boxes() -> None:
    """A tenth of 101 plates is 10.1, so 112 at 2.80 are 313.60; a box is bought as often as it is needed."""
    plates = line("plate", 101)
    assert (plates.quantity, plates.spare, plates.price) == (112, 11, 313.6)
    boxes = line("switch 8 PoE 60", 3)
    assert (boxes.quantity, boxes.spare, boxes.unit) == (3, 0, "each")
    assert boxes.price == 3 * boxes.unit_price > 0
    assert line("trunking", 2.3449).need == 2.34
    with pytest.raises(BadInput):
        line("nothing that is sold", 1)


def test_tools_are_those_of_the_work_that_is_done() -> None:
    found = counting.tools((thing(norm="test"), thing(norm="jack")))
    assert found and {row.because[0] for row in found} <= {"test", "jack"}
    assert counting.tools(()) == ()
