"""Scales a draughtsman would choose, and the house at that size on the paper."""

from __future__ import annotations

import re

import pytest

import sample_plan
from rehaul.sheets import sheet_svg
from rehaul.sheets.layout import lay
from rehaul.sheets.scale import scale_for, scale_words


@pytest.mark.parametrize(
    ("width_m", "depth_m", "system", "ratio"),
    [
        (10.0, 5.0, "metric", 50),
        (10.01, 5.0, "metric", 75),
        (9.6, 2.0, "imperial", 48),
        (9.7, 2.0, "imperial", 64),
        (40.0, 10.0, "metric", 200),
    ],
)
def test_the_largest_usual_scale_that_fits(width_m: float, depth_m: float, system: str, ratio: float) -> None:
    assert scale_for(width_m, depth_m, 200, 200, system) == ratio  # type: ignore[arg-type]


def test_a_field_of_ten_kilometres_still_gets_a_scale() -> None:
    ratio = scale_for(10_000, 5_000, 200, 150, "metric")
    assert 10_000 * 1000 / ratio <= 200.0001


def test_words_of_a_scale() -> None:
    assert scale_words(50, "metric") == "1:50"
    assert scale_words(48, "imperial") == "1/4\" = 1' (1:48)"


def test_walls_have_their_true_size_on_paper() -> None:
    """Outer faces: 9.6 m between centre lines, and half a cavity wall beyond each."""
    house = sample_plan.house()
    layout = lay(house, house.storeys[1], "metric")
    x0, y0, x1, y1 = layout.solid.bounds
    across_m = (x1 - x0) * layout.view.ratio / 1000
    thickness_m = 0.1025 + 0.05 + 0.1025 + 0.013  # the layers of that construction
    assert across_m == pytest.approx(sample_plan.WIDTH_M + thickness_m, abs=1e-6)
    assert (y1 - y0) * layout.view.ratio / 1000 == pytest.approx(sample_plan.DEPTH_M + thickness_m, abs=1e-6)


def test_every_storey_lies_at_the_same_place_and_scale() -> None:
    house = sample_plan.house()
    assert len({lay(house, storey, "metric").view for storey in house.storeys}) == 1


@pytest.mark.parametrize(("system", "unit"), [("metric", r"\d m<"), ("imperial", r"\d&#39;<")])
def test_the_scale_bar_speaks_the_asked_units(system: str, unit: str) -> None:
    assert re.search(unit, sheet_svg(sample_plan.plan(), "G", units=system))  # type: ignore[arg-type]
