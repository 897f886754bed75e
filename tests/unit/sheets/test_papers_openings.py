"""Doors open into the house, wide ones with two leaves, and words keep clear of their sweep."""

from __future__ import annotations

import math

import pytest
from shapely import Polygon

from rehaul.house import House, Opening, OpeningKind, Storey, Wall
from rehaul.sheets import svg
from rehaul.sheets.openings import draw_openings, leaves
from rehaul.sheets.scale import StoreyView

VIEW = StoreyView(0.0, 3.0, 100.0, 0.0, 0.0)  # 1 m is 10 mm


def house(width_m: float, kind: OpeningKind = OpeningKind.DOOR) -> House:
    ends = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)]
    walls = tuple(
        Wall(id=f"w{i}", storey="1", start=a, end=b, thickness_m=0.2)
        for i, (a, b) in enumerate(zip(ends, ends[1:] + ends[:1], strict=True))
    )
    doors = tuple(
        Opening(id=f"o{i}", wall=f"w{i}", kind=kind, offset_m=0.5, width_m=width_m) for i in range(4)
    )
    return House(storeys=(Storey(id="1", name="1", elevation_m=0),), walls=walls, openings=doors)


def test_every_outer_door_opens_into_the_house() -> None:
    found = leaves(house(0.8), "1", VIEW)
    assert len(found) == 4
    for leaf in found:
        assert 0 <= leaf.tip[0] <= 40 and 0 <= leaf.tip[1] <= 30
        assert math.dist(leaf.hinge, leaf.tip) == pytest.approx(8.0) == math.dist(leaf.hinge, leaf.latch)


@pytest.mark.parametrize(
    ("hinge", "swing", "hangs", "tip"),
    [
        ("near", "left", (5.0, 30.0), (5.0, 22.0)),
        ("near", "right", (5.0, 30.0), (5.0, 38.0)),
        ("far", "left", (13.0, 30.0), (13.0, 22.0)),
        ("far", "right", (13.0, 30.0), (13.0, 38.0)),
        ("far", "unknown", (13.0, 30.0), (13.0, 22.0)),
    ],
)
def test_a_door_hangs_and_opens_as_somebody_said(hinge: str, swing: str, hangs: svg.Mm, tip: svg.Mm) -> None:
    """The first wall runs to the right along the foot of the sheet: left of it is the house."""
    said = [one.model_copy(update={"hinge": hinge, "swing": swing}) for one in house(0.8).openings]
    leaf = leaves(house(0.8).model_copy(update={"openings": tuple(said)}), "1", VIEW)[0]
    assert leaf.hinge == pytest.approx(hangs)
    assert leaf.tip == pytest.approx(tip)


def test_a_wide_doorway_has_two_leaves_that_meet() -> None:
    found = leaves(house(1.6), "1", VIEW)
    assert len(found) == 8
    assert found[0].latch == found[1].latch
    assert all(math.dist(leaf.hinge, leaf.latch) == pytest.approx(8.0) for leaf in found)


def test_the_sweep_is_a_quarter_of_a_disc() -> None:
    sweep = Polygon(leaves(house(0.8), "1", VIEW)[0].sweep().coords)
    assert sweep.area == pytest.approx(math.pi * 8**2 / 4, rel=0.002)


def test_a_gap_stays_open_and_a_storey_without_walls_has_no_doors() -> None:
    assert draw_openings(house(0.8, OpeningKind.GAP), "1", VIEW) == ""
    assert leaves(House(), "1", VIEW) == []
