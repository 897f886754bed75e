"""Storeys, short walls, doors, voids and metal: what a ray meets on its way through a house."""

from __future__ import annotations

import numpy as np
import pytest

from radio_scenes import box_panels
from rehaul.radio import Scene, Transmitter, crossings, field_at, kind, plate

BANDS = (2.442e9, 5.5e9, 6.5e9)
NAMES = ("brick-solid", "door-hollow", "glass-low-e", "metal-body", "chimney-breast", "timber-floor")
KINDS = tuple(kind(name) for name in NAMES)


def met(
    panels: list[tuple[float, ...]], kinds: list[int], start: tuple, end: tuple, plates: tuple = ()
) -> list[str]:
    scene = Scene(np.array(panels).reshape(-1, 6), np.array(kinds, dtype=np.int32), plates, KINDS)
    return [crossing.kind for crossing in crossings(scene, start, end, BANDS)]


def test_a_wall_that_stops_short_is_passed_above() -> None:
    half_wall = [(0, -2, 0, 2, 0, 1.1)]
    assert met(half_wall, [0], (-1, 0, 1.0), (1, 0, 1.0)) == ["brick-solid"]
    assert met(half_wall, [0], (-1, 0, 1.5), (1, 0, 1.3)) == []
    assert met(half_wall, [0], (-1, 0, 2.0), (1, 0, 0.0)) == ["brick-solid"]  # dips below the top at the wall


def test_door_open_door_shut() -> None:
    wall = [(0, -2, 0, 0, 0, 2.5), (0, 1, 0, 2, 0, 2.5), (0, 0, 0, 1, 2, 2.5)]
    leaf = [(0, 0, 0, 1, 0, 2)]
    through = ((-1, 0.5, 1.0), (1, 0.5, 1.0))
    assert met(wall, [0, 0, 0], *through) == []
    assert met(wall + leaf, [0, 0, 0, 1], *through) == ["door-hollow"]
    assert met(wall + leaf, [0, 0, 0, 1], (-1, 0.5, 2.3), (1, 0.5, 2.3)) == ["brick-solid"]  # the lintel


def test_two_storeys_up_meets_two_floors() -> None:
    ring = [(-5, -5), (5, -5), (5, 5), (-5, 5)]
    floors = tuple(plate(z, ring, 5) for z in (2.6, 5.2))
    assert met([], [], (0, 0, 1), (1, 1, 6.5), floors) == ["timber-floor"] * 2
    assert met([], [], (0, 0, 1), (1, 1, 2.0), floors) == []


def test_a_metal_box_is_met_twice() -> None:
    fridge = [tuple(row) for row in box_panels(1, -0.3, 1.6, 0.3, 0, 1.8)]
    assert met(fridge, [3] * 4, (0, 0, 1), (3, 0, 1)) == ["metal-body"] * 2
    assert met(fridge, [3] * 4, (0, 0, 2.2), (3, 0, 2.2)) == []


def test_panels_that_meet_are_crossed_once() -> None:
    """A ray exactly through the joint of two panels of one wall."""
    wall = [(0, -2, 0, 0, 0, 2.5), (0, 0, 0, 2, 0, 2.5)]
    for start, end in (((-1, 0, 1), (1, 0, 1)), ((1, 0, 1), (-1, 0, 1)), ((-1, -1, 1), (1, 1, 1))):
        assert met(wall, [0, 0], start, end) == ["brick-solid"]


@pytest.mark.parametrize("name", ["glass-low-e", "metal-body", "chimney-breast"])
def test_heavy_things_are_heavy(name: str) -> None:
    panel, k = np.array([[0, -9, 0, 9, -9, 9.0]]), NAMES.index(name)
    scene = Scene(panel, np.array([k], dtype=np.int32), (), KINDS)
    empty = Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), ())
    sender, point = Transmitter((-2, 0, 1)), [(2, 0, 1)]
    lost = field_at(empty, sender, point, BANDS).gain_db - field_at(scene, sender, point, BANDS).gain_db
    assert (lost > 8).all()


def test_the_spread_grows_with_what_is_crossed_and_says_how() -> None:
    wall = Scene(np.array([[0, -9, 0, 9, -9, 9.0]]), np.zeros(1, dtype=np.int32), (), KINDS)
    two = Scene(
        np.array([[0, -9, 0, 9, -9, 9.0], [1, -9, 1, 9, -9, 9]]), np.zeros(2, dtype=np.int32), (), KINDS
    )
    sd = [field_at(scene, Transmitter((-2, 0, 1)), [(2, 0, 1)], BANDS).sd_db[0, 0] for scene in (wall, two)]
    s, distance = KINDS[0].sd_db, np.log10(4.0)  # 1 dB per decade
    own = 4.0**2 + distance**2
    assert sd[0] == pytest.approx(np.sqrt(own + s**2), abs=1e-4)
    felt = s / np.sqrt(2)  # the root of two squares moves by 1/sqrt(2) of each
    together = 0.3 + 0.7 * 0.7  # two walls of one house and of one construction
    expected = np.sqrt(own + together * (2 * felt) ** 2 + (1 - together) * 2 * felt**2)
    assert sd[1] == pytest.approx(expected, abs=1e-4)
