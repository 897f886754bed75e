"""What falls short once everything is predicted: every lack of a room by its kind, none that is met."""

import pytest

from rehaul.design.judged import with_gets
from rehaul.design.results import Choice, RoomShortfall
from rehaul.house import Band, Choices, Job, Need, Service
from rehaul.predict import Coverage, Delay, RoomRate

LATE = Delay(
    grade="high",
    low_ms=90,
    high_ms=700,
    at="the DSL line",
    asked_ms=60,
    verdict="not met",
    remedy="Set the queue",
    remedy_free=True,
)


def row(**lacks: object) -> RoomRate:
    found = RoomRate(
        room="R1",
        name="Study",
        storey="1",
        need_mbps=100,
        asked=0.9,
        served_pct=100,
        met=True,
        low_mbps=150,
        median_mbps=200,
        high_mbps=250,
        power_dbm=-60,
        source="AP1",
        source_name="Hall",
        band=Band.GHZ_5,
        narrowest="plan",
        up_need_mbps=10,
        up_median_mbps=20,
    )
    return found.model_copy(update=lacks)


def choice(*shortfalls: RoomShortfall) -> Choice:
    return Choice(
        access_points=(),
        candidates=(),
        cost=0,
        bound=0,
        gap_pct=0,
        proven=True,
        front=(),
        shortfalls=shortfalls,
    )


def judged(
    rate: RoomRate, *shortfalls: RoomShortfall, up: float = 20, dfs: bool = False
) -> tuple[RoomShortfall, ...]:
    job = Job(
        id="J1",
        title="House",
        needs=(Need(id="D1", room="R1", down_mbps=100),),
        service=Service(up_mbps=up),
        choices=Choices(dfs=dfs),
    )
    after = Coverage((), (), (), (), (rate,))
    return with_gets(job, choice(*shortfalls), after).shortfalls


def known(kind: str) -> RoomShortfall:
    return RoomShortfall(
        room="R1",
        name="Study",
        need_mbps=100,
        gets_mbps=0,
        served_pct=0,
        fix="Cheapest fix: a box",
        fix_cost=99,
        kind=kind,  # type: ignore[arg-type]
    )


def test_a_room_that_is_met_is_not_among_them() -> None:
    assert judged(row(), known("down")) == ()


@pytest.mark.parametrize("kind", ["down", "up"])
def test_the_cheapest_fix_of_the_choice_is_kept_with_what_the_room_gets(kind: str) -> None:
    served = (
        {"down_met": False, "served_pct": 40.0}
        if kind == "down"
        else {"up_met": False, "up_served_pct": 40.0}
    )
    (short,) = judged(row(met=False, **served), known(kind))
    assert (short.fix, short.fix_cost, short.kind, short.served_pct) == ("Cheapest fix: a box", 99, kind, 40)
    assert short.gets_mbps == (200 if kind == "down" else 20)
    assert f" {kind}, " in short.says and "40 %" in short.says


def test_every_lack_is_said() -> None:
    lacking = row(met=False, down_met=False, up_met=False, served_pct=50.0, up_served_pct=10.0, delay=LATE)
    found = judged(lacking, known("down"))
    assert [short.kind for short in found] == ["down", "up", "delay"]
    assert "90 to 700 ms, of 60 ms asked" in found[2].says
    assert found[2].fix == "Set the queue" and found[2].fix_cost == 0


def test_what_the_choice_could_not_see_has_its_own_fix() -> None:
    (narrow,) = judged(row(met=False, down_met=False, served_pct=50.0))
    assert "radar-shared" in narrow.fix and narrow.fix_cost == 0
    (wide,) = judged(row(met=False, down_met=False, served_pct=50.0), dfs=True)
    assert "forbid a site" in wide.fix and wide.fix_cost is None
    (line,) = judged(row(met=False, up_met=False, up_need_mbps=30, up_served_pct=0.0), up=20)
    assert "raise the plan" in line.fix
    wired = LATE.model_copy(update={"remedy": "Wire the device", "remedy_free": False})
    (wire,) = judged(row(met=False, delay=wired))
    assert wire.fix_cost is None


def test_a_remedy_is_free_where_its_field_says_so_whatever_its_words() -> None:
    free = LATE.model_copy(update={"remedy": "Set the queue of the wireless router"})
    (found,) = judged(row(met=False, delay=free))
    assert found.fix_cost == 0
    french = LATE.model_copy(update={"remedy": "Relier l'appareil par câble", "remedy_free": False})
    (found,) = judged(row(met=False, delay=french))
    assert found.fix_cost is None
    nothing = LATE.model_copy(update={"remedy": ""})
    (found,) = judged(row(met=False, delay=nothing))
    assert found.fix == "Wire the device" and found.fix_cost is None


def test_wired_outlets_are_left_as_the_choice_counted_them() -> None:
    short = known("outlets").model_copy(update={"need_mbps": 2.0, "gets_mbps": 1.0})
    (found,) = judged(row(), short)
    assert found.kind == "outlets" and found.says == "1 of 2 wired outlets" and found.fix == short.fix


def test_both_ways_at_once_may_be_all_that_lacks() -> None:
    (found,) = judged(row(met=False))
    assert found.kind == "down"
