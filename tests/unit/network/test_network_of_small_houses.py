"""Routers, cores, segments, faults, series and what stands, on houses of a few cables with known answers."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.house import (
    UNKNOWN,
    Box,
    Estimate,
    Grade,
    House,
    Job,
    MeetingPoint,
    Outlet,
    Run,
    Splitter,
    Storey,
)
from rehaul.house.job import Service
from rehaul.network.cabling import _sentence, facts_of, run_length, run_verdict
from rehaul.network.core import core_point, gateway, kind_of, runs_in_use
from rehaul.network.faults import fault_place
from rehaul.network.segments import place_of, run_segments
from rehaul.network.series import Series, _rank, put_right, series_of, spread_mbps
from rehaul.network.standing import feed_of, head_of, port_payload_mbps, resting_part, standing_part
from rehaul.power import loop_resistance_ohm


def run(name: str = "C1", *ends: str, **more: Any) -> Run:
    return Run.model_validate(
        {"id": name, "ends": ends or ("M1", "0-01"), "kind": "cat5", "state": "dead", **more}
    )


def box(name: str, equipment: str = "router HE 2x2", **more: Any) -> Box:
    given = {"id": name, "name": name, "equipment": equipment, "storey": "0", "position": (0, 0), **more}
    return Box.model_validate(given)


def job(*runs: Run, boxes: tuple[Box, ...] = (), points: Any = None, service: Any = None) -> Job:
    house = House(
        storeys=(
            Storey(id="0", name="Ground", elevation_m=0.0),
            Storey(id="1", name="Upper", elevation_m=3.0),
        ),
        outlets=(
            Outlet(id="0-01", storey="0", position=(4.0, 0.0), height_m=0.3),
            Outlet(id="0-02", storey="0", position=(4.0, 6.0), height_m=0.3),
            Outlet(id="1-01", storey="1", position=(4.0, 6.0), height_m=0.3),
            Outlet(id="0-09", storey="0"),
        ),
        meeting_points=points
        or (MeetingPoint(id="M1", name="Closet", storey="0", position=(0.0, 0.0), height_m=1.3),),
        splitters=(Splitter(id="S1", name="Split", storey="0", position=(1.0, 1.0), height_m=0.5),),
        runs=runs,
    )
    return Job(
        id="j",
        title="Invented",
        house=house,
        boxes=boxes,
        service=service or Service(down_mbps=300.0, up_mbps=30.0),
    )


@pytest.mark.parametrize(
    ("boxes", "modem", "routes"),
    [
        ([("M", "router HE 2x2", True), ("R", "router HE 2x2", True)], "M", "M"),
        ([("R", "router HE 2x2", True), ("M", "router HE 2x2", True)], "M", "M"),
        ([("R", "router HE 2x2", True), ("M", "router HE 2x2", False)], "M", "M"),
        ([("M", "cable modem", True), ("R", "router HE 2x2", True)], "M", "R"),
        ([("M", "cable modem", True), ("R", "router HE 2x2", False), ("S", "router wired", True)], "M", "S"),
        ([("M", "cable modem", True), ("R", "router HE 2x2", False)], "M", "R"),
        ([("M", "cable modem", True), ("A", "access point HE 2x2", True)], "M", "M"),
        ([("A", "access point HE 2x2", True)], None, None),
    ],
)
def test_which_box_routes(boxes: list[tuple[str, str, bool]], modem: str | None, routes: str | None) -> None:
    rows = tuple(box(name, kind, keep=keep) for name, kind, keep in boxes)
    found = gateway(job(boxes=rows, service=Service(modem=modem)))
    assert (found.id if found else None) == routes
    assert kind_of(box("X", "a kettle")) == ""


def test_cables_that_carry_the_network_on() -> None:
    rows = (box("A", run="C1"), box("B", run="C2", keep=False), box("C"))
    assert runs_in_use(job(boxes=rows, service=Service(run="C9"))) == {"C1", "C9"}


def point(name: str, kind: str) -> MeetingPoint:
    return MeetingPoint.model_validate(
        {"id": name, "name": name, "storey": "0", "position": (0, 0), "kind": kind}
    )


def test_the_core_is_the_closet_that_most_paired_cables_come_to() -> None:
    points = (point("D", "demarcation point"), point("P", "panel"), point("Q", "closet"))
    many = [run(f"C{n}", "D", "0-01") for n in range(3)]
    assert core_point(job(*many, points=points)).id == "P"  # type: ignore[union-attr]
    assert core_point(job(*many, run("X", "Q", "0-01"), points=points)).id == "Q"  # type: ignore[union-attr]
    coax = run("X", "Q", "0-01", kind="coax")
    assert core_point(job(coax, points=points)).id == "P", "coax does not count"  # type: ignore[union-attr]
    fibre = run("X", "Q", "0-01", kind="fibre")
    assert core_point(job(fibre, points=points)).id == "Q"  # type: ignore[union-attr]
    plain = (point("D", "demarcation point"), point("E", "demarcation point"))
    assert core_point(job(run("X", "E", "0-01"), points=plain)).id == "E"  # type: ignore[union-attr]
    bare = job().model_copy(update={"house": job().house.model_copy(update={"meeting_points": ()})})
    assert core_point(bare) is None


def test_where_ends_are() -> None:
    house = job().house
    assert place_of(house, "M1") == (0.0, 0.0, 1.3) and place_of(house, "1-01") == (4.0, 6.0, 3.3)
    assert place_of(house, "S1") == (1.0, 1.0, 0.5)
    assert place_of(house, "0-09") is place_of(house, UNKNOWN) is place_of(house, "zz") is None


def test_a_chain_s_length_is_shared_out_by_where_its_ends_are() -> None:
    """M1 to 0-01: 4 across and 1 down, 5 m; on to 0-02: 6 m; up to 1-01: 3 m. Of 28 m: 10, 12 and 6."""
    measured = Estimate(low=14.0, middle=28.0, high=42.0, grade=Grade.MEASURED)
    chain = run("C1", "M1", "0-01", "0-02", "1-01", length_m=measured)
    found = run_segments(job(chain).house, chain)
    assert [(piece.id, piece.a, piece.b) for piece in found] == [
        ("C1.1", "M1", "0-01"), ("C1.2", "0-01", "0-02"), ("C1.3", "0-02", "1-01"),
    ]  # fmt: skip
    assert [piece.length.middle for piece in found] == [10.0, 12.0, 6.0]
    assert [piece.length.high for piece in found] == [15.0, 18.0, 9.0]
    assert {piece.length.grade for piece in found} == {Grade.INFERRED}, "the pieces were not measured"
    assert found[1].other("0-01") == "0-02" and found[1].other("0-02") == "0-01" and found[0].is_piece
    lost = run("C2", "M1", "0-01", "0-09", length_m=measured)
    assert [piece.length.middle for piece in run_segments(job(lost).house, lost)] == [14.0, 14.0], (
        "as the known"
    )
    whole = run("C3", length_m=measured)
    (piece,) = run_segments(job(whole).house, whole)
    assert (piece.id, piece.length, piece.is_piece, piece.is_paired) == ("C3", measured, False, True)


def test_a_length_that_nobody_noted_is_judged_from_the_ends() -> None:
    """5 m as the ends lie; the fact table's detours and slack make low, middle and high of it."""
    from rehaul.facts.prediction import prediction_number as number

    house = job().house
    found = run_length(house, run("C1"))
    wanted = [round(5.0 * number(f"detour_{end}") + number("slack"), 1) for end in ("low", "middle", "high")]
    assert [found.low, found.middle, found.high] == wanted and found.grade is Grade.INFERRED
    unknown = run_length(house, run("C1", "M1", UNKNOWN))
    assert [unknown.low, unknown.middle, unknown.high] == [
        number(f"drop_{e}") for e in ("low", "middle", "high")
    ]
    assert unknown.grade is Grade.UNKNOWN


