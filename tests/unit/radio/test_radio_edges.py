"""Bends: which edges are found, how far round, and how they add to the field."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[2]))
from radio_scenes import strewn
from rehaul.radio import LayeredKind, Scene, Transmitter, field, field_at, grid_over, kind, plate
from rehaul.radio.band import as_bands
from rehaul.radio.diffraction import bend, knife_edge_db
from rehaul.radio.edges import Edges
from rehaul.radio.tables import edges

BANDS = (2.442e9, 5.5e9, 6.5e9)
KINDS = (kind("metal-body"), kind("concrete-slab"), kind("door-hollow"), kind("stud-plasterboard"))


def scene_of(panels: list[tuple[float, ...]], kinds: list[int], plates: tuple = ()) -> Scene:
    return Scene(np.array(panels).reshape(-1, 6), np.array(kinds, dtype=np.int32), plates, KINDS)


def edges_of(scene: Scene) -> Edges:
    return edges(scene, as_bands(BANDS))


def test_a_screen_has_two_ends_and_a_top() -> None:
    found = edges_of(scene_of([(0, -2, 0, 2, 0, 2)], [0]))
    assert len(found.length_m) == 3
    assert sorted(found.length_m) == [2, 2, 4]


def test_door_in_a_concrete_wall_has_two_jambs_with_the_door_beside() -> None:
    wall = [(0, 0, 2, 0, 0, 2.5), (3, 0, 5, 0, 0, 2.5), (2, 0, 3, 0, 2, 2.5), (2, 0, 3, 0, 0, 2)]
    crossing_walls = [(0, -1, 0, 1, 0, 2.5), (5, -1, 5, 1, 0, 2.5)]
    ceiling = plate(2.5, [(-1, -2), (6, -2), (6, 2), (-1, 2)], 3)
    found = edges_of(scene_of(wall + crossing_walls, [1, 1, 1, 2, 1, 1], (ceiling,)))
    upright = found.along[:, 2] == 1
    jambs = upright & (np.abs(found.start_m[:, 1]) < 1e-9)
    assert sorted(found.start_m[jambs, 0]) == [2, 3]
    assert found.length_m[jambs] == pytest.approx(2.0)
    assert (found.beside_db[jambs] > 0.3).all()  # the shut door
    assert (found.beside_db[~jambs] == 0).all()


def test_light_walls_are_gone_through_not_round() -> None:
    assert len(edges_of(scene_of([(0, -2, 0, 2, 0, 2)], [3])).length_m) == 0


def test_rim_of_a_stair_void_points_into_the_slab() -> None:
    slab = plate(2.7, [(0, 0), (9, 0), (9, 9), (0, 9)], 1, ([(4, 4), (6, 4), (6, 6), (4, 6)],))
    found = edges_of(scene_of([], [], (slab,)))
    rim = np.abs(found.middle_m[:, :2] - 5).max(axis=1) < 1.5
    assert rim.sum() == 4
    away = found.middle_m[rim, :2] - 5
    assert (np.sum(away * found.inward[rim, :2], axis=1) > 0).all()


SCREEN = (0, -2, 0, 2, 0, 2)  # of metal, 2 m tall


def tops(*more: tuple[float, ...], kinds: tuple[int, ...] = (), plates: tuple = ()) -> int:
    """How many level edges on top of panels, the screen's among them."""
    found = edges_of(scene_of([SCREEN, *more], [0, *(kinds or (0,) * len(more))], plates))
    return int((found.inward[:, 2] == -1).sum())


def floor_at(z: float, x0: float = -3, x1: float = 3, *voids: list[tuple[float, float]]) -> tuple:
    return (plate(z, [(x0, -3), (x1, -3), (x1, 3), (x0, 3)], 1, tuple(voids)),)


