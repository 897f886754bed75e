"""Panels joined to larger ones: the same walls, met by every ray as before."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from radio_scenes import strewn, three_storey_house
from rehaul.radio import Scene, Transmitter, field, grid_over
from rehaul.radio.geometry import find_mirrors
from rehaul.radio.joined import join_panels
from rehaul.radio.tables import flat


def joined(scene: Scene) -> Scene:
    planes = find_mirrors(flat(scene)).plane_of_panel
    panels, kinds, plane = join_panels(scene.panels_m, scene.panel_kind, planes)
    assert len(panels) == len(kinds) == len(plane)
    return replace(scene, panels_m=panels, panel_kind=kinds)


def areas_m2(scene: Scene) -> np.ndarray:
    panels = scene.panels_m
    area = np.hypot(*(panels[:, 2:4] - panels[:, :2]).T) * (panels[:, 5] - panels[:, 4])
    return np.bincount(scene.panel_kind, area, minlength=len(scene.kinds))


def test_four_quarters_of_a_wall_are_one() -> None:
    quarters = [(0, 1, 0, 2, 0, 1), (0, 2, 0, 3, 0, 1), (0, 3, 0, 2, 1, 2.5), (0, 1, 0, 2, 1, 2.5)]
    panels, kinds, plane = join_panels(np.array(quarters, float), np.full(4, 3), np.zeros(4, dtype=np.int32))
    assert panels.tolist() == [[0, 1, 0, 3, 0, 2.5]] and kinds.tolist() == [3] and plane.tolist() == [0]


@pytest.mark.parametrize(
    "other",
    [
        ((0, 2, 0, 3, 0, 1.1), 3, 0),  # higher
        ((0, 2, 0, 3, 0, 1), 4, 0),  # of another make
        ((0, 2, 0, 3, 0, 1), 3, 1),  # in another plane
        ((0, 2.001, 0, 3, 0, 1), 3, 0),  # a millimetre away
    ],
)
def test_what_differs_stays_apart(other: tuple) -> None:
    panel, kind, plane = other
    two = np.array([(0, 1, 0, 2, 0, 1), panel], float)
    assert len(join_panels(two, np.array([3, kind]), np.array([0, plane], dtype=np.int32))[0]) == 2


@pytest.mark.parametrize("scene", [three_storey_house(), strewn(np.random.default_rng(4), 60)])
def test_the_walls_are_the_same(scene: Scene) -> None:
    fewer = joined(scene)
    assert len(fewer.panels_m) <= len(scene.panels_m)
    assert areas_m2(fewer) == pytest.approx(areas_m2(scene))
    transmitter, grid = (
        Transmitter((4.13, 2.71, 2.317)),
        grid_over(0.013, 0.027, 12, 9, 0.31, (1.0, 3.7, 6.4)),
    )
    before, after = (field(one, transmitter, grid, (5.5e9,)) for one in (scene, fewer))
    assert after.gain_db == pytest.approx(before.gain_db, abs=1e-3)
    assert after.sd_db == pytest.approx(before.sd_db, abs=1e-3)


def test_the_house_has_fewer() -> None:
    house = three_storey_house()
    assert len(joined(house).panels_m) < 0.75 * len(house.panels_m)