def test_the_latest_of_each_test_counts() -> None:
    tests = (
        {"wire_map": "good", "link_mbps": 100, "port_mbps": 1000, "errors": 5, "loop_ohm": 3.0},
        {"wire_map": "split pair", "link_mbps": 1000, "port_mbps": 100, "errors": 0, "loop_ohm": 2.0},
        {"port_mbps": 10000},
    )
    estimate = Estimate(low=9, middle=10, high=11)
    facts = facts_of(run(tests=tests), estimate)
    assert (
        facts.wire_map_ok is False and facts.link_mbps == 1000 and facts.errors == 0 and facts.loop_ohm == 2.0
    )
    assert facts.tried_mbps == 1000, "the fastest port that a link came up on"
    assert facts.length_m == (9, 10, 11) and facts.category == "cat5"
    bare = facts_of(run(), estimate)
    assert bare.wire_map_ok is bare.link_mbps is bare.errors is bare.tried_mbps is None
    assert facts_of(run(kind="coax"), estimate).category == UNKNOWN


def test_where_a_short_is_from_both_ends_by_hand() -> None:
    """20 m of 24 AWG: with rho a metre, 8 m and 12 m and 1 ohm of contact read 8 rho + 1 and 12 rho + 1."""
    per_m = loop_resistance_ohm(1.0, 24)
    sure = Estimate(low=20.0, middle=20.0, high=20.0)

    def read(first: float, second: float | None, **more: Any) -> Any:
        tests = [{"from_end": "M1", "fault_ohm": first}]
        tests += [{"from_end": "0-01", "fault_ohm": second}] if second is not None else []
        return fault_place(run(gauge_awg=24, tests=tests, **more))

    found = read(8 * per_m + 1.0, 12 * per_m + 1.0, length_m=sure)
    assert found.from_end == "M1" and found.other_end == "0-01"
    assert found.distance_m[1] == pytest.approx(8.0) and found.other_distance_m[1] == pytest.approx(12.0)
    assert found.contact_ohm == pytest.approx(1.0)
    spread = found.distance_m[1] - found.distance_m[0]
    assert spread == pytest.approx(found.distance_m[2] - found.distance_m[1]) and 0.5 <= spread < 1.0
    assert found.words.startswith("8.0 m (") and "12.0 m (" in found.words
    rough = read(8 * per_m, 12 * per_m, length_m=Estimate(low=14.0, middle=20.0, high=26.0))
    assert rough.distance_m[1] - rough.distance_m[0] > 2.9, "half of half the length's range"
    assert rough.contact_ohm == pytest.approx(0.0, abs=1e-9)
    beyond = read(60 * per_m, 1 * per_m, length_m=sure)
    assert beyond.distance_m[1] == 20.0 and beyond.other_distance_m[1] == 0.0
    one = read(8 * per_m, None, length_m=sure)
    assert one.other_end == "" and one.distance_m[0] < 8.0 < one.distance_m[2] <= 20.0
    apart = read(8 * per_m, 12 * per_m)
    assert apart.distance_m[1] < apart.other_distance_m[1] and apart.contact_ohm == 0.0
    assert fault_place(run()) is None