def test_a_top_is_one_where_nothing_stands_or_lies_on_it() -> None:
    assert tops() == 1
    assert [tops(plates=floor_at(z)) for z in (2.0, 1.96, 2.04, 2.06, 1.94, 2.5)] == [0, 0, 0, 1, 1, 1]
    assert tops(plates=(*floor_at(1.0), *floor_at(2.0))) == 0
    assert tops(plates=floor_at(2.0, 1, 3)) == 1  # beside it
    assert tops(plates=floor_at(2.0, 0, 3)) == 0  # along it
    assert tops(plates=floor_at(2.0, -3, 3, [(-1, -1), (1, -1), (1, 1), (-1, 1)])) == 1  # in a void


def test_a_panel_upon_another_takes_its_top() -> None:
    assert tops((0, -2, 0, 2, 2, 2.5)) == 1
    assert tops((0, -2, 0, 2, 2, 2.5), kinds=(3,)) == 0  # a light one, gone through itself
    assert tops((0, -2, 0, 2, 2.001, 2.5)) == 1
    assert tops((0, -2, 0, 2, 2.1, 2.5)) == 2
    assert tops((-1, 0, 1, 0, 0, 3)) == 1  # a taller one across its middle
    assert tops((-1, 0, 1, 0, 0, 2)) == 2
    assert tops((-1, 1, 1, 1, 0, 3)) == 2  # across it elsewhere
    assert tops((-1, -1, 1, -1, 0, 3)) == 2


def test_a_slanting_outline_covers_what_lies_within_it() -> None:
    """A triangle whose slanting side runs from (-3, 0) to (3, 6): at y = 2 m it begins at x = -1 m."""
    plates = (plate(2.0, [(-3, 0), (3, 0), (3, 6)], 1),)
    for x, covered in ((-1.2, False), (-0.8, True), (2.9, True), (3.1, False)):
        found = edges_of(scene_of([(x, 1, x, 3, 0, 2)], [0], plates))
        assert ((found.inward[:, 2] == -1).sum() == 0) == covered, x
    beside = edges_of(scene_of([(0, -5, 0, -3, 0, 2)], [0], plates))
    assert (beside.inward[:, 2] == -1).sum() == 1


def test_where_an_edge_lies_and_which_way_its_piece() -> None:
    found = edges_of(scene_of([(1, 2, 1, 6, 0.5, 2.5)], [0]))
    rows = {
        tuple(np.round(middle, 9)): (tuple(inward), float(length))
        for middle, inward, length in zip(found.middle_m, found.inward, found.length_m, strict=True)
    }
    assert rows == {
        (1, 2, 1.5): ((0, 1, 0), 2.0),
        (1, 6, 1.5): ((0, -1, 0), 2.0),
        (1, 4, 2.5): ((0, 0, -1), 4.0),
    }
    assert found.beside_db.shape == (3, 3) and (found.beside_db == 0).all()
    floor = edges_of(scene_of([], [], (plate(2.7, [(0, 0), (8, 0), (8, 4), (0, 4)], 1),)))
    inward = {
        tuple(np.round(middle, 9)): tuple(way)
        for middle, way in zip(floor.middle_m, floor.inward, strict=True)
    }
    assert inward == {
        (4, 0, 2.7): (0, 1, 0),
        (8, 2, 2.7): (-1, 0, 0),
        (4, 4, 2.7): (0, -1, 0),
        (0, 2, 2.7): (1, 0, 0),
    }
    assert (floor.beside_db == 0).all()


def test_two_floors_have_their_own_rims() -> None:
    one, two = (
        plate(2.7, [(0, 0), (8, 0), (8, 4), (0, 4)], 1),
        plate(5.4, [(1, 1), (3, 1), (3, 3), (1, 3)], 1),
    )
    found = edges_of(scene_of([], [], (one, two)))
    assert sorted(found.start_m[:, 2]) == [2.7] * 4 + [5.4] * 4
    assert sorted(found.length_m) == [2, 2, 2, 2, 4, 4, 8, 8]


