"""Every rule of the auditor lets a sound plan pass and catches one that is broken on purpose."""

from __future__ import annotations

import copy
from collections import Counter

import pytest

from plan_breakages import BREAKAGES, Breakage
from plan_breakages.swapping import swapped
from rehaul.auditor import RULES, SIGNED_RULES, audit_plan
from rehaul.auditor.rules import WHEN_CHOSEN
from sample_plan_data import sample_job, sample_plan_data


def test_a_sound_plan_passes() -> None:
    assert audit_plan(sample_job(), sample_plan_data()) == ()


def test_a_new_radio_told_as_it_should_be_passes() -> None:
    job, data = sample_job(), sample_plan_data()
    job = swapped(job, data)
    rules = [rule for rule in RULES if rule.name in ("device-swap-told", "tasks-priced", "tasks-have-parts")]
    assert len(rules) == 3 and audit_plan(job, data, rules) == ()


@pytest.mark.parametrize("breakage", BREAKAGES, ids=lambda b: f"{b.rule}: {b.what}")
def test_every_breakage_is_caught(breakage: Breakage) -> None:
    job, data = breakage.broken()
    found = {finding.rule for finding in audit_plan(job, data)}
    assert breakage.rule in found, sorted(found)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_every_rule_is_caught(rule) -> None:  # type: ignore[no-untyped-def]
    """A rule that no broken plan trips could be an empty one."""
    mine = [breakage for breakage in BREAKAGES if breakage.rule == rule.name]
    assert mine, f"no plan is broken for {rule.name}"
    for breakage in mine:
        job, data = breakage.broken()
        assert audit_plan(job, data, [rule]), breakage.what


def test_there_are_breakages_enough_and_each_is_its_own() -> None:
    assert len(BREAKAGES) >= 40
    assert max(Counter((b.rule, b.what) for b in BREAKAGES).values()) == 1
    assert {b.rule for b in BREAKAGES} <= {rule.name for rule in RULES}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_every_rule_says_what_it_checks(rule) -> None:  # type: ignore[no-untyped-def]
    assert rule.checks.endswith(".") and rule.checks.count(". ") == 0, rule.checks
    assert Counter(each.name for each in RULES)[rule.name] == 1


def test_the_plan_is_only_read() -> None:
    for breakage in BREAKAGES:
        job, data = breakage.broken()
        kept, noted = copy.deepcopy(data), job.model_copy(deep=True)
        audit_plan(job, data)
        assert data == kept and job == noted


def test_sentences_are_short_and_name_what_they_are_about() -> None:
    for breakage in BREAKAGES:
        job, data = breakage.broken()
        for found in audit_plan(job, data):
            assert found.sentence.endswith(".") and len(found.sentence) <= 200, found.sentence
            assert all(found.about) and found.rule


def test_what_is_signed_is_still_judged_but_for_how_it_was_chosen() -> None:
    names = {rule.name for rule in RULES}
    assert names > WHEN_CHOSEN
    assert {rule.name for rule in SIGNED_RULES} == names - WHEN_CHOSEN
    assert {"signed-offer-rules", "held-left-alone", "needs-exist", "landlord-first"}.isdisjoint(WHEN_CHOSEN)
