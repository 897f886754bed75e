"""Every rule of the auditor lets a sound plan pass and catches one that is broken on purpose."""

from __future__ import annotations

import ast
import copy
import sys
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from plan_breakages import BREAKAGES, Breakage
from plan_breakages.setting import afresh
from plan_breakages.swapping import swapped
from rehaul.auditor import RULES, SIGNED_RULES, audit_plan, devices, rules
from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.rules import WHEN_CHOSEN
from rehaul.facts.wlan_equipment import device_swaps
from sample_plan_data import sample_job, sample_plan_data


@cache
def judged(breakage: Breakage) -> tuple[tuple[PlanFinding, ...], bool]:
    """What every rule together finds in a broken plan, and whether it only read it."""
    job, data = breakage.broken()
    kept, noted = copy.deepcopy(data), job.model_copy(deep=True)
    return audit_plan(job, data), data == kept and job == noted


def test_a_sound_plan_passes() -> None:
    assert audit_plan(sample_job(), sample_plan_data()) == ()


def test_who_waits_may_look_about_before_every_rule_and_break_off() -> None:
    looked: list[int] = []

    class Enough(Exception):
        pass

    def look() -> None:
        looked.append(len(looked))
        if len(looked) == 4:
            raise Enough

    with pytest.raises(Enough):
        audit_plan(sample_job(), sample_plan_data(), RULES, look)
    assert audit_plan(sample_job(), sample_plan_data(), RULES[:3], lambda: looked.append(0)) == ()
    assert len(looked) == 4 + 3


def test_a_new_radio_told_as_it_should_be_passes() -> None:
    job, data = sample_job(), sample_plan_data()
    job = swapped(job, data)
    rules = [rule for rule in RULES if rule.name in ("device-swap-told", "tasks-priced", "tasks-have-parts")]
    assert len(rules) == 3 and audit_plan(job, data, rules) == ()


def test_a_radio_set_afresh_told_as_it_should_be_passes() -> None:
    job, data = sample_job(), sample_plan_data()
    job = afresh(job, data)
    assert audit_plan(job, data, [rule for rule in RULES if rule.name == "set-afresh-told"]) == ()


@pytest.mark.xdist_group("broken plans")
@pytest.mark.parametrize("breakage", BREAKAGES, ids=lambda b: f"{b.rule}: {b.what}")
def test_every_breakage_is_caught(breakage: Breakage) -> None:
    found = {finding.rule for finding in judged(breakage)[0]}
    assert breakage.rule in found, sorted(found)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_every_rule_is_caught(rule) -> None:  # type: ignore[no-untyped-def]
    """A rule that no broken plan trips could be an empty one."""
    mine = [breakage for breakage in BREAKAGES if breakage.rule == rule.name]
    assert mine, f"no plan is broken for {rule.name}"
    for breakage in mine:
        job, data = breakage.broken()
        assert audit_plan(job, data, [rule]), breakage.what


def _sentences() -> set[tuple[str, int]]:
    """Every place in the auditor that says something of a plan: file and line."""
    return {
        (path.name, node.lineno)
        for path in Path(rules.__file__).parent.glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "finding"
    }


SAID_ELSEWHERE = {"audit.py"}  # a plan that lacks something: `test_robust.py`


def test_every_sentence_is_said_of_some_broken_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    """A rule may say several things: each of them is brought about by a breakage of that very rule."""
    said: set[tuple[str, int]] = set()

    def noting(sentence: str, *about: str) -> PlanFinding:
        caller = sys._getframe(1)
        said.add((Path(caller.f_code.co_filename).name, caller.f_lineno))
        return finding(sentence, *about)

    for rule in RULES:
        monkeypatch.setattr(sys.modules[rule.judge.__module__], "finding", noting)
    by_name = {rule.name: rule for rule in RULES}
    for breakage in BREAKAGES:
        audit_plan(*breakage.broken(), [by_name[breakage.rule]])
    # that a device becomes what no table lists only a table with a fault in it could bring about
    swaps = {
        name: swap.model_copy(update={"becomes": "wonder radio"}) for name, swap in device_swaps().items()
    }
    monkeypatch.setattr(devices, "device_swaps", lambda: swaps)
    job, data = sample_job(), sample_plan_data()
    job = swapped(job, data)
    data["choice"]["devices"][0]["becomes"] = "wonder radio"
    audit_plan(job, data, [by_name["device-swap-told"]])
    unsaid = {(file, line) for file, line in _sentences() - said if file not in SAID_ELSEWHERE}
    assert not unsaid, sorted(unsaid)


def test_there_are_breakages_enough_and_each_is_its_own() -> None:
    assert len(BREAKAGES) >= 40
    assert max(Counter((b.rule, b.what) for b in BREAKAGES).values()) == 1
    assert {b.rule for b in BREAKAGES} <= {rule.name for rule in RULES}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_every_rule_says_what_it_checks(rule) -> None:  # type: ignore[no-untyped-def]
    assert rule.checks.endswith(".") and rule.checks.count(". ") == 0, rule.checks
    assert Counter(each.name for each in RULES)[rule.name] == 1


@pytest.mark.xdist_group("broken plans")
def test_the_plan_is_only_read() -> None:
    for breakage in BREAKAGES:
        assert judged(breakage)[1], breakage.what


@pytest.mark.xdist_group("broken plans")
def test_sentences_are_short_and_name_what_they_are_about() -> None:
    for breakage in BREAKAGES:
        for found in judged(breakage)[0]:
            assert found.sentence.endswith(".") and len(found.sentence) <= 200, found.sentence
            assert all(found.about) and found.rule


def test_what_is_signed_is_still_judged_but_for_how_it_was_chosen() -> None:
    names = {rule.name for rule in RULES}
    assert names > WHEN_CHOSEN
    assert {rule.name for rule in SIGNED_RULES} == names - WHEN_CHOSEN
    assert {"signed-offer-rules", "held-left-alone", "needs-exist", "landlord-first"}.isdisjoint(WHEN_CHOSEN)
