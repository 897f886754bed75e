"""Numbers as people write them: each form has one reading, and what has two is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rehaul.errors import BadInput
from rehaul.numerals import number_of, writes_decimal_comma


@pytest.mark.parametrize(
    ("text", "value", "rest"),
    [
        ("120", 120, ""),
        ("  -63 dBm", -63, "dBm"),
        ("\u221263", -63, ""),
        ("- 63", -63, ""),
        ("+5,5", 5.5, ""),
        ("118,5", 118.5, ""),
        ("0,125", 0.125, ""),
        ("1234,567", 1234.567, ""),
        (",5", 0.5, ""),
        (".5", 0.5, ""),
        ("1.000", 1.0, ""),
        ("1,234.5", 1234.5, ""),
        ("1.234,5", 1234.5, ""),
        ("1,234,567", 1234567, ""),
        ("1.234.567", 1234567, ""),
        ("1 200 Mb/s", 1200, "Mb/s"),
        ("1\u202f200,75", 1200.75, ""),
        ("1'000", 1000, ""),
        ("1\u2019000.5", 1000.5, ""),
        ("1e5", 100000, ""),
        ("2.5E-3 s", 0.0025, "s"),
        ("5 GHz", 5, "GHz"),
        ("12ms", 12, "ms"),
        ("007", 7, ""),
    ],
)
def test_forms(text: str, value: float, rest: str) -> None:
    assert number_of(text) == (value, rest)


@pytest.mark.parametrize("text", ["1,000", "-12,345 Mb/s", "999,999"])
def test_what_may_be_two_numbers_is_refused(text: str) -> None:
    with pytest.raises(BadInput, match="may be") as caught:
        number_of(text, where="row 3")
    assert caught.value.where == "row 3" and "or" in caught.value.remedy


def test_where_the_table_says_which() -> None:
    assert number_of("1,000", decimal_comma=True) == (1.0, "")
    assert number_of("1,000", decimal_comma=False) == (1000.0, "")
    assert number_of("1.000", decimal_comma=True) == (1000.0, "")
    assert number_of("3.5", decimal_comma=True) == (3.5, "")


@pytest.mark.parametrize(
    "text",
    ["", "-", "fast", "1,2,3", "1.2.3", "12 34", "1'00", "1,000,00", "5,", "5.", "1..2", "--5", "0x10", "1e",
     "nan", "inf", "１２", "٣", "1,23.4", "1.234.5,6", "5,000 000", "1e99999"],
)  # fmt: skip
def test_what_is_no_number_is_refused(text: str) -> None:
    try:
        value, rest = number_of(text)
    except BadInput as refusal:
        assert refusal.remedy
    else:
        assert rest, f"{text!r} was read as {value}"


@pytest.mark.parametrize("text", ["1e400", "9" * 5000, "1e9999"])
def test_too_large(text: str) -> None:
    with pytest.raises(BadInput, match="too large") as caught:
        number_of(text)
    assert len(str(caught.value)) < 200


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        (["118,5", "1,000", "room"], True),
        (["118.5", "1,000"], False),
        (["1,234.5"], False),
        (["1.234,5"], True),
        (["1,234,567"], False),
        (["1,000", "1.000", "7"], None),
        (["1,5", "1.5"], None),
        ([], None),
    ],
)
def test_what_a_table_says(cells: list[str], said: bool | None) -> None:
    assert writes_decimal_comma(cells) is said


@given(st.floats(-1e6, 1e6))
def test_what_is_written_plainly_is_read_back(value: float) -> None:
    assert number_of(repr(value)) == (value, "")
    assert number_of(f"{value:.1f}") == (float(f"{value:.1f}"), "")


@given(st.floats(1000, 1e9))
def test_thousands_are_read_back(value: float) -> None:
    for mark in "', \u202f":
        text = f"{value:,.2f}".replace(",", mark)
        assert number_of(text) == (float(f"{value:.2f}"), "")
    swapped = f"{value:,.2f}".translate({ord(","): ".", ord("."): ","})
    assert number_of(swapped) == (float(f"{value:.2f}"), "")


@given(st.text(max_size=20))
def test_anything_is_a_number_or_refused(text: str) -> None:
    try:
        value, _ = number_of(text)
    except BadInput as refusal:
        assert refusal.problem and refusal.remedy
    else:
        assert value == value and abs(value) < float("inf")
