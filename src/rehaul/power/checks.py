"""Separation and bonding: what to check in a country, always with the caution that local code rules."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.facts.separation import SeparationRow, separation_checks
from rehaul.words import Saying, cited, say, term


@dataclass(frozen=True)
class CodeCheck:
    """One thing to check on site, and where the value was read."""

    check: str
    advice: Saying  # ends in the caution that local code rules
    source: str


def code_checks(country: str) -> tuple[CodeCheck, ...]:
    """Separation and bonding checks for a country (`US`, `CA`, `UK`, `EU`, `AU`, `NZ`).

    **Validity**: a reminder, not the code: editions change and local rules come first.
    **Source**: fact rows `separation`.
    """
    rows = separation_checks(country)
    return tuple(CodeCheck(term(row.check), _advice(row), cited(row.source)) for row in rows)


def _advice(row: SeparationRow) -> Saying:
    asked = {"check": row.check, "applies_to": row.applies_to, "value": _least(row)}
    if row.relaxed_by:
        return say("power.separation_but", relaxed_by=row.relaxed_by, **asked)
    return say("power.separation", **asked)


def _least(row: SeparationRow) -> Saying:
    if row.unit == "m":
        return say("power.at_least_mm", least_mm=row.least * 1000)
    if row.unit == "mm2":
        return say("power.at_least_mm2", least_mm2=row.least)
    return say("power.awg_or_thicker", awg=row.least) if row.unit == "AWG" else say("power.never")
