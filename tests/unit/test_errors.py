"""The shape of a refusal: one clear sentence, where, and what to do."""

from __future__ import annotations

import math

import pytest

from rehaul.errors import BadInput, OutOfRange, require_range


def test_a_refusal_reads_as_sentences_and_carries_its_parts() -> None:
    refusal = BadInput(
        "it is not JSON", where="a.json, line 3", remedy="Take the last good copy", source="RFC 8259"
    )
    assert str(refusal) == "a.json, line 3: it is not JSON. Take the last good copy. (RFC 8259)"
    assert refusal.as_dict()["code"] == "bad-input"


@pytest.mark.parametrize("value", [0.0, 5.0, 10.0])
def test_edges_are_inside(value: float) -> None:
    assert require_range(value, 0.0, 10.0, name="x") == value


@pytest.mark.parametrize("value", [-1e-9, 10.000001, math.nan, math.inf])
def test_outside_is_refused_and_names_the_range(value: float) -> None:
    with pytest.raises(OutOfRange, match="0 to 10"):
        require_range(value, 0.0, 10.0, name="x")


def test_what_is_quoted_from_a_file_stays_on_one_line() -> None:
    """Found by the fuzzers: the name of a schema with a line end, a byte that no letter is."""
    refusal = BadInput("no schema 'IF\nC4'", where="house\x1b.ifc, \udcd7", remedy="Name one of\r\nIFC2x3")
    assert (
        str(refusal) == "house\\u001b.ifc, \\udcd7: no schema 'IF\\u000aC4'. Name one of\\u000d\\u000aIFC2x3."
    )
    assert all(value.isprintable() for value in refusal.as_dict().values())
