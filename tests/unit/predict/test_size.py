"""Work that cannot end in the memory it was given does not begin."""

from __future__ import annotations

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rehaul.apart.limits import MEMORY_BY_NAME, TooMuchMemory
from rehaul.house import Job
from rehaul.jobs import demo_job
from rehaul.planning import plan
from rehaul.predict import coverage, receivers_of, standing_radiators
from rehaul.predict.size import receivers_over, size_of


def with_wall_at(x_m: float, y_m: float) -> Job:
    """The demo with one short wall far from everything."""
    job = demo_job()
    far = job.house.walls[0].model_copy(update={"id": "stray", "start": (x_m, y_m), "end": (x_m + 1.0, y_m)})
    house = job.house.model_copy(update={"walls": (*job.house.walls, far)})
    return job.model_copy(update={"house": house})


def test_one_wall_at_ten_kilometres_is_named_and_refused_at_once() -> None:
    job = with_wall_at(9_000.0, 9_999.0)
    started_s = time.monotonic()
    for work in (
        plan,
        lambda job: coverage(job, standing_radiators(job)),
        lambda job: receivers_of(job.house),
    ):
        with pytest.raises(TooMuchMemory, match="GB of memory, and 2 GB are given") as refused:
            work(job)
        assert "Wall stray reaches 13" in refused.value.remedy
    assert time.monotonic() - started_s < 5.0


def test_the_bundled_demo_is_planned_in_what_is_usual() -> None:
    assert size_of(demo_job()).plan_bytes < 1e9


def test_less_given_is_refused_sooner(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(MEMORY_BY_NAME, "500000000")
    with pytest.raises(TooMuchMemory, match="500 MB are given"):
        plan(demo_job())


@given(st.floats(0, 300), st.floats(0, 300))
def test_receivers_are_counted_before_they_are_laid(x_m: float, y_m: float) -> None:
    house = with_wall_at(x_m, y_m).house
    laid = receivers_of(house, 2.0).room.size
    assert laid <= receivers_over(house, 2.0) <= 1.6 * laid + 10


def test_more_of_anything_is_never_less() -> None:
    job = demo_job()
    size = size_of(job)
    assert size_of(with_wall_at(200, 0)).plan_bytes > size.plan_bytes
    assert size_of(job.model_copy(update={"readings": ()})).plan_bytes < size.plan_bytes
    assert size_of(job, boxes=20).map_bytes > size.map_bytes
