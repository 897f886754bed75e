"""Reasons that nobody waits for any more end wherever they are, and the next plan is as it would be."""

from __future__ import annotations

import json
import threading
from collections.abc import Callable
from typing import Any

import pytest

from rehaul import clock as clocks
from rehaul.beside import BrokenOff
from rehaul.design import choose, reasoned
from rehaul.design.choosing import Chosen
from rehaul.design.explain import OPEN_WHYS_S, WHYS_LIMIT_S, why, why_not, whys_clock
from rehaul.design.placing import placing_of
from rehaul.house import Job
from rehaul.jobs import demo_job
from rehaul.planning import main_job, plan_data, weigh
from rehaul.predict import calibration_of, receivers_of, scene_of, standing_radiators
from rehaul.predict.kept import KeptHouse


class Left(Exception):
    pass


@pytest.fixture(scope="module")
def chosen() -> tuple[Job, Chosen]:
    job = demo_job()
    scene, receivers = scene_of(job.house, job.country), receivers_of(job.house)
    calibration = calibration_of(job, scene, standing_radiators(job))
    return job, choose(job, placing_of(job, scene, receivers, calibration))


def leave() -> None:
    raise Left


def test_reasons_worked_out_beside_end_with_those_they_are_beside(
    chosen: tuple[Job, Chosen], monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, ended = threading.Event(), threading.Event()

    def for_ever(job: Any, placing: Any, feeds: Any, share: float, look: Callable[[], None]) -> Any:
        begun.set()
        try:
            while not ended.wait(0.01):
                look()
        except BrokenOff:
            ended.set()
            raise

    def look() -> None:
        assert begun.wait(20.0)
        raise Left

    monkeypatch.setattr(reasoned, "why_not", for_ever)
    with pytest.raises(Left):
        reasoned.reasoned(*chosen, look)
    assert ended.wait(20.0)


def test_each_reason_looks_while_it_is_searched_for(
    chosen: tuple[Job, Chosen], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(clocks, "LOOK_S", 0.0)
    job, found = chosen
    feeds, placing = found.found.feeds if found.found else None, found.placing
    assert feeds is not None
    with pytest.raises(Left):
        why_not(job, placing, feeds, 1.0, leave)
    point = found.choice.access_points[0]
    with pytest.raises(Left):
        why(job, placing, feeds, placing.option(point.way), whys_clock(feeds, 1.0, leave))


def test_reasons_of_a_kind_share_a_limit_that_large_houses_get_less_of(chosen: tuple[Job, Chosen]) -> None:
    assert chosen[1].found is not None
    proven = chosen[1].found.feeds
    assert whys_clock(proven).left_s == pytest.approx(WHYS_LIMIT_S, abs=0.1)
    assert whys_clock(proven, 0.2).left_s == pytest.approx(0.2 * WHYS_LIMIT_S, abs=0.1)
    open_still = proven.__class__(**{**vars(proven), "proven": False})
    assert whys_clock(open_still).left_s == pytest.approx(OPEN_WHYS_S, abs=0.1)


def test_a_plan_left_in_any_search_leaves_the_next_as_it_would_be(monkeypatch: pytest.MonkeyPatch) -> None:
    job = demo_job()
    monkeypatch.setattr(clocks, "LOOK_S", 0.0)
    stages: list[str] = []
    whole = json.dumps(plan_data(weigh(job, progress=stages.append).fresh))
    looked = stages.count(main_job.SEARCHING) - 1, len(stages)
    assert looked[0] > 2, "the search of the choice looks about"
    first = stages.index(main_job.SEARCHING)
    kept, left = KeptHouse(), 0
    for at in range(first + 1, len(stages), max(1, (len(stages) - first) // 7)):
        told = iter(range(10**9))

        def progress(step: str, at: int = at, told: Any = told) -> None:
            if next(told) == at:
                raise Left

        try:
            weigh(job, kept=kept, progress=progress)
        except Left:  # what was kept of the one before looks about less
            left += 1
    assert left > 3 and json.dumps(plan_data(weigh(job, kept=kept).fresh)) == whole
