"""The front of cost as it is told: a point that costs more and serves no more rooms is beaten."""

from __future__ import annotations

from rehaul.design import choose
from rehaul.design.placing import placing_of
from rehaul.design.reasoned import reasoned
from rehaul.design.results import Choice, FrontPoint, told_beaten
from rehaul.jobs import demo_job
from rehaul.predict import calibration_of, receivers_of, scene_of, standing_radiators


def point(cost: float, rooms: int, *, chosen: bool = False) -> FrontPoint:
    return FrontPoint(
        cost=cost,
        rooms_served=rooms,
        rooms=tuple(f"room {i}" for i in range(rooms)),
        sites=(),
        equipment=(),
        chosen=chosen,
    )


def test_only_what_serves_more_rooms_than_all_that_is_cheaper_is_not_beaten() -> None:
    front = (point(0, 0), point(600, 1), point(1100, 0), point(1200, 5), point(1300, 5), point(1400, 7))
    assert [one.beaten for one in told_beaten(front)] == [False, False, True, False, True, False]


def test_the_chosen_point_is_shown_whatever_is_cheaper() -> None:
    front = (point(0, 1), point(600, 1, chosen=True))
    assert not any(one.beaten for one in told_beaten(front))


def test_a_front_that_was_kept_before_is_told_as_it_is_read() -> None:
    job = demo_job()
    scene, receivers = scene_of(job.house, job.country), receivers_of(job.house)
    calibration = calibration_of(job, scene, standing_radiators(job))
    found = reasoned(job, choose(job, placing_of(job, scene, receivers, calibration))).choice
    assert any(one.beaten for one in found.front), "the demo has points that buy wired outlets alone"
    told = found.model_dump()
    for row in told["front"]:
        del row["beaten"]
    assert Choice.model_validate(told) == found
    served = [one.rooms_served for one in found.front if not one.beaten]
    assert served == sorted(set(served))
