"""The SVG writer: escaped, rounded, and the same string every time."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from rehaul.sheets import svg

NAME = "{http://www.w3.org/2000/svg}"


def test_text_cannot_leave_its_element() -> None:
    words = '</text><script>alert("1")</script>&lt; \x00\x1b'
    root = ET.fromstring(svg.drawing(10, 10, [svg.text((1, 2), words)], title=words))
    assert [child.tag for child in root] == [f"{NAME}text"]
    assert root[0].text == '</text><script>alert("1")</script>&lt; '


@pytest.mark.parametrize(
    ("value", "shown"), [(1.0, "1"), (1.005, "1"), (-0.001, "0"), (2.5, "2.5"), (100.0, "100"), (1e-9, "0")]
)
def test_numbers_to_a_hundredth_of_a_millimetre(value: float, shown: str) -> None:
    assert svg.number(value) == shown


def test_a_path_leaves_out_points_that_round_to_the_same_place() -> None:
    assert svg.path_data([(0, 0), (0.001, 0), (1, 0)], closed=True) == "M0 0L1 0Z"


def test_the_size_of_a_drawing_is_read_back() -> None:
    assert svg.drawing_size(svg.drawing(12.25, 7, [], title="x")) == (12.25, 7.0)


def test_an_empty_group_is_nothing() -> None:
    assert svg.group([]) == ""
