"""A plan that lacks something, or says it in the wrong kind, is a finding and never a traceback."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from counts import counted
from drawn_houses import drawn_job
from rehaul.auditor import LACKS, audit_plan
from sample_plan_data import Data, sample_job, sample_plan_data

Place = tuple[str | int, ...]
WRONG = (None, True, -1, 1e300, float("nan"), "", "T01", [], {}, [[]], [{}], ["C01", 3])
JOB = sample_job()


def places(value: Any, here: Place = ()) -> Iterator[Place]:
    """Every place in the data, the outer ones first."""
    if here:
        yield here
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, each in inner:
        yield from places(each, (*here, key))


def holder(data: Any, place: Place) -> Any:
    for key in place[:-1]:
        data = data[key]
    return data


PLACES = list(places(sample_plan_data()))
KEYS = [place for place in PLACES if len(place) <= 2 and not any(isinstance(key, int) for key in place)]


@pytest.mark.parametrize(
    "key", ["graph", "paths", "choice", "labels", "takeoff", "order", "network", "after", "before", "drops"]
)
def test_a_missing_key_is_a_finding(key: str) -> None:
    data = sample_plan_data()
    del data[key]
    found = audit_plan(JOB, data)
    assert [each.sentence for each in found if each.rule == LACKS and key in each.about]


def test_an_empty_plan_lacks_everything_and_says_each_key_once() -> None:
    found = audit_plan(JOB, {})
    assert {each.rule for each in found} == {LACKS}
    lacking = [each.about for each in found]
    assert len(set(lacking)) == len(lacking) >= 8


@pytest.mark.parametrize("place", KEYS, ids=lambda place: ".".join(map(str, place)))
def test_no_key_is_missed_badly(place: Place) -> None:
    data = sample_plan_data()
    del holder(data, place)[place[-1]]
    audit_plan(JOB, data)


@settings(max_examples=counted(75, 300), deadline=None)
@given(st.sampled_from(PLACES), st.sampled_from(WRONG))
def test_nothing_in_the_wrong_kind_breaks_the_auditor(place: Place, wrong: object) -> None:
    data: Data = sample_plan_data()
    holder(data, place)[place[-1]] = copy.deepcopy(wrong)
    audit_plan(JOB, data)


@settings(max_examples=counted(50, 200), deadline=None)
@given(st.sampled_from(PLACES))
def test_nothing_left_out_breaks_the_auditor(place: Place) -> None:
    data: Data = sample_plan_data()
    del holder(data, place)[place[-1]]
    audit_plan(JOB, data)


@pytest.mark.parametrize("seed", range(40))
def test_a_plan_of_another_house_breaks_nothing(seed: int) -> None:
    """Nothing in the job answers to what is in the plan, and every strange thing a survey holds is there."""
    assert audit_plan(drawn_job(seed), sample_plan_data())