def upright(*more: tuple[float, ...], kinds: tuple[int, ...] = ()) -> list[tuple[float, float]]:
    """From where to where the screen's end at y = 2 m is an edge."""
    found = edges_of(scene_of([SCREEN, *more], [0, *(kinds or (0,) * len(more))]))
    end = (found.along[:, 2] == 1) & (np.abs(found.start_m[:, :2] - (0, 2)).max(axis=1) < 1e-9)
    assert (found.inward[end] == (0, -1, 0)).all()
    return sorted(
        (float(z), float(z + length))
        for z, length in zip(found.start_m[end, 2], found.length_m[end], strict=True)
    )


def test_an_end_is_one_as_far_as_nothing_closes_it() -> None:
    assert upright() == [(0, 2)]
    assert upright((-1, 2, 1, 2, 0, 2)) == []
    assert upright((-1, 2, 1, 2, 0, 0.8)) == [(0.8, 2)]
    assert upright((-1, 2, 1, 2, 0.5, 1.5)) == [(0, 0.5), (1.5, 2)]
    assert upright((-1, 2, 1, 2, 0.04, 2)) == []  # under 5 cm of it is left
    assert upright((-1, 2, 1, 2, 0, 2), kinds=(3,)) == [(0, 2)]  # a light one closes nothing
    assert upright((-1, 2.01, 1, 2.01, 0, 2)) == [(0, 2)]  # it does not touch
    assert upright((-1, 2, 1, 2, 2.5, 3)) == [(0, 2)]
    assert upright((0, 2, 0, 4, 0, 2)) == []  # it goes on as heavy
    assert upright((-1, 2, 1, 2, 1.999, 4)) == [(0, 2)]  # within a hair of its top, or foot
    assert upright((-1, 2, 1, 2, -3, 0.001)) == [(0, 2)]
    assert upright((0, 2, 3, 6, 0, 2)) == []  # at an angle
    assert upright((0, 2, 0.1, 4, 0, 2), kinds=(3,)) == [(0, 2)]


def test_what_goes_on_beyond_an_end_is_beside_it() -> None:
    def beside(*more: tuple[float, ...], kinds: tuple[int, ...]) -> list[float]:
        found = edges_of(scene_of([SCREEN, *more], [0, *kinds]))
        here = (found.along[:, 2] == 1) & (np.abs(found.start_m[:, :2] - (0, 2)).max(axis=1) < 1e-9)
        return found.beside_db[here].max(axis=1).tolist()

    light, on, across = beside((0, 2, 0, 3, 0, 2), kinds=(3,)), (0, 2, 0, 3, 0, 2), (-1, 2, 1, 2, 0, 2)
    assert len(light) == 1 and light[0] > 0.1
    assert beside(across, kinds=(3,)) == [0.0]
    assert beside(on, across, kinds=(3, 3)) == light
    door = beside(on, kinds=(2,))
    assert beside(on, (0, 2, 0, 4, 0, 2), kinds=(2, 3)) == [max(*door, *light)]


def rims(*panels: tuple[float, ...], void: float = 2.0) -> int:
    """How many rims of a square void, whose sides are so long, in a slab at 2.7 m."""
    hole = [(4, 4), (4 + void, 4), (4 + void, 4 + void), (4, 4 + void)]
    slab = plate(2.7, [(0, 0), (9, 0), (9, 9), (0, 9)], 1, (hole,))
    found = edges_of(scene_of(list(panels), [3] * len(panels), (slab,)))
    assert (found.along[:, 2] == 0).all() and (found.start_m[:, 2] == 2.7).all()
    return int((np.abs(found.middle_m[:, :2] - 5).max(axis=1) < 2).sum())


def test_a_rim_is_none_where_a_wall_stands_at_its_height() -> None:
    assert rims() == 4
    assert rims((4, 4, 6, 4, 0, 2.7)) == 3
    assert rims((4, 4, 6, 4, 2.7, 5)) == 3
    assert rims((4, 4, 6, 4, 0, 1.7)) == 4  # it ends a metre below
    assert rims((4, 4, 6, 4, 2.8, 5)) == 4
    assert rims((4, 3.9, 6, 3.9, 0, 2.7)) == 4  # beside it
    assert rims(void=0.06) == 4 and rims(void=0.04) == 0


