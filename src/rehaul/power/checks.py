"""Separation and bonding: what to check in a country, always with the caution that local code rules."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.facts.separation import separation_checks


@dataclass(frozen=True)
class CodeCheck:
    """One thing to check on site, and where the value was read."""

    check: str
    advice: str
    source: str


def code_checks(country: str) -> tuple[CodeCheck, ...]:
    """Separation and bonding checks for a country (`US`, `CA`, `UK`, `EU`, `AU`, `NZ`).

    **Validity**: a reminder, not the code: editions change and local rules come first.
    **Source**: fact rows `separation`.
    """
    return tuple(CodeCheck(row.check, row.sentence, str(row.source)) for row in separation_checks(country))