def test_a_run_is_put_right() -> None:
    mended = put_right(run(state="damaged", topology="daisy chain", tests=[{"link_mbps": 100}]))
    assert (mended.state.value, mended.topology.value, mended.tests) == ("dead", "home run", ())
    freed = put_right(run(state="alarm", tests=[{"link_mbps": 100}]))
    assert freed.state.value == "dead" and len(freed.tests) == 1
    assert put_right(run(state="unknown")).state.value == "unknown"


def test_chances_bound_a_series() -> None:
    series = Series(((100.0, 0.99), (1000.0, 0.8), (2500.0, 0.05), (10000.0, 0.01)), 4, 20.0)
    assert series.rate_mbps() == 1000.0 and series.rate_mbps(0.95) == 100.0 and series.rate_mbps(0.999) == 0.0
    assert (
        series.chance_of(1000.0) == 0.8
        and series.chance_of(1001.0) == 0.05
        and series.chance_of(20000.0) == 0.0
    )
    assert spread_mbps(series, 0.9) == (90.0, 900.0, 2250.0)
    assert _rank(UNKNOWN) == 0.5 and _rank("cat5") < _rank("cat6")


def test_a_joined_chain_is_no_surer_than_its_pieces_and_as_long_as_both() -> None:
    sure = Estimate(low=20.0, middle=20.0, high=20.0, grade=Grade.MEASURED)
    chain = run(
        "C1", "M1", "0-01", "0-02", length_m=sure, topology="home run", pairs=4, gauge_awg=24, splices=0
    )
    pieces = run_segments(job(chain).house, chain)
    both, first = series_of(pieces), series_of(pieces[:1])
    assert both.length_m == pytest.approx(20.0, abs=0.11) and first.length_m == pieces[0].length.middle
    for rate, likely in both.rates:
        assert likely <= first.chance_of(rate) + 1e-9
    assert 0.5 < both.chance_of(100.0) < first.chance_of(100.0), "a joint may go wrong"
    two = run("C2", "M1", "0-01", "0-02", length_m=sure, pairs=2, topology="home run")
    assert series_of(run_segments(job(two).house, two)).rate_mbps() <= 100.0, "two pairs"


