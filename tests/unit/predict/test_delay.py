"""Delay under load and shares of the whole: whose queue is full, who waits for whom, what helps."""

from dataclasses import replace

import numpy as np
import pytest

from rehaul.facts.delay import delay_classes, delay_queues
from rehaul.house import Heard, Job, Service
from rehaul.predict import Air, Asked, LinkRate, Radiator
from rehaul.predict.delay import delays, grade_of
from rehaul.predict.neighbours import air_left, left_on, span_mhz
from rehaul.predict.results import Delay
from rehaul.predict.together import Hanging, together_mbps
from rehaul.wlan import lawful_channels, link_between, mode_at, turn_us


def job(down: float = 300.0, up: float = 20.0, medium: str = "cable", **service: object) -> Job:
    paid = Service(down_mbps=down, up_mbps=up, medium=medium, **service)  # type: ignore[arg-type]
    return Job(id="J1", title="A house", service=paid)


def hanging(
    job: Job,
    room: str,
    down: float = 50.0,
    *,
    power_dbm: float = -55.0,
    box: str = "AP1",
    wire_mbps: float = 941.0,
    delay_ms: float | None = None,
    hop_mbps: float = 0.0,
) -> Hanging:
    link = link_between("access point HE 2x2", "phone", "5")
    assert link is not None
    plan = LinkRate(name="plan", rate_mbps=job.service.down_mbps, up_mbps=job.service.up_mbps)
    wire = (plan, LinkRate(name="run", rate_mbps=wire_mbps))
    station = Radiator(box, box, "access point HE 2x2", (0, 0, 2.4), wire=wire, hop_mbps=hop_mbps)
    power = np.array([power_dbm], dtype=np.float32)
    air = Air(station, "5", link, power, np.full_like(power, 5.0))
    down_mbps, up_mbps = (float(part[1][0]) for part in (air.range_mbps(), air.up_range_mbps()))
    links = (*wire, LinkRate(name="air", rate_mbps=down_mbps, up_mbps=up_mbps))
    need = Asked(room, down, 0.9, "phone", 1.0, delay_ms) if down or delay_ms else None
    return Hanging(room, need, air, links)


def test_all_at_once_share_the_line() -> None:
    house = job(down=300)
    rooms = [hanging(house, name, down) for name, down in (("a", 20), ("b", 200), ("c", 400))]
    got = together_mbps(house, rooms)
    assert got["a"] == pytest.approx(20)
    assert got["b"] == pytest.approx(got["c"]) == pytest.approx(140)
    assert sum(got.values()) <= 300 + 1e-6


def test_a_far_room_holds_the_near_one_of_its_box_but_not_that_of_another() -> None:
    house = job(down=2000)
    near, other = hanging(house, "near", 450), hanging(house, "other", 450, box="AP2")
    far = hanging(house, "far", 450, power_dbm=-84)
    assert together_mbps(house, [near])["near"] == pytest.approx(450)
    got = together_mbps(house, [near, far, other])
    assert got["far"] < 60 and got["near"] < 60  # equal turns: the slow one sets the pace
    assert got["other"] == pytest.approx(450)


def test_rooms_of_one_box_share_its_cable_and_its_hop() -> None:
    house = job(down=2000)
    rooms = [hanging(house, name, 90, wire_mbps=94) for name in "ab"]
    assert together_mbps(house, rooms) == pytest.approx({"a": 47, "b": 47})
    hopped = [hanging(house, "a", 400, hop_mbps=200)]
    alone = float(hanging(house, "a").air.range_mbps()[1][0])
    assert together_mbps(house, hopped)["a"] == pytest.approx(1 / (1 / alone + 1 / 200), rel=1e-4)


def test_rooms_that_ask_nothing_take_nothing() -> None:
    house = job(down=100)
    assert together_mbps(house, [hanging(house, "a", 0), hanging(house, "b", 90)]) == {"b": pytest.approx(90)}
    assert together_mbps(house, []) == {}


def one(house: Job, *others: Hanging, **how: object) -> Delay:
    return delays(house, [hanging(house, "a", **how), *others])["a"]  # type: ignore[arg-type]


def test_a_narrow_line_is_where_the_queue_is() -> None:
    found = one(job(medium="cable"))
    row = delay_queues()["cable"]
    assert found.at == row.words
    mode = mode_at(-55 - hanging(job(), "a").air.link.up_lag_db, hanging(job(), "a").air.link, direction="up")
    assert mode is not None
    alone_ms, pair_ms = (2 * turn_us((mode,) * count) / 1000 for count in (1, 2))
    assert found.low_ms == round(row.idle_low_ms + row.managed_low_ms + alone_ms)
    assert found.high_ms == round(row.idle_high_ms + row.plain_high_ms + pair_ms)


