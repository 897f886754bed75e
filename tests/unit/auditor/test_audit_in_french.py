"""What the auditor finds is said in French too, with the same names and figures in it."""

from __future__ import annotations

import re
from functools import cache

from plan_breakages import BREAKAGES
from rehaul.auditor import RULES, PlanFinding, audit_plan
from rehaul.words import Reader, Saying, again
from sayings import unsaid

FRENCH = Reader("fr")
ENGLISH = re.compile(r"\b(the|and|is|are|which|nobody|does|has|not)\b")


@cache
def _found() -> tuple[PlanFinding, ...]:
    rules = {rule.name: rule for rule in RULES}
    return tuple(
        finding
        for breakage in BREAKAGES
        for finding in audit_plan(*breakage.broken(), [rules[breakage.rule]])
    )


def test_every_finding_remembers_what_it_says() -> None:
    assert len({finding.sentence.code for finding in _found() if isinstance(finding.sentence, Saying)}) > 150
    assert unsaid(_found(), but=("about",)) == []  # ids and names of classes


def test_findings_are_french_with_what_they_are_about() -> None:
    for finding in _found():
        said = again(finding, FRENCH)
        assert said.sentence != finding.sentence and said.sentence.endswith("."), said
        assert (said.rule, said.about) == (finding.rule, finding.about)
        sentence = finding.sentence
        assert isinstance(sentence, Saying)
        for name, value in sentence.values.items():
            if isinstance(value, str) and not isinstance(value, Saying) and value in finding.about:
                assert value in said.sentence, (name, said.sentence)


def test_no_english_is_left_but_what_the_plan_says() -> None:
    """Titles and holds come from the plan, whose data are in one language."""
    for finding in _found():
        said = str(again(finding.sentence, FRENCH))
        sentence = finding.sentence
        assert isinstance(sentence, Saying)
        for value in sentence.values.values():
            if isinstance(value, str) and not isinstance(value, Saying):
                said = said.replace(value, "")
        assert not ENGLISH.search(said), said


def test_a_finding_without_a_plan_to_judge_is_said_as_well() -> None:
    from sample_plan_data import sample_job

    (lack, *_) = again(audit_plan(sample_job(), {}), FRENCH)
    assert lack.sentence.startswith("Il manque ") and lack.about[0] in lack.sentence