def test_what_a_box_hangs_on() -> None:
    router, wired = box("R"), box("A", "access point HE 2x2", fed_by="run", run="C1")
    air, cord = (
        box("B", "access point HE 2x2", fed_by="wireless"),
        box("C", "access point HE 2x2", fed_by="cord"),
    )
    short = Estimate(low=9.0, middle=10.0, high=11.0, grade=Grade.MEASURED)
    cable = run(
        "C1",
        length_m=short,
        pairs=4,
        topology="home run",
        tests=[{"wire_map": "good", "link_mbps": 1000, "port_mbps": 1000}],
    )
    house = job(cable, boxes=(router, wired, air, cord), service=Service(down_mbps=300.0, up_mbps=30.0))
    by_box = {one.id: feed_of(house, one) for one in house.boxes}
    assert by_box["R"] is None
    old, hop, plain = by_box["A"], by_box["B"], by_box["C"]
    assert old is not None and hop is not None and plain is not None
    assert (old.id, old.medium, old.run, old.a) == ("C1", "twisted pair", "C1", "R")
    assert 900 < old.rate_mbps <= port_payload_mbps(wired)
    assert (hop.medium, hop.rate_mbps, hop.shares) == ("wireless hop", 0.0, "air of R")
    assert (plain.id, plain.medium) == (
        "cord-C",
        "cord",
    ) and plain.low_mbps == plain.rate_mbps == port_payload_mbps(cord)
    assert 900 < port_payload_mbps(box("X", "a kettle")) < 1000


def test_the_graph_of_what_stands() -> None:
    modem, router, point = box("M", "cable modem"), box("R"), box("A", "access point HE 2x2", fed_by="cord")
    house = job(boxes=(modem, router, point), service=Service(down_mbps=300.0, up_mbps=30.0, modem="M"))
    found = standing_part(house, {"M", "R", "A"})
    assert [(link.a, link.b) for link in found.links] == [("street", "M"), ("M", "R"), ("R", "A")]
    line = found.links[0]
    assert (line.rate_mbps, line.up_mbps, line.medium) == (300.0, 30.0, "provider's line")
    assert {node.id: node.kind for node in found.nodes} == {
        "street": "street", "M": "modem", "R": "router", "A": "access point",
    }  # fmt: skip
    gone = standing_part(house, {"M", "A"})
    assert [(link.a, link.b, link.age) for link in gone.links] == [
        ("street", "M", "kept"), ("M", "new-router", "new"), ("new-router", "A", "kept"),
    ]  # fmt: skip
    assert head_of(house, {"M", "A"}) == "new-router" and head_of(job(), set()) == "line-end"
    both = job(boxes=(box("R"), point), service=Service(modem="R"))
    assert [(link.a, link.b) for link in standing_part(both, {"R", "A"}).links] == [
        ("street", "R"),
        ("R", "A"),
    ]


def test_what_carries_nothing_stays_on_the_graph_piece_by_piece() -> None:
    chain, spare, coax = run("C1", "M1", "0-01", "0-02"), run("C2", "M1", UNKNOWN), run("C3", kind="coax")
    house = job(chain, spare, coax)
    none = resting_part(house, set())
    assert [(link.id, link.a, link.b, link.pieces) for link in none.links] == [
        ("C1", "M1", "0-02", ()), ("C2", "M1", UNKNOWN, ()), ("C3", "M1", "0-01", ()),
    ]  # fmt: skip
    assert none.links[2].medium == "coax" and UNKNOWN in {node.id for node in none.nodes}
    part = resting_part(house, {"C1.1", "C3"})
    assert [(link.id, link.a, link.b, link.pieces) for link in part.links] == [
        ("C1.2", "0-01", "0-02", ("C1.2",)), ("C2", "M1", UNKNOWN, ()),
    ]  # fmt: skip
    assert UNKNOWN not in {node.id for node in resting_part(job(chain), set()).nodes}


@pytest.mark.parametrize(
    ("equipment", "of_the_service", "kind"),
    [
        ("dsl modem", True, "modem"),
        ("dsl modem", False, "modem"),  # one that stands by
        ("a kettle", True, "modem"),  # what the line ends in, whatever it is
        ("a kettle", False, "access point"),
        ("switch 8 PoE 60", False, "switch"),
    ],
)
def test_what_a_box_is_on_the_graph(equipment: str, of_the_service: bool, kind: str) -> None:
    house = job(boxes=(box("R"), box("X", equipment)), service=Service(modem="X" if of_the_service else None))
    assert {node.id: node.kind for node in standing_part(house, {"R", "X"}).nodes}["X"] == kind