def test_a_wide_line_leaves_the_queue_on_the_air() -> None:
    found = one(job(down=5000, up=5000, medium="fibre"))
    assert found.at == delay_queues()["air"].words
    hopped = one(job(down=5000, up=5000, medium="fibre"), hop_mbps=300.0)
    assert hopped.at == delay_queues()["wireless hop"].words and hopped.high_ms > found.high_ms
    cabled = one(job(down=5000, up=5000, medium="fibre"), wire_mbps=94.0)
    assert cabled.at == delay_queues()["wire"].words and cabled.high_ms < found.high_ms


def test_somebody_else_fills_the_line_for_all() -> None:
    house = job(down=800, up=800, medium="dsl")
    slow, fast = {"power_dbm": -80.0}, hanging(house, "b", box="AP2", power_dbm=-40.0)
    assert one(house, **slow).at == delay_queues()["air"].words
    assert one(house, fast, **slow).at == delay_queues()["dsl"].words


def test_what_is_known_of_the_queue_narrows_the_range() -> None:
    known = {queue: one(job(managed_queue=queue)) for queue in (True, False, None)}
    assert known[None].low_ms == known[True].low_ms < known[False].low_ms
    assert known[None].high_ms == known[False].high_ms > known[True].high_ms
    assert known[True].grade != "high"


@pytest.mark.parametrize(
    ("managed", "asked_ms", "verdict"),
    [(True, 100, "met"), (True, 30, "at risk"), (False, 60, "not met"), (None, 60, "at risk")],
)
def test_a_need_is_met_at_risk_or_not_met(managed: bool | None, asked_ms: float, verdict: str) -> None:
    found = one(job(managed_queue=managed), delay_ms=asked_ms)
    assert found.verdict == verdict and found.asked_ms == asked_ms
    assert bool(found.remedy) == (verdict != "met")
    assert ("router's queue" in found.remedy) == (managed is not True and verdict != "met")


def test_the_remedy_names_rates_a_little_under_the_paid_ones_and_a_wire_where_that_is_not_enough() -> None:
    enough, more = (one(job(down=300, up=20), delay_ms=asked) for asked in (80, 20))
    assert "270 Mb/s down and 18 Mb/s up" in enough.remedy and "wire" not in enough.remedy
    assert "wire the device" in more.remedy
    assert enough.remedy_free and not more.remedy_free
    assert one(job(managed_queue=True)).verdict == ""


def test_more_rooms_and_louder_neighbours_never_shorten_it() -> None:
    house = job(down=5000, up=5000, medium="fibre")
    others = [hanging(house, f"b{i}", power_dbm=-70) for i in range(4)]
    highs = [one(house, *others[:count]).high_ms for count in range(5)]
    assert highs == sorted(highs) and highs[-1] > highs[0]
    heard = tuple(
        Heard(id=f"H{channel.number}", band="5", channel=channel.number, power_dbm=-60, busy_pct=50)  # type: ignore[arg-type]
        for channel in lawful_channels("US", "5", 20, dfs=False)
    )
    busy = house.model_copy(update={"heard": heard})
    assert one(busy).high_ms > one(house).high_ms
    assert together_mbps(busy, others)["b0"] <= together_mbps(house, others)["b0"]


def test_what_neighbours_leave_is_that_of_the_channel_where_it_is_known() -> None:
    heard = (Heard(id="H1", band="5", channel=36, width_mhz=80, power_dbm=-60, busy_pct=40),)  # type: ignore[arg-type]
    assert span_mhz("5", 36, 80) == (5170, 5250)
    assert left_on(heard, "5", (5170, 5190)) == pytest.approx(0.6)
    assert left_on(heard, "5", (5250, 5330)) == 1
    assert left_on(heard, "2.4", (5170, 5190)) == 1
    house = job().model_copy(update={"heard": heard})
    set_ = replace(hanging(house, "a").radiator, air_left=(("5", 0.25),))
    assert air_left(house, set_, "5") == 0.25
    unknown = air_left(house, hanging(house, "a").radiator, "5")
    channels = lawful_channels("US", "5", 20, dfs=False)
    assert unknown == pytest.approx(1 - 0.4 * 4 / len(channels))


def test_the_classes_part_the_scale() -> None:
    assert [grade_of(ms) for ms in (0, 50, 50.1, 150, 151, 1e6)] == [
        "low", "low", "medium", "medium", "high", "high"
    ]  # fmt: skip
    assert [row.up_to_ms is None for row in delay_classes()] == [False, False, True]


def test_queues_that_are_kept_short_are_shorter() -> None:
    for row in delay_queues().values():
        assert row.idle_low_ms <= row.idle_high_ms
        assert row.managed_low_ms <= row.managed_high_ms <= row.plain_high_ms
        assert row.managed_low_ms <= row.plain_low_ms <= row.plain_high_ms
    lines = [delay_queues()[name] for name in ("dsl", "cable", "fibre", "wireless")]  # type: ignore[index]
    unknown = delay_queues()["unknown"]
    assert unknown.plain_high_ms == max(row.plain_high_ms for row in lines)
    assert unknown.managed_low_ms == min(row.managed_low_ms for row in lines)
