"""Boxes put onto a storey, and the meter's streams: parts of the server alone."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.errors import BadInput
from rehaul.house import Job, Storey
from rehaul.house.model import House
from rehaul.predict import Radiator
from rehaul.web import meter as metering
from rehaul.web.answers import Absent, Busy
from rehaul.web.fields import Move, Stand, _moved, _standing
from rehaul.web.meter import Meter, Transfer

HOUSE = House(
    storeys=(
        Storey(id="0", name="Ground", elevation_m=0.0, height_m=2.5),
        Storey(id="1", name="Upper", elevation_m=3.0, height_m=2.5),
    )
)
TWO_STOREYS = Job(id="j", title="Invented", house=HOUSE)


@pytest.mark.parametrize(
    ("height_m", "mounting"), [(2.2, "ceiling"), (2.5, "ceiling"), (2.15, "desk"), (0.8, "desk")]
)
def test_a_box_within_thirty_centimetres_of_the_ceiling_hangs_there(height_m: float, mounting: str) -> None:
    stand = Stand.model_validate(
        {"id": "N1", "equipment": "router HE 2x2", "storey": "1", "position": (3, 4), "height_m": height_m,
         "wire_mbps": 90}
    )  # fmt: skip
    box = _standing(TWO_STOREYS, stand)
    assert (box.mounting, box.position_m) == (mounting, (3, 4, 3.0 + height_m))
    assert box.wire[-1].rate_mbps == 90


def box_at(z: float) -> Radiator:
    return Radiator("AP1", "Hall", "access point HE 2x2", (6.0, 2.0, z), "ceiling")


@pytest.mark.parametrize(
    ("z", "move", "ends"),
    [
        (2.4, {"position": (1, 1)}, (1, 1, 2.4)),  # where it hung
        (2.4, {"height_m": 0.5}, (6, 2, 0.5)),
        (5.4, {"height_m": 0.5}, (6, 2, 3.5)),  # on its own storey
        (3.0, {"height_m": 0.5}, (6, 2, 3.5)),  # on the floor itself
        (2.4, {"storey": "1"}, (6, 2, 4.0)),  # a metre up, where nobody says
        (2.4, {"storey": "1", "height_m": 2.0, "position": (1, 1)}, (1, 1, 5.0)),
    ],
)
def test_a_moved_box_is_as_high_as_it_is_said(
    z: float, move: dict[str, Any], ends: tuple[float, ...]
) -> None:
    found = _moved(TWO_STOREYS, box_at(z), (Move.model_validate({"id": "AP1", **move}),))
    assert found.position_m == pytest.approx(ends)
    other = Move.model_validate({"id": "AP2", **move})
    assert _moved(TWO_STOREYS, box_at(z), (other,)).position_m == (6, 2, z), "another box"


def test_a_box_on_no_storey_is_refused() -> None:
    with pytest.raises(BadInput, match="no storey '9'"):
        _moved(TWO_STOREYS, box_at(1.0), (Move.model_validate({"id": "AP1", "storey": "9"}),))


def test_sixteen_streams_at_once_and_no_more_and_each_that_ends_makes_room() -> None:
    run = Meter().new("D1")
    open_streams = [run.stream(run.down) for _ in range(16)]
    for stream in open_streams:
        stream.__enter__()
    with pytest.raises(Busy, match="more than 16 streams"), run.stream(run.up):
        pass
    open_streams[0].__exit__(None, None, None)
    with run.stream(run.up):
        assert run.streams == 16
    for stream in open_streams[1:]:
        stream.__exit__(None, None, None)
    assert run.streams == 0


def test_four_devices_at_once_each_its_own_run_for_a_minute(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [1000.0]
    monkeypatch.setattr(metering.time, "monotonic", lambda: now[0])
    meter = Meter()
    runs = [meter.new(f"D{number}") for number in range(4)]
    with pytest.raises(Busy, match="others are measuring"):
        meter.new("D9")
    again = meter.new("D0")
    assert meter.run(again.id, "D0") is again
    for gone, device in ((runs[0].id, "D0"), (runs[1].id, "D2"), ("x", "D1")):
        with pytest.raises(Absent):
            meter.run(gone, device)
    now[0] += 60.0
    assert meter.run(again.id, "D0") is again
    now[0] += 0.1
    with pytest.raises(Absent):
        meter.run(again.id, "D0")
    assert meter.new("D9").device == "D9", "runs that are over make room"


def test_a_span_reaches_from_the_first_byte_of_any_stream_to_the_last(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    clock = [(10.0, 1.0)]
    monkeypatch.setattr(metering, "_clock", lambda: clock[0])
    span = Transfer()
    assert (span.seconds, span.waiting_share) == (0.0, 1.0)
    span.begin()
    clock[0] = (11.0, 1.25)
    span.begin()
    assert (span.seconds, span.waiting_share) == (1.0, 0.75), "up to now while one is open"
    clock[0] = (14.0, 4.0)
    span.end()
    clock[0] = (15.0, 4.5)
    assert span.seconds == 5.0
    span.end()
    clock[0] = (99.0, 9.0)
    assert (span.seconds, span.waiting_share) == (5.0, pytest.approx(0.3))


@pytest.mark.parametrize(("worked_s", "limit"), [(0.79, "network"), (0.81, "server")])
def test_who_hardly_waits_is_the_limit(monkeypatch: pytest.MonkeyPatch, worked_s: float, limit: str) -> None:
    clock = [(0.0, 0.0)]
    monkeypatch.setattr(metering, "_clock", lambda: clock[0])
    run = Meter().new("D1")
    with run.stream(run.up):
        clock[0] = (1.0, worked_s)
    run.up.bytes, run.down.bytes = 30, 12
    told = run.as_dict()
    assert (told["limit"], told["waiting_share"]) == (limit, pytest.approx(1 - worked_s))
    assert (told["up_seconds"], told["down_seconds"], run.bytes) == (1.0, 0.0, 42)
