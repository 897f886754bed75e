"""A search whose first time was up before it found anything goes on: what stands is not its answer."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from rehaul.jobs import open_job
from rehaul.planning import main_job, plan_data, weigh
from rehaul.planning.answer import Answer

HOUSE = Path(__file__).parents[3] / "examples" / "1972-concrete-conduit.rehaul.json"


def test_the_plan_is_the_same_however_soon_it_was_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    job = open_job(HOUSE)
    whole = weigh(job).fresh
    assert whole.choice.proven and whole.choice.cost > 0
    monkeypatch.setattr(main_job, "SOON_S", 0.0)
    told: list[Answer] = []
    fresh = weigh(job, told=told.append).fresh
    assert json.dumps(plan_data(fresh)) == json.dumps(plan_data(whole))
    assert [answer.choice.cost for answer in told] == [whole.choice.cost]