def test_the_hope_of_a_cable_is_the_fastest_that_may_be_tried() -> None:
    """Nothing is likely: what is out of reach is no hope, however fast."""

    def verdict(name: str, rate_mbps: float, band: str) -> Any:
        return SimpleNamespace(ethernet=name, rate_mbps=rate_mbps, band=band, reason=f"{name} it is")

    slow, fast, never = (
        verdict("100BASE-TX", 100, "try it"), verdict("1000BASE-T", 1000, "try it"),
        verdict("10GBASE-T", 10000, "no"),
    )  # fmt: skip
    said = _sentence(run(), (slow, fast, never), 0.0, True)
    assert "1000BASE-T it is" in said and "10GBASE-T" not in said
    likely = verdict("10BASE-T", 10, "likely")
    assert "10BASE-T it is" in _sentence(run(), (likely, fast, never), 0.0, True)
    assert "10GBASE-T it is" in _sentence(run(), (never, verdict("10BASE-T", 10, "no")), 0.0, True)


def test_what_stands_claims_no_power_no_length_and_no_shared_medium_that_nobody_found() -> None:
    house = job(
        run("C1"), run("C2", kind="coax"), boxes=(box("M", "modem"), box("R")), service=Service(modem="M")
    )
    links = (*standing_part(house, {"M", "R"}).links, *resting_part(house, set()).links)
    assert {link.id for link in links} >= {"cord-R", "C1", "C2"}
    for link in links:
        assert (link.poe_class, link.length_m, link.shares, link.chance) == (0, 0.0, "", 1.0), link.id


def test_a_verdict_on_a_cable_of_which_nobody_knows_anything_is_no_more_than_a_try() -> None:
    blind = run("C1", kind="unknown", state="unknown")
    found = run_verdict(job(blind), blind)
    assert not found.usable and {row.band for row in found.ethernet} <= {"no", "try it"}
    coax = run_verdict(job(run(kind="coax")), run(kind="coax"))
    assert coax.ethernet == coax.power == () and "carries no Ethernet" in coax.sentence
    lost = run_verdict(job(run("C1", "M1", UNKNOWN)), run("C1", "M1", UNKNOWN))
    assert not lost.usable and "far end was never found" in lost.sentence
    good = run(
        pairs=4,
        topology="home run",
        tests=[{"wire_map": "good", "link_mbps": 1000, "port_mbps": 1000, "errors": 0}],
    )
    well = run_verdict(job(good), good)
    assert (
        well.usable and well.likely_mbps >= 1000 and well.hoped_mbps >= well.likely_mbps and not well.held_by
    )


def test_half_a_reading_places_no_fault() -> None:
    """A reading has an end it was taken from and a resistance: one without the other is none."""
    assert fault_place(run(gauge_awg=24, tests=[{"from_end": "M1"}])) is None
    assert fault_place(run(gauge_awg=24, tests=[{"fault_ohm": 2.0}])) is None


def test_a_cable_counts_for_the_most_power_that_is_likely_over_it(monkeypatch: pytest.MonkeyPatch) -> None:
    classes = (SimpleNamespace(poe_class=3, band="likely"), SimpleNamespace(poe_class=4, band="likely"))
    more = (SimpleNamespace(poe_class=6, band="try it"), SimpleNamespace(poe_class=8, band="no"))
    of = run()
    for power, most in (((*classes, *more), 4), (more, 0), ((), 0)):
        monkeypatch.setattr("rehaul.network.cabling._power", lambda *_, power=power: power)
        monkeypatch.setattr("rehaul.network.cabling.RunVerdict", lambda **told: told)
        told: Any = run_verdict(job(of), of)
        assert told["poe_class"] == most


@pytest.mark.parametrize(
    ("kind", "medium"),
    [("coax", "coax"), ("fibre", "fibre"), ("cat5e", "twisted pair"), ("unknown", "twisted pair")],
)
def test_what_a_resting_cable_is_made_of(kind: str, medium: str) -> None:
    (link,) = resting_part(job(run("C1", kind=kind)), set()).links
    assert link.medium == medium
