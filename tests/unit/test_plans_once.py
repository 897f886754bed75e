"""Plans that tests share are those of the very job, made in this run."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import plans_once
from plans_once import made_plan
from rehaul.house import Job
from rehaul.planning import Answer, Weighed, plan_data, weigh
from sample_house import job
from sample_plan import plan as sample_plan


def noted_in(asked: list[Job]) -> Any:
    def noted(job: Job, *, told: Callable[[Answer], None], **_: Any) -> Weighed:
        asked.append(job)
        told(object.__new__(Answer))  # of which nobody reads a word
        nothing: Any = None
        return Weighed(nothing, nothing, sample_plan())

    return noted


def test_each_job_is_planned_once_and_whoever_changes_a_plan_changes_his_own(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    asked: list[Job] = []
    monkeypatch.setenv("REHAUL_PLANS_OF_THIS_RUN", str(tmp_path))
    monkeypatch.setattr(plans_once, "weigh", noted_in(asked))
    other = job().model_copy(update={"notes": "another job"})
    first, again, third = made_plan(job()), made_plan(job()), made_plan(other)
    assert asked == [job(), other]
    assert plan_data(first) == plan_data(again) == plan_data(third) == plan_data(sample_plan())
    first.after.maps[0].rate_mbps[:] = 0.0
    assert again.after.maps[0].rate_mbps.max() > 0


def test_it_is_weigh_that_makes_them() -> None:
    assert plans_once.weigh is weigh
