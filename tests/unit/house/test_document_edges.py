"""What a job document may hold, to the edge, and what a field means that a document leaves out."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from pydantic import ValidationError

from rehaul.errors import BadInput
from rehaul.house import (
    AcceptedOffer,
    Bell,
    Body,
    Box,
    Estimate,
    Hazard,
    Heard,
    House,
    Job,
    Learnt,
    LearntTerm,
    LineCheck,
    MeetingPoint,
    Need,
    Obligation,
    ObligationKind,
    Opening,
    Outlet,
    PlacedPlug,
    Reading,
    Room,
    Run,
    Slab,
    Splitter,
    Storey,
    Wall,
    document,
    require_whole,
)
from rehaul.house.document import field_path
from rehaul.house.job import Choices, RadioSetting, Service
from rehaul.house.line_checks import remedy_of
from rehaul.house.migration import migrate
from rehaul.house.model import RunTest
from rehaul.house.record_place import require_place

AT = (0.0, 0.0)
SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))
STOREY = Storey(id="0", name="Ground", elevation_m=0.0)
PLATE = (Outlet(id="o", storey="0"),)
HALL = Room(id="r", name="Hall", storey="0", polygon=SQUARE)


def made(model: Any, fields: dict[str, Any]) -> bool:
    try:
        model.model_validate(fields)
    except ValidationError:
        return False
    return True


@pytest.mark.parametrize(
    ("model", "field", "within", "beyond"),
    [
        (Wall, "thickness_m", (0.001, 1000.0), (0.0, 1000.1)),
        (Wall, "base_m", (0.0, 10_000.0), (-0.1, 10_000.1)),
        (Storey, "elevation_m", (-10_000.0, 10_000.0), (-10_000.1, 10_000.1)),
        (Service, "down_mbps", (0.1, 1_000_000.0), (0.0, 1_000_000.1)),
        (Reading, "value", (-130.0, 100_000.0), (-130.1, 100_000.1)),
        (Reading, "repeats", (1,), (0,)),
        (RadioSetting, "channel", (1, 253), (0, 254)),
        (Need, "probability", (0.5, 0.999), (0.49, 0.9991)),
        (Need, "wired_outlets", (0, 20), (-1, 21)),
        (Choices, "margin_pct", (0.0, 89.9), (-0.1, 90.0)),
        (Choices, "tax_pct", (0.0, 50.0), (-0.1, 50.1)),
        (Choices, "spare_ports", (0, 48), (-1, 49)),
        (Choices, "people", (1, 2), (0, 3)),
        (Heard, "channel", (1, 253), (0, 254)),
        (Heard, "power_dbm", (-110.0, 0.0), (-110.1, 0.1)),
        (Heard, "busy_pct", (0.0, 100.0), (-0.1, 100.1)),
        (LearntTerm, "houses", (1, 10**9), (0, 10**9 + 1)),
        (LearntTerm, "readings", (1, 10**9), (0, 10**9 + 1)),
        (Learnt, "houses", (0, 10**9), (-1, 10**9 + 1)),
        (Learnt, "readings", (0, 10**9), (-1, 10**9 + 1)),
        (Splitter, "ways", (1, 32), (0, 33)),
        (Splitter, "passes_mhz", (0.1, 10_000.0), (0.0, 10_000.1)),
        (MeetingPoint, "power_sockets", (0, 1000), (-1, 1001)),
        (Run, "pairs", (1, 25), (0, 26)),
        (Run, "gauge_awg", (18, 28), (17, 29)),
        (Run, "splices", (0, 50), (-1, 51)),
        (Run, "conduit_others", (0, 50), (-1, 51)),
        (RunTest, "errors", (0, 10**15), (-1, 10**15 + 1)),
        (Bell, "transformer_v", (4.0, 48.0), (3.9, 48.1)),
        (Bell, "load_va", (0.0, 100.0), (-0.1, 100.1)),
        (Bell, "needs_v", (0.0, 48.0), (-0.1, 48.1)),
        (House, "built_year", (1500, 2100), (1499, 2101)),
        (Obligation, "pairs", ((1, 25),), ((0,), (26,))),
        (PlacedPlug, "round", (1, 20), (0, 21)),
        (PlacedPlug, "ties", (((1, 8),),), (((0,),), ((9,),))),
        (PlacedPlug, "resistors", (((1, 8, 1e9),),), (((1, 9, 1.0),), ((1, 2, 0.0),), ((1, 2, 1.1e9),))),
        (AcceptedOffer, "total", (0.0, 1e9), (-0.01, 1.1e9)),
        (LineCheck, "dc_v", (0.0, 500.0), (-0.1, 500.1)),
        (LineCheck, "ac_v", (0.0, 500.0), (-0.1, 500.1)),
        (Run, "ends", (("a", "b"), ("a",) * 20), (("a",), ("a",) * 21)),
        (Room, "polygon", (SQUARE[:3],), (SQUARE[:2],)),
        (Room, "name", ("H", "H" * 80), ("", "H" * 81)),
        (Room, "id", ("a" * 32,), ("a" * 33, "", "-a", "a b")),
        (Room, "household", ("w" * 2000,), ("w" * 2001, "a\0b", "\ud800")),
    ],
)  # fmt: skip
def test_edges_of_a_field_are_inside(
    model: Any, field: str, within: tuple[Any, ...], beyond: tuple[Any, ...]
) -> None:
    given: dict[Any, dict[str, Any]] = {
        Wall: {"id": "w", "storey": "0", "start": AT, "end": (1, 0)},
        Storey: {"id": "0", "name": "Ground", "elevation_m": 0},
        Reading: {"id": "q", "quantity": "down_mbps", "value": 1},
        RadioSetting: {"band": "5"},
        Need: {"id": "n", "room": "r"},
        Heard: {"id": "h", "band": "5", "channel": 1, "power_dbm": -50},
        LearntTerm: {"term": "t", "shift_db": 0, "sd_db": 1, "houses": 1, "readings": 1},
        Splitter: {"id": "s", "name": "S", "storey": "0"},
        MeetingPoint: {"id": "m", "name": "M", "storey": "0", "position": AT},
        Run: {"id": "c", "ends": ("a", "b")},
        Bell: {"id": "b", "run": "c"},
        Obligation: {"id": "o", "kind": "fax", "run": "c"},
        PlacedPlug: {"id": "p", "outlet": "o"},
        AcceptedOffer: {
            "id": "a",
            "option": "Best",
            "total": 0,
            "currency": "EUR",
            "offer": "{}",
            "sha256": "0" * 64,
            "sign_off": {"by": "A", "date": "2026-01-01"},
        },
        LineCheck: {"id": "l", "at": "m", "what": "voltage", "dc_v": 0, "ac_v": 0},
        Room: {"id": "r", "name": "Hall", "storey": "0", "polygon": SQUARE},
    }
    whole = given.get(model, {})
    for value in within:
        assert made(model, {**whole, field: value}), value
    for value in beyond:
        assert not made(model, {**whole, field: value}), value


def test_what_a_document_leaves_out_means_the_same_as_ever() -> None:
    """Fields at their default are not written: documents that were saved rest on these."""
    wall = Wall(id="w", storey="0", start=AT, end=(1, 0))
    door = Opening(id="d", wall="w", kind="door", offset_m=1, width_m=1)  # type: ignore[arg-type]
    body = Body(id="b", storey="0", kind="bath", corner=AT, width_m=1, depth_m=1, height_m=1)  # type: ignore[arg-type]
    assert (STOREY.height_m, STOREY.floor.thickness_m, wall.base_m) == (2.4, 0.3, 0.0)
    assert (door.height_m, door.sill_m, body.base_m, body.construction) == (2.0, 0.0, 0.0, "metal-body")
    assert (HALL.lived_in, HALL.outbuilding, HALL.outside, HALL.bathroom, HALL.counts) == (
        True, False, False, False, True,
    )  # fmt: skip
    assert Outlet(id="o", storey="0").height_m == Splitter(id="s", name="S", storey="0").height_m == 0.3
    assert MeetingPoint(id="m", name="M", storey="0", position=AT).height_m == 1.2
    splitter, run = Splitter(id="s", name="S", storey="0"), Run(id="c", ends=("a", "b"))
    assert (splitter.ways, splitter.amplifier, run.conduit_others, RunTest().port_mbps) == (
        2,
        False,
        0,
        1000.0,
    )
    bell = Bell(id="b", run="c")
    assert (bell.transformer_v, bell.load_va, bell.needs_v) == (16.0, 10.0, 0.0)
    box = Box(id="b", name="B", equipment="e", storey="0", position=AT)
    assert (box.height_m, box.keep, box.radio) == (1.0, True, True)
    assert (Service().down_mbps, Service().up_mbps) == (100.0, 20.0)
    reading = Reading(id="q", quantity="down_mbps", value=1)  # type: ignore[arg-type]
    assert (reading.repeats, reading.height_m, reading.at_most, reading.wired) == (1, 1.2, False, False)
    need, heard = Need(id="n", room="r"), Heard(id="h", band="5", channel=1, power_dbm=-50)  # type: ignore[arg-type]
    assert (need.probability, need.wired_outlets, heard.width_mhz) == (0.9, 0, 20)
    choices = Choices()
    assert (choices.new_pulls, choices.move_router, choices.wireless_hops) == (True, True, True)
    assert (choices.coax_adapters, choices.swap_devices, choices.dfs, choices.whole_rooms) == (
        True, True, False, False,
    )  # fmt: skip
    assert (choices.ups_minutes, choices.margin_pct, choices.tax_pct) == (20.0, 25.0, 0.0)
    assert (choices.spare_ports, choices.people) == (2, 1)
    assert (PlacedPlug(id="p", outlet="o").round, Learnt().houses, Learnt().readings) == (1, 0, 0)
    assert Job(id="j", title="J").invented is False


def test_an_estimate_rises_and_a_check_says_enough() -> None:
    assert Estimate(middle=1, low=1, high=1).middle == 1
    for low, middle, high in ((2, 1, 3), (0, 4, 3)):
        assert not made(Estimate, {"middle": middle, "low": low, "high": high})
    check: dict[str, Any] = {"id": "l", "at": "m"}
    sign = {"by": "A", "date": "2026-01-01", "words": "tested"}
    for fields, good in [
        ({"what": "who depends", "nobody": False}, True),
        ({"what": "who depends"}, False),
        ({"what": "voltage", "dc_v": 48}, True),  # live already
        ({"what": "voltage", "dc_v": 0}, False),  # half a reading
        ({"what": "voltage", "ac_v": 90}, True),
        ({"what": "voltage", "dc_v": 0, "ac_v": 0}, True),
        ({"what": "modem sync"}, False),
        ({"what": "modem sync", "synchronises": False, "outlet": "o"}, True),
        ({"what": "modem sync", "synchronises": False, "outlet": "o", "run": "c"}, False),
        ({"what": "who depends", "nobody": True, "outlet": "o"}, False),
        ({"what": "reconnected", "sign_off": sign}, True),
        ({"what": "reconnected", "sign_off": {**sign, "words": " "}}, False),
        ({"what": "disconnected", "sign_off": {**sign, "words": ""}}, True),
        ({"what": "withdrawn"}, False),
    ]:
        assert made(LineCheck, {**check, **fields}) is good, fields


def refused(job: Job) -> str:
    try:
        require_whole(job)
    except BadInput as error:
        return str(error.where)
    return ""


def job(**house: Any) -> Job:
    more = {name: house.pop(name) for name in ("boxes", "readings", "service", "choices") if name in house}
    whole = {"storeys": (STOREY,), "rooms": (HALL,), **house}
    return Job(id="j", title="J", house=House(**whole), **more)


@pytest.mark.parametrize(
    ("whole", "where"),
    [
        (lambda: job(), ""),
        (lambda: with_plate(5.0, 4.0), ""),  # a metre outside
        (lambda: with_plate(5.01, 4.0), "house.outlets[0] (o).position"),
        (lambda: with_plate(-1.0, -1.01), "house.outlets[0] (o).position"),
        (lambda: with_wall(0.01), ""),
        (lambda: with_wall(0.009), "house.walls[0] (w).end"),
        (lambda: with_door(1.05), ""),  # 5 cm past the end
        (lambda: with_door(1.06), "house.openings[0] (d).offset_m"),
        (lambda: with_route((1.0, 1.0, 10_000.0), (1.0, 1.0, 0.0)), ""),
        (lambda: with_route((1.0, 1.0, 10_000.1), (1.0, 1.0, 0.0)), "house.runs[0] (c).route[0]"),
        (lambda: with_route((1.0, 1.0, -10_000.1), (1.0, 1.0, 0.0)), "house.runs[0] (c).route[0]"),
        (lambda: with_route((1.0, 1.0, 0.0)), "house.runs[0] (c).route"),
        (lambda: with_route((1.0, 1.0, 0.0), (5.1, 1.0, 0.0)), "house.runs[0] (c).route[1]"),
        (lambda: wide(20_000.0), ""),
        (lambda: wide(20_000.1), "house.walls[0] (w)"),
        (lambda: wide(1.0, from_m=9_999_999.0), ""),
        (lambda: wide(1.0, from_m=9_999_999.5), "house.walls[0] (w)"),
        (lambda: wide(1.0, from_m=-10_000_000.5), "house.walls[0] (w)"),
        (lambda: job(rooms=(sliver(2e-4),)), ""),
        (lambda: job(rooms=(sliver(1e-4),)), "house.rooms[0] (r).polygon"),
        (lambda: job(runs=(Run(id="c", ends=("unknown", "unknown")),)), ""),
        (lambda: job(runs=(Run(id="c", ends=("unknown", "x")),)), "house.runs[0] (c).ends"),
        (lambda: job(outlets=PLATE, runs=(Run(id="c", ends=("o", "o")),)), "house.runs[0] (c).ends"),
        (lambda: job(boxes=(set_twice("5", "2.4"),)), ""),
        (lambda: job(boxes=(set_twice("5", "5"),)), "boxes[0] (b).set_to[1].band"),
        (lambda: job(outlets=(Outlet(id="r", storey="0"),)), "house.outlets[0].id"),
        (lambda: job(service=Service(enters="o")), "service.enters"),
        (lambda: job(service=Service(run="c")), "service.run"),
        (lambda: job(choices=Choices(to_be_moved=("o",))), "choices.to_be_moved"),
        (lambda: job(hazards=(Hazard(id="h", kind="asbestos", room="x"),)), "house.hazards[0] (h).room"),
        (lambda: job(hazards=(Hazard(id="h", kind="asbestos", room="r", storey="0"),)), ""),
    ],
)  # fmt: skip
def test_rules_of_a_whole_document_to_the_edge(whole: Callable[[], Job], where: str) -> None:
    found = refused(whole())
    assert found == (f"job, {where}" if where else "")


def with_plate(x_m: float, y_m: float) -> Job:
    return job(outlets=(Outlet(id="o", storey="0", position=(x_m, y_m)),))


def with_wall(long_m: float) -> Job:
    return job(walls=(Wall(id="w", storey="0", start=AT, end=(long_m, 0.0)),))


def with_door(past_m: float) -> Job:
    wall = Wall(id="w", storey="0", start=AT, end=(2.0, 0.0))
    door = Opening(id="d", wall="w", kind="door", offset_m=past_m, width_m=1.0)  # type: ignore[arg-type]
    return job(walls=(wall,), openings=(door,))


def with_route(*route: tuple[float, float, float]) -> Job:
    return job(runs=(Run(id="c", ends=("unknown", "unknown"), route=route),))


def wide(long_m: float, from_m: float = 0.0) -> Job:
    return job(rooms=(), walls=(Wall(id="w", storey="0", start=(from_m, 0), end=(from_m + long_m, 0)),))


def sliver(area_m2: float) -> Room:
    return HALL.model_copy(update={"polygon": ((0, 0), (1, 0), (1, area_m2 * 0.999), (0, area_m2 * 0.999))})


def set_twice(one: str, other: str) -> Box:
    settings = tuple(RadioSetting(band=band) for band in (one, other))  # type: ignore[arg-type]
    return Box(id="b", name="B", equipment="e", storey="0", position=AT, set_to=settings)


def test_a_document_of_64_megabytes_is_read_and_no_larger_one(monkeypatch: pytest.MonkeyPatch) -> None:
    assert document.LARGEST_DOCUMENT_BYTES == 67_108_864
    monkeypatch.setattr(document, "LARGEST_DOCUMENT_BYTES", 8)
    assert document.data_from_text(b'{"a": 1}') == {"a": 1}
    with pytest.raises(BadInput, match="MB"):
        document.data_from_text(b'{"a": 1} ')


def test_documents_of_earlier_versions_step_up_one_by_one_and_no_further() -> None:
    steps = {n: (lambda data, n=n: {**data, "came": [*data.get("came", []), n]}) for n in (1, 2, 3, 4)}

    def came(version: object, to: int = 3) -> object:
        return migrate({"schema_version": version}, to=to, upgrades=steps)

    assert came(1) == {"schema_version": 3, "came": [1, 2]} and came(2) == {"schema_version": 3, "came": [2]}
    assert came(3) == {"schema_version": 3} and came(9) == {"schema_version": 9}
    assert came(0) == {"schema_version": 0} and came(True) == {"schema_version": True}
    assert came("1") == {"schema_version": "1"} and migrate({}) == {}
    floor = {"thickness_m": 0.2, "outline": [[0, 0], [1, 0], [1, 1]]}
    storeys = [{"id": "0", "floor": floor}, {"id": "1", "floor": {"outline": None}}, {"id": "2"}, "odd"]
    found = migrate({"schema_version": 2, "house": {"name": "H", "storeys": storeys}})
    assert found["schema_version"] == 3 and found["house"]["name"] == "H"
    assert found["house"]["storeys"] == [
        {"id": "0", "floor": {"thickness_m": 0.2, "outlines": [[[0, 0], [1, 0], [1, 1]]]}},
        {"id": "1", "floor": {"outlines": []}},
        {"id": "2"},
        "odd",
    ]
    assert migrate({"schema_version": 2, "house": 7}) == {"schema_version": 3, "house": 7}


def test_the_way_to_a_field_is_said_with_ids() -> None:
    data = {"runs": [{"id": "C1"}, {"id": 5}, 7]}
    ways = [("runs", 0, "kind"), ("runs", 1, "kind"), ("runs", 3), ("runs", 2, "x"), ("a", "b"), ()]
    assert [field_path(data, way) for way in ways] == [
        "runs[0] (C1).kind", "runs[1].kind", "runs[3]", "runs[2].x", "a.b", "document",
    ]  # fmt: skip
    assert json.dumps(data)


def test_the_record_is_kept_in_a_few_words_on_one_line() -> None:
    assert require_place(" meter cupboard ", where="w") == "meter cupboard"
    assert require_place("x" * 100, where="w") == "x" * 100 and require_place("", where="w") == ""
    for words in ("x" * 101, "two\nlines", 7):
        with pytest.raises(BadInput):
            require_place(words, where="w")


def test_people_read_what_an_obligation_is() -> None:
    assert (ObligationKind.DSL.words, ObligationKind.FAX.words) == ("DSL", "fax")
    assert ObligationKind.MONITORED_ALARM.words == "monitored alarm"


def test_what_was_found_live_at_the_point_is_measured_cable_by_cable() -> None:
    def said(**more: Any) -> str:
        return remedy_of(LineCheck.model_validate({"id": "l", "at": "m", "what": "voltage", **more}))

    whole, one, plate = (said(dc_v=48.0, **where) for where in ({}, {"run": "c"}, {"outlet": "o"}))
    assert one == plate and whole.startswith(one) and len(whole) > len(one) > 0


def test_floors_count_only_as_drawn() -> None:
    assert Slab().outlines == () and Storey(id="0", name="G", elevation_m=0).access == "unknown"
