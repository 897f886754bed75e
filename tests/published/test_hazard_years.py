"""Years of houses at which the trade reckons with a hazard, where a rule gives one."""

from __future__ import annotations

import pytest

from published import Published
from rehaul.facts.work import hazard_years

RULES = {
    "US": (1978, "40 CFR 745 (73 FR 21692)", "target housing: any housing constructed before 1978"),
}


def test_a_rule_of_selling_is_none_of_working() -> None:
    """France asks for a finding of lead where a home from before 1949 is sold (service-public.fr, F1141).

    What is asked before works names no year, so a house of 1960 keeps its caution.
    """
    row = hazard_years("FR")["lead"]
    assert (row.country, row.built_before) == ("", 1978)


@pytest.mark.parametrize("country", RULES)
def test_lead_paint_is_reckoned_with_before_the_year_of_the_rule(country: str) -> None:
    year, document, place = RULES[country]
    row = hazard_years(country)["lead"]
    assert row.country == country
    Published(year, "year", document, place, "excerpt", 0, "a year").check(row.built_before)
