"""Where something was read is said in the reader's language; titles and dates stay."""

from __future__ import annotations

import pytest

from rehaul.facts.colour_codes import ColourRow
from rehaul.facts.live_lines import LiveCheckRow
from rehaul.facts.media import MediaRow
from rehaul.facts.separation import SeparationRow
from rehaul.facts.table import FactRow, load
from rehaul.facts.terminations import PinoutRow, StripRow
from rehaul.words import Reader, again, cited

FRENCH = Reader("fr")
SHOWN: list[type[FactRow]] = [ColourRow, LiveCheckRow, MediaRow, PinoutRow, SeparationRow, StripRow]


@pytest.mark.parametrize("table", SHOWN)
def test_a_source_reads_in_english_as_it_stands_in_the_table(table: type[FactRow]) -> None:
    for row in load(table):
        assert cited(row.source) == str(row.source)
        assert again(cited(row.source), FRENCH) != str(row.source)


def test_a_source_in_french() -> None:
    source = next(row.source for row in load(SeparationRow) if row.country == "UK")
    assert again(cited(source), FRENCH) == (
        "EN 50174-2 (2000 (remplacée\u00a0: vérifier l'édition en vigueur)), 200 mm lu en extrait [extrait]"
    )
