"""Years of houses at which the trade reckons with a hazard, where a rule gives one."""

from __future__ import annotations

from published import Published
from rehaul.facts.work import hazard_years


def test_lead_paint_is_reckoned_with_before_the_year_of_the_rule() -> None:
    Published(
        1978, "year", "40 CFR 745 (US renovation rule)", "housing built before 1978", "memory", 0, "a year"
    ).check(hazard_years()["lead"])
