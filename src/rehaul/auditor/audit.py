"""All rules over one finished plan."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import Lacks, RowView
from rehaul.auditor.rules import RULES, Rule
from rehaul.house import Job
from rehaul.words import say

LACKS = "plan-lacks"


def audit_plan(
    job: Job,
    data: Mapping[str, object],
    rules: Sequence[Rule] = RULES,
    look: Callable[[], None] = lambda: None,
) -> tuple[PlanFinding, ...]:
    """Everything in a finished plan that does not hold; empty for a sound one.

    Parameters
    ----------
    job : the whole job (`require_whole`)
    data : the finished plan as plain JSON data, as `rehaul plan --json` prints it; it is only read
    rules : which rules judge; all where left out
    look : called before each of them; it may raise to break off

    Returns
    -------
    findings in the order of the rules. Where the plan does not say what a rule has to know, that is a finding
    of the rule `plan-lacks`, once for each missing key.

    **Validity**: judges a plan by the job and by itself. It computes no field and no rate: a wrong prediction
    that agrees with itself passes. **Source**: docs/auditor.md.
    """
    plan = RowView(data)
    found: list[PlanFinding] = []
    lacking: dict[str, PlanFinding] = {}
    for rule in rules:
        look()
        try:
            found += [each.model_copy(update={"rule": rule.name}) for each in rule.judge(job, plan)]
        except Lacks as lack:
            lacking[lack.key] = finding(say("audit_work.plan_lacks", key=lack.key), lack.key)
    found += [each.model_copy(update={"rule": LACKS}) for each in lacking.values()]
    return tuple(found)
