"""Laws of the wall finder: a drawn wall comes back wherever it stands and however it is turned."""

from __future__ import annotations

import math

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from counts import counted
from rehaul.house.readers.joints import joined
from rehaul.house.readers.strips import Strip, strips_of

lengths = st.floats(1.0, 12.0)
thicknesses = st.floats(0.05, 0.5)
angles = st.floats(0.0, 360.0)
shifts = st.floats(-50.0, 50.0)


@given(lengths, thicknesses, angles, shifts, shifts)
@settings(max_examples=counted(40, 100), deadline=None)
def test_a_rectangle_is_its_own_strip(
    length: float, thick: float, angle: float, dx: float, dy: float
) -> None:
    if length < 1.5 * thick:
        return
    box = affinity.translate(affinity.rotate(shapely.box(0, 0, length, thick), angle, (0, 0)), dx, dy)
    (strip,) = strips_of(box)
    assert math.isclose(strip.thickness_m, thick, abs_tol=1e-3)
    assert math.isclose(strip.length_m, length, abs_tol=1e-3)
    middle = (np.array(strip.start) + strip.end) / 2
    assert math.dist(middle, (box.centroid.x, box.centroid.y)) < 1e-3


@given(st.floats(2.0, 8.0), st.floats(2.0, 8.0), st.floats(0.1, 0.4), angles)
@settings(max_examples=counted(24, 60), deadline=None)
def test_an_angle_is_two_strips_of_its_thickness(a: float, b: float, thick: float, angle: float) -> None:
    corner = shapely.Polygon([(0, 0), (a, 0), (a, thick), (thick, thick), (thick, b), (0, b)])
    strips = strips_of(affinity.rotate(corner, angle, (0, 0)))
    assert len(strips) == 2
    assert all(math.isclose(strip.thickness_m, thick, abs_tol=2e-3) for strip in strips)
    expected = sorted([a - thick / 2, b - thick / 2])
    assert np.allclose(sorted(strip.length_m for strip in strips), expected, atol=5e-3)


@given(angles, thicknesses, thicknesses)
@settings(max_examples=counted(24, 60), deadline=None)
def test_walls_that_butt_are_joined_on_the_centre_line(angle: float, one: float, other: float) -> None:
    turn = lambda x, y: affinity.rotate(shapely.Point(x, y), angle, (0, 0)).coords[0]  # noqa: E731
    through = Strip(turn(-3, 0), turn(3, 0), one)
    butting = Strip(turn(0, one / 2), turn(0, 3), other)
    _, met = joined([through, butting])
    assert math.dist(met.start, (0, 0)) < 1e-3
    assert met.end == butting.end or math.dist(met.end, butting.end) < 1e-3


@given(angles)
@settings(max_examples=30, deadline=None)
def test_joining_twice_changes_nothing(angle: float) -> None:
    ring = shapely.box(0, 0, 6, 4).difference(shapely.box(0.3, 0.3, 5.7, 3.7))
    once = joined(strips_of(affinity.rotate(ring, angle, (0, 0))))
    twice = joined(once)
    for a, b in zip(once, twice, strict=True):
        assert math.dist(a.start, b.start) < 1e-3
        assert math.dist(a.end, b.end) < 1e-3
    assert math.isclose(sum(strip.length_m for strip in once), 2 * (5.7 + 3.7), abs_tol=0.01)
