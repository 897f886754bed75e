"""The judge of what was stored finds what makes no sense, and nothing in what does."""

from __future__ import annotations

from typing import Any

import pytest

from nonsense import nonsense
from rehaul.house import Job, Quantity
from rehaul.jobs import demo_job


def test_the_demo_makes_sense() -> None:
    assert list(nonsense(demo_job())) == []


def reading(**fields: Any) -> Job:
    job = demo_job()
    return job.model_copy(update={"readings": (job.readings[0].model_copy(update=fields),)})


@pytest.mark.parametrize(
    ("job", "said"),
    [
        (reading(quantity=Quantity.DOWN_MBPS, value=-50.0), "-50"),
        (reading(quantity=Quantity.POWER_DBM, value=5000.0), "5000"),
        (reading(value=float("nan")), "cannot be written"),
        (reading(repeats=10**9), "repeats"),
        (reading(note="a\0b"), "NUL"),
        (reading(time="9999999-01-01"), "no date"),
        (reading(time="2026-13-45T10:00"), "no date"),
        (reading(position=(1e8, 0.0)), "beyond"),
        (demo_job().model_copy(update={"house": demo_job().house.model_copy(update={"built_year": 9})}), "9"),
    ],
)
def test_what_makes_no_sense_is_found(job: Job, said: str) -> None:
    assert said in " ".join(nonsense(job))
