"""Lengths as people write them, and numbers as people read them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rehaul.errors import BadInput
from rehaul.units import METRES_PER_FOOT, format_length, format_rate, parse_length_m


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("3.81", 3.81),
        ("3,81 m", 3.81),
        ("381 cm", 3.81),
        ("3810mm", 3.81),
        ("12' 6\"", 3.81),
        ("12'6", 3.81),
        ("12ft 6in", 3.81),
        ("12 ft 6 1/2 in", 3.8227),
        ('6"', 0.1524),
        ("12'", 3.6576),
        ("-1.5", -1.5),
        ("12’ 6”", 3.81),
    ],
)
def test_lengths_as_written(text: str, metres: float) -> None:
    assert parse_length_m(text) == pytest.approx(metres, abs=1e-9)


def test_a_bare_number_is_feet_where_feet_are_usual() -> None:
    assert parse_length_m("12", default="imperial") == pytest.approx(12 * METRES_PER_FOOT)


@pytest.mark.parametrize("text", ["", "abc", "12''6''", "3.8.1", "'", "1/0"])
def test_what_is_not_a_length_is_refused(text: str) -> None:
    with pytest.raises(BadInput, match="is not a length"):
        parse_length_m(text)


@given(st.floats(min_value=0, max_value=300))
def test_feet_and_inches_come_back_to_half_an_inch(length_m: float) -> None:
    text = format_length(length_m, "imperial").replace("½", " 1/2")
    assert parse_length_m(text) == pytest.approx(length_m, abs=0.0254 / 4 + 1e-9)


@given(st.floats(min_value=0, max_value=300))
def test_metres_come_back_to_a_centimetre(length_m: float) -> None:
    assert parse_length_m(format_length(length_m)) == pytest.approx(length_m, abs=0.005 + 1e-9)


def test_rates_without_false_precision() -> None:
    assert [format_rate(r) for r in (4.53, 87.4, 433.3, 2402.0)] == [
        "4.5 Mb/s",
        "87 Mb/s",
        "430 Mb/s",
        "2 400 Mb/s",
    ]
