"""Contours lie where the values say, carry their level, and read the same in grey."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from shapely import Point, Polygon

import sample_plan
from rehaul.house import Storey
from rehaul.planning import Plan
from rehaul.predict.results import StoreyMap
from rehaul.sheets import coverage_svgs, map_svg
from rehaul.sheets.contours import SMOOTH_M, draw
from rehaul.sheets.placing import Placer
from rehaul.sheets.ramp import LADDER_MBPS, Ramp, band_words, ramp_for
from rehaul.sheets.ratemap import ramp_of
from rehaul.sheets.scale import StoreyView

VIEW = StoreyView(0.0, 10.0, 100.0, 0.0, 0.0)
SQUARE = Polygon(((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)))


def cone() -> StoreyMap:
    """700 Mb/s in the middle, 100 less with each metre."""
    axis = np.arange(0.05, 10.0, 0.1)
    x, y = np.meshgrid(axis, axis)
    rate = (700 - 100 * np.hypot(x - 5, y - 5)).astype(np.float32)
    one = np.zeros((1, *rate.shape), np.float32)
    index = np.zeros(rate.shape, np.int16)
    storey = Storey(id="1", name="One", elevation_m=0)
    bands = index.astype(np.int8)
    return StoreyMap(storey, 0.05, 0.05, 0.1, 1.2, rate, rate, rate, one, one, index, bands, rate, rate, rate)


def drawn_over(field: StoreyMap, ramp: Ramp) -> tuple[str, str]:
    free = Placer((0, 0, 100, 100), Point().buffer(1))
    return draw(field, field.rate_mbps, ramp, VIEW, SQUARE, free, "n")


def test_a_contour_encloses_the_area_that_geometry_says() -> None:
    """A disc of 3 m; smoothing a cone by s moves its contour at r inwards by s**2 / (2 r)."""
    bands, lines = drawn_over(cone(), Ramp((400.0,), ("#000001", "#000002")))
    found = re.search(r'<path d="M([^"]+)Z" fill="#000002"', bands)
    assert found
    points = [tuple(map(float, pair.split())) for pair in found[1].split("L")]
    radius_mm = 10 * (3 - SMOOTH_M**2 / (2 * 3))  # 1 m at 1:100 is 10 mm
    assert Polygon(points).area == pytest.approx(np.pi * radius_mm**2, rel=0.01)
    assert ">400<" in lines


def test_nothing_is_drawn_where_nothing_is_known() -> None:
    grid = cone()
    nothing = np.full_like(grid.rate_mbps, np.nan)
    ramp = ramp_for([nothing])
    assert draw(grid, nothing, ramp, VIEW, SQUARE, Placer((0, 0, 100, 100), Point().buffer(1)), "n") == (
        "",
        "",
    )
    assert band_words(ramp) == ("nearly one rate everywhere",)


def luminance(tint: str) -> float:
    """Relative luminance of an sRGB colour (IEC 61966-2-1), from 0 to 1."""
    channels = [int(tint[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_tints_rise_in_lightness_so_that_a_grey_copy_reads_the_same() -> None:
    ramp = ramp_for([np.geomspace(0.5, 9000, 500)])
    values = [luminance(tint) for tint in ramp.tints]
    assert all(b > a + 0.01 for a, b in pairwise(values))
    # ink stays readable over the darkest tint: contrast of at least 4.5 to 1 (WCAG 2.2, 1.4.3)
    assert (values[0] + 0.05) / (luminance("#1b1a17") + 0.05) > 4.5


def test_levels_divide_the_rates_and_are_few() -> None:
    ramp = ramp_for([np.geomspace(0.5, 9000, 500)])
    assert set(ramp.levels_mbps) <= set(map(float, LADDER_MBPS))
    assert len(ramp.levels_mbps) <= 7
    assert len(ramp.tints) == len(ramp.levels_mbps) + 1 == len(band_words(ramp))


def test_a_flat_field_has_one_tint() -> None:
    ramp = ramp_for([np.full((4, 4), 240.0)])
    assert ramp.levels_mbps == () and len(ramp.tints) == 1


def test_maps_of_one_plan_share_levels_and_tints() -> None:
    plan = sample_plan.plan()
    wanted = ramp_of(plan)
    for storey in "BGU":
        for when in ("before", "after"):
            drawn = map_svg(plan, storey, when)  # type: ignore[arg-type]
            assert all(f">{words}</text>" in drawn for words in band_words(wanted))
            assert all(f'fill="{tint}"' in drawn for tint in wanted.tints)


def test_the_upper_storey_shows_contours_with_figures() -> None:
    drawn = map_svg(sample_plan.plan(), "U", "before")
    assert len(re.findall(r'aria-hidden="true"[^>]*>\d+</text>', drawn)) >= 2


def test_a_storey_without_a_map_is_still_drawn() -> None:
    plan = sample_plan.plan()
    bare: Plan = replace(plan, after=replace(plan.after, maps=()))
    assert "Sewing room" in map_svg(bare, "U", "after")


def test_one_prediction_gives_a_map_of_each_storey_lowest_first() -> None:
    plan = sample_plan.plan()
    drawn = coverage_svgs(plan.job, plan.before)
    assert list(drawn) == ["map-B.svg", "map-G.svg", "map-U.svg"]
    assert all("X1" not in text for name, text in drawn.items() if name != "map-B.svg")
    assert ">X1<" in drawn["map-B.svg"]
