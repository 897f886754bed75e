"""All rules over one job, in a fixed order: the serious ones first."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.audit.names import name_findings
from rehaul.house.audit.openings import opening_findings
from rehaul.house.audit.people import people_findings
from rehaul.house.audit.rooms import room_findings
from rehaul.house.audit.storeys import storey_findings
from rehaul.house.audit.survey import survey_findings
from rehaul.house.audit.unlooked import unlooked_findings
from rehaul.house.audit.walls import wall_findings
from rehaul.house.job import Job

RULES: tuple[Callable[[Job], Iterator[Finding]], ...] = (
    storey_findings,
    wall_findings,
    opening_findings,
    room_findings,
    survey_findings,
    people_findings,
    name_findings,
    unlooked_findings,
)


def audit(job: Job) -> tuple[Finding, ...]:
    """Everything that is missing, contradictory or improbable in a job; empty for a perfect survey.

    The job must be whole (`require_whole`). The order is by severity, then by rule, then as listed in the
    document, so the same job always gives the same numbered list. **Source**: docs/readers.md, "The audit".
    """
    found = [finding for rule in RULES for finding in rule(job)]
    order = list(Severity)
    return tuple(sorted(found, key=lambda finding: order.index(finding.severity)))
