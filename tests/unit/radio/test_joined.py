"""Panels joined to larger ones, less holes: the same walls, met by every ray as before."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from radio_scenes import KINDS, strewn, three_storey_house
from rehaul.radio import Scene, Transmitter, field, field_at, grid_over
from rehaul.radio.geometry import find_mirrors
from rehaul.radio.joined import NOTHING, Joined, join_panels
from rehaul.radio.tables import flat

OPEN_DOORS = 3  # kind of the leaves that `without_leaves` takes away


def joined(scene: Scene) -> Joined:
    found = join_panels(scene.panels_m, scene.panel_kind, find_mirrors(flat(scene)).plane_of_panel)
    assert len(found.panels_m) == len(found.kind) == len(found.plane)
    return found


def without_leaves(scene: Scene) -> Scene:
    stays = scene.panel_kind != OPEN_DOORS
    return replace(scene, panels_m=scene.panels_m[stays], panel_kind=scene.panel_kind[stays])


def met(panels: np.ndarray, kind: np.ndarray, spot: np.ndarray, swaps: np.ndarray) -> np.ndarray:
    """How often each kind is met at a spot (3,) of the plan and its height, holes taken out."""
    along = panels[:, 2:4] - panels[:, :2]
    length = np.hypot(*along.T)
    away = spot[:2] - panels[:, :2]
    share = (away * along).sum(axis=1) / length**2
    off = np.abs(away[:, 0] * along[:, 1] - away[:, 1] * along[:, 0]) / length
    here = (off < 1e-6) & (share >= 0) & (share < 1) & (spot[2] >= panels[:, 4]) & (spot[2] < panels[:, 5])
    found = np.zeros(len(KINDS) + 1, dtype=int)  # what is nothing comes last
    for k in kind[here]:
        if k >= 0:
            found[k] += 1
        else:
            within, instead = swaps[-1 - k]
            found[within] -= 1
            found[instead] += 1
    return found[:-1]


def test_four_quarters_of_a_wall_are_one() -> None:
    quarters = [(0, 1, 0, 2, 0, 1), (0, 2, 0, 3, 0, 1), (0, 3, 0, 2, 1, 2.5), (0, 1, 0, 2, 1, 2.5)]
    found = join_panels(np.array(quarters, float), np.full(4, 3), np.zeros(4, dtype=np.int32))
    assert found.panels_m.tolist() == [[0, 1, 0, 3, 0, 2.5]]
    assert found.kind.tolist() == [3] and found.plane.tolist() == [0] and not len(found.swaps)


WALL = [(0, 0, 1, 0, 0, 2.5), (2, 0, 4, 0, 0, 2.5), (1, 0, 2, 0, 2, 2.5)]  # round a door
LEAF = (1, 0, 2, 0, 0, 2)


@pytest.mark.parametrize(("leaf", "instead"), [([LEAF], 3), ([], NOTHING)])
def test_a_wall_with_a_door_is_one_with_a_hole(leaf: list, instead: int) -> None:
    panels = np.array([*WALL, *leaf], float)
    kinds = np.array([1, 1, 1, 3][: len(panels)])
    found = join_panels(panels, kinds, np.zeros(len(panels), dtype=np.int32))
    assert found.panels_m.tolist() == [[0, 0, 4, 0, 0, 2.5], list(LEAF)]
    assert found.kind.tolist() == [1, -1] and found.swaps.tolist() == [[1, instead]]


def test_two_leaves_in_one_place_are_no_hole() -> None:
    panels = np.array([*WALL, LEAF, LEAF], float)
    found = join_panels(panels, np.array([1, 1, 1, 3, 3]), np.zeros(5, dtype=np.int32))
    assert (found.kind >= 0).all() and len(found.kind) == 5


def test_a_hair_out_of_line_is_not_joined() -> None:
    panels = np.array([*WALL, LEAF], float)
    panels[1, [1, 3]] += 1e-5
    found = join_panels(panels, np.array([1, 1, 1, 3]), np.zeros(4, dtype=np.int32))
    assert sorted(found.panels_m.tolist()) == sorted(panels.tolist())


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
    found = join_panels(two, np.array([3, kind]), np.array([0, plane], dtype=np.int32))
    assert len(found.kind) == 2 and not len(found.swaps)


@pytest.mark.parametrize(
    "scene",
    [three_storey_house(), without_leaves(three_storey_house()), strewn(np.random.default_rng(4), 60)],
)
def test_every_spot_of_a_wall_is_what_it_was(scene: Scene) -> None:
    found = joined(scene)
    assert len(found.kind) <= len(scene.panels_m)
    rng = np.random.default_rng(2)
    for panel in scene.panels_m[rng.permutation(len(scene.panels_m))[:120]]:
        share, up = rng.uniform(-0.6, 1.6), rng.uniform(-0.6, 1.6)  # beside and above it as well
        spot = np.append(panel[:2] + share * (panel[2:4] - panel[:2]), panel[4] + up * (panel[5] - panel[4]))
        before = met(scene.panels_m, scene.panel_kind, spot, found.swaps)
        assert met(found.panels_m, found.kind, spot, found.swaps).tolist() == before.tolist()


def test_open_doors_are_open_on_a_grid() -> None:
    """Holes of nothing, by rays from every receiver: each is tried against every panel as it stands."""
    scene, bands = without_leaves(three_storey_house()), (2.442e9, 5.5e9)
    assert NOTHING in joined(scene).swaps[:, 1]
    grid = grid_over(0.013, 0.027, 12, 9, 0.9, (1.0, 3.7))
    transmitter = Transmitter((4.13, 2.71, 2.317), 20.0, "ceiling")
    fast = field(scene, transmitter, grid, bands, "reflections")
    slow = field_at(scene, transmitter, grid.points_m(), bands, "reflections")
    assert np.abs(fast.gain_db.reshape(2, -1) - slow.gain_db).max() < 5e-3
    assert np.abs(fast.sd_db.reshape(2, -1) - slow.sd_db).max() < 0.1


def test_the_house_has_fewer() -> None:
    house = three_storey_house()
    assert len(joined(house).kind) < 0.3 * len(house.panels_m)
