"""Channels of neighbours, shares, queues and rooms on air made by hand: every figure worked out beside it."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rehaul.errors import BadInput
from rehaul.facts.delay import delay_queues
from rehaul.house import Heard, Job, Need
from rehaul.house.job import Service
from rehaul.jobs import demo_job
from rehaul.predict import receivers_of, standing_radiators
from rehaul.predict.air import DEFAULT_LISTENER, air_wanted_mbps, through_mbps, wire_mbps
from rehaul.predict.calibration import corrected_air
from rehaul.predict.delay import (
    DelaySpan,
    _delay,
    _queue,
    _queue_at,
    _remedy,
    _turns,
    _verdict,
    _worst,
    grade_of,
)
from rehaul.predict.hops import hop_fed
from rehaul.predict.needs import Asked, asked, chance_met, need_mbps, serves, serves_each
from rehaul.predict.neighbours import air_left, centre_mhz, left_on, span_mhz
from rehaul.predict.radiators import Radiator
from rehaul.predict.results import LinkRate
from rehaul.predict.roaming import _level, _one_band
from rehaul.predict.rooms import _unheard, middling
from rehaul.predict.scene import scene_of
from rehaul.predict.together import Hanging, grouped, together_mbps

thing = SimpleNamespace
WIRE = (LinkRate(name="plan", rate_mbps=300.0, up_mbps=30.0), LinkRate(name="run C1", rate_mbps=94.0))
BOX = Radiator("AP1", "Hall", "access point HE 2x2", (1.0, 1.0, 2.5), wire=WIRE)
JOB = Job(id="j", title="Invented", service=Service(down_mbps=300.0, up_mbps=30.0))


@pytest.mark.parametrize(
    ("band", "primary", "centre"),
    [
        ("2.4", 1, 2412.0),
        ("2.4", 13, 2472.0),
        ("5", 36, 5180.0),
        ("5", 165, 5825.0),
        ("5", 37, None),
        ("2.4", 36, None),
    ],
)
def test_where_a_channel_lies(band: Any, primary: int, centre: float | None) -> None:
    """2407 + 5 n and 5000 + 5 n MHz (IEEE 802.11)."""
    assert centre_mhz(band, primary) == centre


@pytest.mark.parametrize(
    ("primary", "width", "span"),
    [
        (36, 20, (5170.0, 5190.0)),
        (36, 40, (5170.0, 5210.0)),  # 36 and 40
        (40, 40, (5170.0, 5210.0)),
        (48, 80, (5170.0, 5250.0)),  # 36 to 48
        (52, 80, (5250.0, 5330.0)),
    ],
)
def test_edges_of_a_wide_channel(primary: int, width: int, span: tuple[float, float]) -> None:
    assert span_mhz("5", primary, width) == span
    assert span_mhz("5", 37, width) is None


def heard(
    channel: int, busy: float | None = 50.0, dbm: float = -60.0, width: int = 20, band: str = "5"
) -> Heard:
    return Heard.model_validate(
        {
            "id": f"H{channel}",
            "band": band,
            "channel": channel,
            "width_mhz": width,
            "power_dbm": dbm,
            "busy_pct": busy,
        }
    )


def test_neighbours_leave_air_where_they_do_not_overlap() -> None:
    own = (5170.0, 5210.0)
    assert left_on([], "5", own) == 1.0
    alone = left_on([heard(36)], "5", own)
    assert alone < 1.0 and left_on([heard(44)], "5", own) == 1.0, "edge to edge is no overlap"
    assert left_on([heard(36, band="2.4")], "5", own) == left_on([heard(37)], "5", own) == 1.0
    assert left_on([heard(44, width=80)], "5", own) == alone, "one that overlaps at all counts whole"
    assert left_on([heard(36), heard(40)], "5", own) < alone
    assert left_on([heard(36, busy=20.0)], "5", own) > alone
    usual = left_on([heard(36, busy=None)], "5", own)
    assert 0.0 < usual <= 1.0


def test_air_left_on_the_planned_channel_else_on_the_one_that_is_set_else_on_the_usual() -> None:
    job = JOB.model_copy(update={"heard": (heard(36),)})
    assert air_left(job, replace(BOX, air_left=(("5", 0.25),)), "5") == 0.25
    box = {"id": "AP1", "name": "Hall", "equipment": "access point HE 2x2", "storey": "0", "position": (0, 0)}

    def at(channel: int | None, width: int = 20) -> float:
        from rehaul.house import Box

        row = Box.model_validate({**box, "set_to": [{"band": "5", "channel": channel, "width_mhz": width}]})
        placed = job.model_copy(update={"boxes": (row,)})
        return air_left(placed, replace(BOX, widths_mhz=(("5", width),)), "5")

    assert at(44) == 1.0 and at(36) == left_on(job.heard, "5", (5170.0, 5190.0)) < 1.0
    assert at(44, 80) == at(36), "its whole width counts"
    usual = air_left(job, BOX, "5")
    assert at(36) < usual < 1.0 and at(None) == pytest.approx(usual), "the mean over lawful channels"


def test_the_narrowest_wire_and_the_hop_hold_a_rate_back() -> None:
    assert wire_mbps(BOX) == 94.0 and wire_mbps(BOX, up=True) == 30.0
    assert wire_mbps(replace(BOX, wire=())) == float("inf")
    rates = np.array([50.0, 200.0], dtype=np.float32)
    assert through_mbps(BOX, rates).tolist() == [50.0, 94.0]
    assert through_mbps(BOX, rates, up=True).tolist() == [30.0, 30.0]
    hop = replace(BOX, hop_mbps=200.0)
    assert through_mbps(hop, rates).tolist() == [40.0, 94.0]  # 1 / (1/50 + 1/200), then the wire
    assert air_wanted_mbps(BOX, 94.0) == 94.0 and air_wanted_mbps(BOX, 94.1) == float("inf")
    assert air_wanted_mbps(hop, 40.0) == pytest.approx(50.0)
    assert air_wanted_mbps(BOX, 31.0, up=True) == float("inf")
    air: Any = thing(radiator=BOX, power_dbm=np.zeros(2), chance_both=lambda down, up: (down, up))
    assert chance_met(air, Asked("r", 50.0, 0.9, "phone", 5.0)) == (50.0, 5.0)
    assert chance_met(air, Asked("r", 95.0, 0.9, "phone")).tolist() == [0.0, 0.0]


def test_needs_are_stated_or_summed_and_a_use_must_be_known() -> None:
    need = Need(id="N", room="r", down_mbps=50.0)
    assert need_mbps(need) == 50.0 and need_mbps(need, up=True) == 0.0
    with pytest.raises(BadInput, match="no use 'juggling'"):
        asked(JOB.model_copy(update={"needs": (Need(id="N", room="r", uses=("juggling",)),)}))
    (found,) = asked(JOB.model_copy(update={"needs": (Need(id="N", room="r", down_mbps=0.0, up_mbps=5.0),)}))
    assert found.rated and (found.down_mbps, found.up_mbps, found.client) == (0.0, 5.0, "phone")
    assert not Asked("r", 0.0, 0.9, "phone", 0.0, 50.0).rated


def hanging(
    room: str, down: float, air: float, *, box: Radiator = BOX, band: str = "5", links: Any = None
) -> Hanging:
    rates = tuple(np.array([air], dtype=np.float32) for _ in range(3))
    found: Any = thing(radiator=box, band=band, range_mbps=lambda: rates)
    return Hanging(
        room,
        Asked(room, down, 0.9, "phone") if down else None,
        found,
        links or (*box.wire, LinkRate(name="air", rate_mbps=air)),
    )


def test_all_at_once_share_air_wire_and_line() -> None:
    free = replace(BOX, air_left=(("5", 1.0), ("2.4", 1.0)))
    alone = together_mbps(JOB, [hanging("a", 40.0, 200.0, box=free), hanging("quiet", 0.0, 200.0, box=free)])
    assert alone == {"a": pytest.approx(40.0)}, "who asks nothing gets nothing"
    two = together_mbps(JOB, [hanging("a", 80.0, 460.0, box=free), hanging("b", 80.0, 460.0, box=free)])
    assert two["a"] == two["b"] == pytest.approx(47.0), "half of the cable's 94 each"
    wide = replace(free, wire=(WIRE[0],))
    air = together_mbps(JOB, [hanging("a", 90.0, 100.0, box=wide), hanging("b", 90.0, 100.0, box=wide)])
    assert air["a"] == pytest.approx(50.0), "half of the air's 100"
    bands = [hanging("a", 90.0, 100.0, box=wide), hanging("b", 90.0, 100.0, box=wide, band="2.4")]
    assert together_mbps(JOB, bands)["a"] == pytest.approx(90.0), "other bands are other air"
    half = replace(wide, air_left=(("5", 0.5),))
    assert together_mbps(JOB, [hanging("a", 90.0, 100.0, box=half)])["a"] == pytest.approx(50.0)
    other = replace(wide, id="AP2")
    line = together_mbps(
        JOB.model_copy(update={"service": Service(down_mbps=100.0)}),
        [hanging("a", 90.0, 460.0, box=wide), hanging("b", 90.0, 460.0, box=other)],
    )
    assert line["a"] == pytest.approx(50.0), "half of the line"
    assert [[one.room for one in group] for group in grouped(bands, lambda one: one.air.band)] == [
        ["a"],
        ["b"],
    ]


def test_where_a_queue_stands() -> None:
    def at(*rates: float, up: float = 0.0, hop: float = 0.0) -> str:
        links = tuple(
            LinkRate(name=str(n), rate_mbps=rate, up_mbps=up or None) for n, rate in enumerate(rates)
        )
        return _queue_at(hanging("a", 1.0, 9.0, box=replace(BOX, hop_mbps=hop), links=links), up=bool(up))

    assert (
        at(50.0, 94.0, 80.0) == "line" and at(300.0, 94.0, 200.0) == "wire" and at(300.0, 94.0, 90.0) == "air"
    )
    assert at(300.0, 94.0, 90.0, hop=100.0) == "wireless hop"
    assert at(94.0, 94.0, 94.0) == "line", "the first of equals"


def test_delays_add_up_and_the_worst_queue_counts() -> None:
    assert DelaySpan(1, 2) + DelaySpan(10, 20) == DelaySpan(11, 22)
    assert _worst([DelaySpan(1, 50), DelaySpan(5, 9)]) == DelaySpan(5, 50)
    assert [grade_of(ms) for ms in (50.0, 50.1, 150.0, 150.1)] == ["low", "medium", "medium", "high"]
    now = DelaySpan(20, 60)
    assert [_verdict(now, ms) for ms in (None, 60.0, 59.0, 20.0, 19.0)] == [
        "",
        "met",
        "at risk",
        "at risk",
        "not met",
    ]


def test_a_line_s_queue_as_it_is_known() -> None:
    row = delay_queues()["cable"]

    def queue(managed: bool | None, place: str = "line") -> DelaySpan:
        return _queue(
            JOB.model_copy(update={"service": Service(medium="cable", managed_queue=managed)}), place
        )

    assert queue(None) == DelaySpan(row.managed_low_ms, row.plain_high_ms)
    assert queue(True) == DelaySpan(row.managed_low_ms, row.managed_high_ms)
    assert queue(False) == DelaySpan(row.plain_low_ms, row.plain_high_ms)
    air = delay_queues()["air"]
    assert queue(True, "air") == DelaySpan(air.managed_low_ms, air.plain_high_ms), "nobody said of the air"


def test_what_helps_against_delay_is_said_where_it_helps() -> None:
    job = JOB.model_copy(update={"service": Service(down_mbps=200.0, up_mbps=20.0)})
    late, well = DelaySpan(20, 300), DelaySpan(10, 40)
    said, free = _remedy(job, late, well, 50.0)
    assert said.startswith("Set the router's queue to") and "wire" not in said and free
    both, free = _remedy(job, late, DelaySpan(20, 100), 50.0)
    assert both.endswith("; wire the device") and not free
    assert _remedy(job, late, late, 50.0) == ("Wire the device", False)
    assert _remedy(job, late, late, None) == _remedy(job, DelaySpan(1, 50), well, 50.0) == ("", False)
    said, free = _remedy(job, late, well, None)
    assert said.startswith("Set the router's queue") and free, "without a need, to be low"


def test_a_room_s_delay_is_that_of_the_longest_queue_on_its_way() -> None:
    job = JOB.model_copy(update={"service": Service(medium="fibre", managed_queue=True)})
    line, air = delay_queues()["fibre"], delay_queues()["air"]
    calm, full = DelaySpan(1, 2), DelaySpan(3, 7)
    one = hanging("a", 10.0, 50.0)
    found = _delay(job, one, {"line", "air"}, (calm, full))
    in_line = (line.idle_low_ms + 1 + line.managed_low_ms, line.idle_high_ms + 2 + line.managed_high_ms)
    in_air = (line.idle_low_ms + 3 + air.managed_low_ms, line.idle_high_ms + 7 + air.plain_high_ms)
    assert found.low_ms == round(max(in_line[0], in_air[0])) and found.high_ms == round(
        max(in_line[1], in_air[1])
    )
    assert found.at == air.words and found.verdict == "" and found.asked_ms is None
    calmer = _delay(job, one, {"line"}, (calm, full))
    assert (calmer.low_ms, calmer.high_ms) == (
        round(in_line[0]),
        round(in_line[1]),
    ) and calmer.at == line.words


def test_turns_on_the_air_grow_with_who_sends_and_with_neighbours() -> None:
    from rehaul.wlan import link_between, mode_at, turn_us

    link = link_between("access point HE 2x2", "phone", "5")
    assert link is not None
    fast, slow = mode_at(-45.0, link, direction="up"), mode_at(-80.0, link, direction="up")
    assert fast is not None and slow is not None
    calm, full = _turns(fast, [fast, slow], 0.5)
    alone, pair = (2 * turn_us((fast,) * n) / 1000 for n in (1, 2))
    crowd = 2 * turn_us(tuple(sorted([fast, slow, fast], key=lambda mode: mode.rate_mbps))) / 1000
    assert (calm.low_ms, calm.high_ms) == (pytest.approx(alone), pytest.approx(pair / 0.5))
    assert (full.low_ms, full.high_ms) == (pytest.approx(pair), pytest.approx(max(crowd, pair) / 0.5))


def test_themiddling_place_and_the_share_that_is_served() -> None:
    best: Any = thing(median_mbps=np.array([[[10.0, 40.0], [30.0, 20.0]]]))
    assert middling(best, np.arange(4)) == (0, 1, 0), "30, the third of four"
    assert middling(best, np.array([0, 1, 3])) == (0, 1, 1), "20, the second of three"
    assert _unheard(Asked("r", 5.0, 0.9, "phone")) == (0.0, 100.0, 0.0)
    assert _unheard(Asked("r", 0.0, 0.9, "phone", 5.0)) == (100.0, 0.0, 0.0)


def test_which_storey_a_box_is_on_and_one_band_of_all() -> None:
    heights = (1.2, 4.2, 7.2)
    assert [_level(heights, z) for z in (-2.0, 0.0, 2.9, 3.0, 6.1)] == [0, 0, 0, 1, 2]

    def air(box: str, band: str) -> Any:
        return thing(radiator=thing(id=box), band=band)

    rows = [air("a", "2.4"), air("a", "5"), air("b", "2.4"), air("b", "5"), air("c", "2.4")]
    assert [row.band for row in _one_band(rows)] == ["2.4"] * 3
    assert [row.band for row in _one_band(rows[:4])] == ["5"] * 2 and _one_band([]) == []


def test_boxes_without_a_wireless_feed_stay_as_they_are() -> None:
    assert hop_fed(JOB, thing(), (BOX,)) == (BOX,)  # type: ignore[arg-type]


def test_boxes_by_different_wires_are_each_asked_what_is_left_of_them() -> None:
    """Airs of several boxes in one set: what a hop or a thin wire leaves is of its own box alone."""
    job = demo_job()
    scene, receivers = scene_of(job.house, job.country), receivers_of(job.house)
    box = standing_radiators(job)[0]
    hop = replace(box, id="by radio", hop_mbps=45.0)
    thin = replace(box, id="thin", wire=(LinkRate(name="thin", rate_mbps=12.0),))
    needs = (
        Asked("r", 40.0, 0.8, "phone"),
        Asked("r", 10.0, 0.9, "phone", 5.0),
        Asked("r", 30.0, 0.5, "phone"),
    )
    at = np.arange(0, len(receivers.in_rooms), 7)
    each = np.arange(len(at)) % len(needs)
    for boxes in ((box, hop, thin), (thin, hop), (hop, box), (thin,)):
        airs = [
            air.at(at)
            for one in boxes
            for air in corrected_air(job, scene, one, receivers.in_rooms, DEFAULT_LISTENER)
        ]
        (found,) = serves_each([airs], needs, each)
        for number, need in enumerate(needs):
            here = each == number
            assert np.array_equal(found[here], serves(airs, need)[here])


def test_the_receivers_of_a_room_are_those_that_the_grid_has_there() -> None:
    job = demo_job()
    receivers = receivers_of(job.house)
    for index in range(len(job.house.rooms)):
        here = np.flatnonzero(receivers.room == index)
        assert len(here) and np.array_equal(receivers.of_room(index), here)
    assert len(receivers.of_room(len(job.house.rooms))) == 0
