"""Practice values come from rows, and a thing is priced in one table only."""

from __future__ import annotations

from rehaul.facts.equipment import equipment
from rehaul.facts.prediction import prediction_number
from rehaul.facts.work import hazard_years, prices
from rehaul.predict import SERVED_SHARE


def test_nothing_is_priced_in_two_tables() -> None:
    def plain(name: str) -> str:
        return "".join(filter(str.isalnum, name.casefold()))

    bought = {plain(row.name) for row in prices().values()} | {plain(item) for item in prices()}
    boxes = {plain(row.label) for row in equipment().values()} | {plain(name) for name in equipment()}
    assert not bought & boxes


def test_ranges_rise_and_the_share_is_a_share() -> None:
    for name in ("detour", "drop"):
        low, middle, high = (prediction_number(f"{name}_{end}") for end in ("low", "middle", "high"))
        assert 0 < low <= middle <= high
    assert prediction_number("drawn_detour_high") <= prediction_number("detour_high")
    assert 0 < SERVED_SHARE <= 1


def test_every_hazard_that_a_caution_asks_for_has_its_year() -> None:
    for country in ("US", "FR", "GB"):
        assert set(hazard_years(country)) == {"lead", "asbestos", "knob"}
