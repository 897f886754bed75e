"""Texts of fact tables on wires that people read have a row among the words, in every language."""

from __future__ import annotations

import pytest

from rehaul.facts.cables import CableRow
from rehaul.facts.colour_codes import ColourRow
from rehaul.facts.line_voltages import LineVoltageRow
from rehaul.facts.live_lines import LiveCheckRow, ReleaseRow
from rehaul.facts.media import MediaRow
from rehaul.facts.separation import SeparationRow
from rehaul.facts.table import FactRow, load
from rehaul.facts.terminations import StripRow
from rehaul.tracing import EndStanding, Guarantee, Method, Trust
from rehaul.words import Saying, term

READ: dict[type[FactRow], tuple[str, ...]] = {
    CableRow: ("name",),
    ColourRow: ("base", "stripe", "note"),
    LineVoltageRow: ("current", "looks_like", "do"),
    LiveCheckRow: ("do", "expect", "caution"),
    MediaRow: ("needs", "caution"),
    ReleaseRow: ("release",),
    SeparationRow: ("check", "applies_to", "relaxed_by"),
    StripRow: ("connector", "advice"),
}


@pytest.mark.parametrize(("table", "columns"), READ.items())
def test_every_text_of_a_table_is_a_word(table: type[FactRow], columns: tuple[str, ...]) -> None:
    texts = {getattr(row, column) for row in load(table) for column in columns}
    assert [text for text in texts if text and not isinstance(term(text), Saying)] == []


@pytest.mark.parametrize("kind", [EndStanding, Guarantee, Method, Trust])
def test_every_kind_that_tracing_names_is_a_word(
    kind: type[EndStanding | Guarantee | Method | Trust],
) -> None:
    assert [one.value for one in kind if not isinstance(term(one.value), Saying)] == []
