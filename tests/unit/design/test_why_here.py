"""Why an access point stands where it stands: what it would cost to do without that place."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from plans_once import made_plan
from rehaul.design import explain
from rehaul.exact import FeedChange, FeedChoice, FeedProblem, Unsettled
from rehaul.jobs import current_job
from rehaul.planning import plan
from rehaul.words import Saying

EXAMPLES = Path(__file__).parents[3] / "examples"


def test_the_price_of_doing_without_a_place_is_that_of_a_choice_without_it() -> None:
    job = current_job(EXAMPLES / "1934-brick-pendant-alarm.rehaul.json")
    found = made_plan(job)
    told = 0
    for point in found.choice.access_points:
        said = re.search(r"serving as many from other places costs (\d+) (\w+) more", point.why)
        forbidden = (*job.choices.forbidden_sites, point.site.id)
        choices = job.choices.model_copy(update={"forbidden_sites": forbidden})
        without = plan(job.model_copy(update={"choices": choices})).choice
        if len(without.shortfalls) > len(found.choice.shortfalls):
            assert said is None, "nothing serves as many from elsewhere"
        elif said is not None:
            told += 1
            assert float(said[1]) == pytest.approx(without.cost - found.choice.cost, abs=0.51)
            assert said[2] == job.currency
    assert told


@pytest.mark.parametrize(("proven", "words"), [(True, ": 71 GBP more"), (False, ": at most 71 GBP more")])
def test_a_price_that_was_not_proven_is_the_most_it_may_be(
    proven: bool, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A search that time cuts short gives a choice, and not the cheapest."""

    def dearer(problem: FeedProblem, choice: FeedChoice, *how: object, **named: object) -> FeedChange:
        return FeedChange(replace(choice, proven=proven), 71.0, (), ())

    monkeypatch.setattr(explain, "cost_of_group", dearer)
    left_out = plan(current_job(EXAMPLES / "1934-brick-pendant-alarm.rehaul.json")).choice.why_not
    assert any(line.endswith(words) for line in left_out)


def test_what_a_search_did_not_settle_is_not_told_as_impossible(monkeypatch: pytest.MonkeyPatch) -> None:
    """Once told as `with it, not as many needs can be met` on a machine that gave the search no time."""
    job = current_job(EXAMPLES / "1934-brick-pendant-alarm.rehaul.json")
    monkeypatch.setattr(explain, "cost_of_group", lambda *how, **named: Unsettled.UNSETTLED)
    left_out = [line for line in plan(job).choice.why_not if isinstance(line, Saying)]
    codes = {line.code for line in left_out}
    assert "design_why.not_settled" in codes and "design_why.not_as_many" not in codes
    monkeypatch.setattr(explain, "cost_of_group", lambda *how, **named: None)
    codes = {line.code for line in plan(job).choice.why_not if isinstance(line, Saying)}
    assert "design_why.not_as_many" in codes and "design_why.not_settled" not in codes