def test_edges_that_cost_no_more_than_a_bend_are_none() -> None:
    light = plate(2.7, [(0, 0), (9, 0), (9, 9), (0, 9)], 3)
    assert len(edges_of(scene_of([], [], (light,))).length_m) == 0
    none = edges_of(scene_of([], []))
    assert none.start_m.shape == none.along.shape == none.inward.shape == (0, 3)
    assert none.length_m.shape == (0,) and none.beside_db.shape == (0, 3)
    assert none.middle_m.shape == (0, 3)


def test_the_shortest_way_round_by_search() -> None:
    """The bend's length is the least over all places on the edge, and its angle is that of the two legs."""
    rng = np.random.default_rng(4)
    seen = 0
    for _ in range(200):
        start, along, into = rng.normal(size=3), rng.normal(size=3), rng.normal(size=3)
        along /= np.linalg.norm(along)
        into -= (into @ along) * along
        into /= np.linalg.norm(into)
        a, b = rng.normal(size=3) * 2, rng.normal(size=3) * 2
        way, first, angle, place = bend(start, along, 2.0, into, *a, *b)
        if way < 0:
            continue
        seen += 1
        spots = start + np.linspace(0, 2, 20001)[:, None] * along
        ways = np.linalg.norm(spots - a, axis=1) + np.linalg.norm(spots - b, axis=1)
        assert way == pytest.approx(ways.min(), abs=1e-6)
        corner = start + place * along
        legs = corner - a, b - corner
        assert first == pytest.approx(np.linalg.norm(legs[0]))
        cosine = legs[0] @ legs[1] / np.linalg.norm(legs[0]) / np.linalg.norm(legs[1])
        assert angle == pytest.approx(np.arccos(cosine), abs=1e-6)
    assert seen > 10


def test_power_behind_a_tall_screen_by_hand() -> None:
    """Only the near end counts: free space over the bent way, and a knife edge."""
    screen = scene_of([(0, -50, 0, 0.5, -50, 50)], [0])
    source, point, frequency = np.array([-3.0, -1.0, 1.0]), np.array([2.0, -1.5, 1.0]), 5.5e9
    corner, wave = np.array([0, 0.5, 1.0]), 299792458 / frequency
    first, second = np.linalg.norm(corner - source), np.linalg.norm(point - corner)
    cosine = (corner - source) @ (point - corner) / first / second
    nu = np.arccos(cosine) * np.sqrt(2 * first * second / (wave * (first + second)))
    bent = -20 * np.log10(4 * np.pi * (first + second) / wave) - knife_edge_db(nu)
    direct = field_at(screen, Transmitter(tuple(source)), [point], (frequency,)).gain_db[0, 0]
    full = field_at(screen, Transmitter(tuple(source)), [point], (frequency,), "full").gain_db[0, 0]
    assert full == pytest.approx(10 * np.log10(10 ** (bent / 10) + 10 ** (direct / 10)), abs=0.1)


def test_grid_and_points_agree() -> None:
    rng = np.random.default_rng(1)
    heavy = tuple(LayeredKind(k.name, k.structure, k.sd_db) for k in (KINDS[0], KINDS[1]) * 4)
    loose = strewn(rng, 25)
    scene = Scene(loose.panels_m, loose.panel_kind, loose.plates, heavy)
    grid = grid_over(0.013, 0.027, 9, 9, 1.03, (1.0, 4.0))
    transmitter = Transmitter((4.3, 3.9, 2.1), 20.0, "ceiling")
    fast = field(scene, transmitter, grid, BANDS, "full")
    slow = field_at(scene, transmitter, grid.points_m(), BANDS, "full")
    assert np.abs(fast.gain_db.reshape(3, -1) - slow.gain_db).max() < 0.05
    assert (fast.gain_db >= field(scene, transmitter, grid, BANDS, "reflections").gain_db - 1e-4).all()
