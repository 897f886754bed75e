"""Big bodies are seen round: at every level, on grids and at points, never darker than their edges let be.

What only the edges do is looked at under the open sky, where no room scatters anything past a body.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from body_twin import edges_of, left_share, scattered_share
from counts import LONG
from radio_scenes import box_panels
from rehaul.facts.radio_numbers import radio_numbers
from rehaul.radio import (
    Bulk,
    DiffuseRoom,
    Grid,
    Scene,
    Transmitter,
    crossing_counts,
    crossings,
    field,
    field_at,
    grid_over,
    kind,
    plate,
)
from rehaul.radio.band import FrequencyBand
from rehaul.radio.diffuse import usual_room
from rehaul.radio.losstable import loss_table

BANDS = (2.442e9, 5.5e9, 6.5e9)
KINDS = tuple(kind(name) for name in ("metal-body", "chimney-breast", "stud-plasterboard", "timber-floor"))
LEFT_OUT_DB = 0.05  # what the grid leaves out of mirrors fainter than the direct path
LEVELS = ("direct", "reflections", "full")
FRIDGE = Bulk((2.0, -0.3, 0.0), (2.6, 0.3, 1.8), 0)
IN_THE_OPEN = replace(FRIDGE, room=None)
NO_PANELS = np.empty((0, 6)), np.empty(0, dtype=np.int32)
SENDER = Transmitter((0.0, 0.0, 1.2))


def among(*bodies: Bulk) -> Scene:
    return Scene(*NO_PANELS, (), KINDS, bodies)


def room(*bodies: Bulk) -> Scene:
    """Six metres by five of plasterboard between timber floors."""
    ring = [(0, 0), (6, 0), (6, 5), (0, 5)]
    plates = plate(0.0, ring, 3), plate(2.6, ring, 3)
    return Scene(box_panels(0, 0, 6, 5, 0, 2.6), np.full(4, 2, dtype=np.int32), plates, KINDS, bodies)


def lost_db(scene: Scene, sender: Transmitter, places: object, level: str = "direct") -> np.ndarray:
    """What the bodies of a scene cost."""
    bare = Scene(scene.panels_m, scene.panel_kind, scene.plates, scene.kinds)
    with_bodies = field(scene, sender, places, BANDS, level, eased=False)  # type: ignore[arg-type]
    return field(bare, sender, places, BANDS, level, eased=False).gain_db - with_bodies.gain_db  # type: ignore[arg-type]


def test_nowhere_darker_than_what_goes_round() -> None:
    grid = grid_over(-2, -4, 8, 4, 0.2 if LONG else 0.33, (0.3, 1.0, 1.7, 2.2))
    hung = Bulk((3.1, 1.0, 1.1), (3.5, 1.5, 1.9), 0, under=True)
    long = Bulk((1.5, -2.0, 0.0), (5.0, -1.7, 2.5), 0, over=False)
    in_rooms = FRIDGE, hung, long
    for body in (*in_rooms, *(replace(body, room=None) for body in in_rooms)):
        found = lost_db(among(body), SENDER, grid).reshape(3, -1)
        behind = 0
        for point, lost in zip(grid.points_m(), found.T, strict=True):
            before, after, _ = edges_of(body, np.array(SENDER.position_m), point)
            if np.hypot(*point[:2]) < abs(point[2] - SENDER.position_m[2]):
                continue  # steeper than 45 degrees
            if min(before, after) <= 0.0:  # the plane of the body is not between the ends
                assert (lost == 0.0).all()
                continue
            for frequency, loss in zip(BANDS, lost, strict=True):
                if loss <= 0.01:  # no share is more than all
                    continue
                share = left_share(body, np.array(SENDER.position_m), point, frequency)
                assert loss <= -10 * np.log10(share) + 0.01
                behind += loss > (6 if body.room is None else 0.7)
        assert behind > 100


@pytest.mark.parametrize("level", LEVELS)
def test_grid_and_points_agree(level: str) -> None:
    bodies = (
        Bulk((2.7, 2.1, 0.0), (3.3, 2.75, 1.8), 0, room=DiffuseRoom(117.2, 78.0)),
        Bulk((4.4, 0.2, 1.1), (4.9, 0.6, 1.9), 0, under=True, room=None),
    )
    scene, grid = room(*bodies), Grid(0.117, 0.131, 0.31, 19, 16, (0.413, 1.117, 2.113))
    sender = Transmitter((1.03, 1.71, 1.219), 20.0, "desk")
    fast = field(scene, sender, grid, BANDS, level)  # type: ignore[arg-type]
    slow = field_at(scene, sender, grid.points_m(), BANDS, level)  # type: ignore[arg-type]
    difference = fast.gain_db.reshape(3, -1) - slow.gain_db
    assert difference.min() > -LEFT_OUT_DB and difference.max() < 5e-3
    assert np.abs(fast.sd_db.reshape(3, -1) - slow.sd_db).max() < 0.02
    assert lost_db(scene, sender, grid, level).max() > 3


@pytest.mark.parametrize("level", LEVELS)
def test_a_body_darkens_at_every_level_and_never_more_than_directly(level: str) -> None:
    scene, places = room(Bulk((2.7, 2.1, 0.0), (3.3, 2.75, 1.8), 0)), [(5.2, 2.5, 1.0)]
    lost = lost_db(scene, Transmitter((0.9, 2.4, 1.2)), places, level)
    direct = lost_db(scene, Transmitter((0.9, 2.4, 1.2)), places)
    assert (lost > 0.5).all() and (lost <= direct + 1e-3).all()


def test_legs_of_a_reflection_are_shaded_where_they_pass_the_body() -> None:
    """One wall throws back; the straight path is clear, one leg after the other runs into the body."""
    wall = np.array([[-9.0, 3.0, 9.0, 3.0, -9.0, 9.0]])
    sender, places = Transmitter((-3.0, 0.0, 1.0)), [(3.0, 0.0, 1.0)]

    def gain(*bodies: Bulk) -> np.ndarray:
        scene = Scene(wall, np.array([0], dtype=np.int32), (), KINDS, bodies)
        return field_at(scene, sender, places, BANDS, "reflections").gain_db[:, 0]

    behind_the_wall = Bulk((-1.8, 4.2, 0.0), (-1.2, 4.8, 2.0), 0)
    assert gain(behind_the_wall) == pytest.approx(gain(), abs=1e-4)
    for room, least in ((None, 0.5), (usual_room(), 0.1)):
        on_first = Bulk((-1.8, 1.2, 0.0), (-1.2, 1.8, 2.0), 0, room=room)
        on_second = Bulk((1.2, 1.2, 0.0), (1.8, 1.8, 2.0), 0, room=room)
        assert (gain() - gain(on_first) > least).all()
        assert gain(on_first) == pytest.approx(gain(on_second), abs=1e-3)


def test_a_leg_of_a_reflection_gains_what_the_room_scatters_along_the_whole_of_it() -> None:
    """A metal wall throws back; unfolded, the power of that way is that of one straight ray past the body."""
    wall = np.array([[-9.0, 3.0, 9.0, 3.0, -9.0, 9.0]])
    sender, place, image = Transmitter((-3.0, 0.0, 1.0)), (3.0, 0.0, 1.0), np.array([3.0, 6.0, 1.0])

    def mirrored(*bodies: Bulk) -> np.ndarray:
        scene = Scene(wall, np.array([0], dtype=np.int32), (), KINDS, bodies)
        total, straight = (
            field_at(scene, sender, [place], BANDS, level).gain_db[:, 0].astype(float)  # type: ignore[arg-type]
            for level in ("reflections", "direct")
        )
        return 10 ** (total / 10) - 10 ** (straight / 10)

    body = Bulk((-1.8, 1.2, 0.0), (-1.2, 1.8, 2.0), 0, room=DiffuseRoom(200.0, 150.0))
    left = {room: mirrored(replace(body, room=room)) / mirrored() for room in (None, body.room)}
    scattered = scattered_share(body, np.array(sender.position_m), image)
    assert left[body.room] == pytest.approx((left[None] + scattered) / (1 + scattered), rel=0.01)
    assert (left[body.room] > 1.5 * left[None]).all()


def test_beyond_the_room_the_scattered_falls_as_the_straight_does() -> None:
    """A body that shuts a room of 4.5 × 4 × 2.5 m: behind it the share stays as it was at the wall."""
    shut = Bulk((1.0, -900.0, -900.0), (1.2, 900.0, 900.0), 0, over=False)
    lost = lost_db(among(shut), SENDER, [(x, 0.0, 1.2) for x in (1.3, 2.0, 4.0, 8.0, 16.0)])
    assert (np.diff(lost[:, :3], axis=1) < -0.5).all()
    assert np.ptp(lost[:, 2:], axis=1) == pytest.approx(np.zeros(3), abs=1e-3)


def test_what_a_body_is_made_of_is_passed_once() -> None:
    """Sideways far too wide to be gone round: what is left is one passage of the construction."""
    wide = Bulk((2.0, -60.0, -60.0), (2.5, 60.0, 60.0), 1, over=False, room=None)
    lost = lost_db(among(wide), SENDER, [(5.0, 0.0, 1.2)])[:, 0]
    straight_on = [loss_table(KINDS[1].structure, FrequencyBand(hz)).loss_db[-1] for hz in BANDS]
    assert (lost <= np.array(straight_on) + 1e-3).all() and lost == pytest.approx(straight_on, abs=0.6)


def test_beside_over_and_behind_nothing_is_lost() -> None:
    places = [(5.0, 2.5, 1.0), (5.0, -2.5, 1.0), (1.5, 0.0, 1.0), (-2.0, 0.0, 1.0), (5.0, 0.0, 6.0)]
    assert np.abs(lost_db(among(FRIDGE), SENDER, places)).max() < 1e-3


def test_a_transmitter_on_the_side_of_a_column_is_free_in_front_of_it() -> None:
    column = Bulk((-0.41, -0.2, 0.0), (-0.01, 0.2, 2.5), 0, over=False, room=None)
    assert np.abs(lost_db(among(column), SENDER, [(3.0, 0.0, 1.0), (2.0, 2.0, 1.0)])).max() < 1e-3
    assert (lost_db(among(column), SENDER, [(-3.0, 0.0, 1.0)]) > 6).all()


def test_a_way_that_a_slab_closes_is_not_one() -> None:
    def lost(**ways: bool) -> np.ndarray:
        body = Bulk((2.0, -0.6, 1.0), (2.2, 0.6, 1.5), 0, room=None, **ways)
        return lost_db(among(body), SENDER, [(4.0, 0.0, 1.25)])[:, 0]

    closed, over, both = lost(over=False), lost(over=True), lost(over=True, under=True)
    assert (closed > over + 1).all() and (over > both + 1).all()
    storey_above = lost_db(
        among(Bulk((2.0, -0.6, 0.0), (2.2, 0.6, 2.4), 0, over=False)),
        Transmitter((0, 0, 3.5)),
        [(4.0, 0.0, 3.7)],
    )
    assert np.abs(storey_above).max() < 1e-3


def test_the_list_of_crossings_adds_up_to_the_field() -> None:
    wall = np.array([[3.5, -9.0, 3.5, 9.0, -9.0, 9.0]])
    scene = Scene(wall, np.array([2], dtype=np.int32), (), KINDS, (FRIDGE,))
    found = crossings(scene, SENDER.position_m, (5.0, 0.2, 1.0), BANDS)
    assert [(c.piece, c.kind) for c in found] == [("body", "metal-body"), ("panel", "stud-plasterboard")]
    assert found[0].distance_m == pytest.approx(2.3, abs=0.05)
    bare = field_at(among(), SENDER, [(5.0, 0.2, 1.0)], BANDS)
    met = field(scene, SENDER, [(5.0, 0.2, 1.0)], BANDS, eased=False)
    assert bare.gain_db - met.gain_db == pytest.approx(sum(c.loss_db for c in found)[:, None], abs=2e-3)
    eased = field_at(scene, SENDER, [(5.0, 0.2, 1.0)], BANDS)
    expected = np.sqrt(sum(c.loss_db**2 for c in found))
    assert bare.gain_db - eased.gain_db == pytest.approx(expected[:, None], abs=1e-2)
    assert len(crossings(scene, SENDER.position_m, (5.0, 2.5, 1.0), BANDS)) == 1


def test_a_body_counts_as_the_part_of_a_crossing_that_it_costs() -> None:
    points = [(5.0, 0.0, 1.0), (5.0, 2.5, 1.0), (1.0, 0.0, 1.0)]
    counts = crossing_counts(among(FRIDGE), SENDER.position_m, points)
    lost = crossings(among(FRIDGE), SENDER.position_m, points[0], (5.5e9,))[0].loss_db[0]
    through = loss_table(KINDS[0].structure, FrequencyBand(5.5e9)).loss_db[-1]
    assert counts[0] == pytest.approx([lost / through, 0, 0], abs=1e-3)
    grid = Grid(3.01, -1.03, 0.25, 12, 9, (0.4, 1.0))
    on_grid = crossing_counts(among(FRIDGE), SENDER.position_m, grid)
    at_points = crossing_counts(among(FRIDGE), SENDER.position_m, grid.points_m())
    assert on_grid.reshape(len(KINDS), -1) == pytest.approx(at_points, abs=1e-3)


def test_the_spread_of_a_body_is_its_kinds_by_its_share_and_not_by_the_bands_asked() -> None:
    grid = grid_over(-1, -3, 7, 3, 0.25, (1.0,))
    three = field(among(IN_THE_OPEN), SENDER, grid, BANDS, eased=False)
    alone = field(among(IN_THE_OPEN), SENDER, grid, BANDS[:1], eased=False)
    assert np.array_equal(three.sd_db[0], alone.sd_db[0])
    numbers = radio_numbers()
    shadowing, distance = numbers["shadowing_near_sd"], numbers["spreading_sd"] * np.log10(5.0)
    own = np.hypot(shadowing, distance)
    assert shadowing + 0.2 < three.sd_db.max() <= np.hypot(own, KINDS[0].sd_db)
    place = [(5.0, 0.0, 1.0)]
    part = crossing_counts(among(IN_THE_OPEN), SENDER.position_m, place)[0, 0]
    for eased in (False, True):  # a body alone on a path counts the same eased
        behind = field(among(IN_THE_OPEN), SENDER, place, BANDS, eased=eased)
        there = np.hypot(
            shadowing,
            numbers["spreading_sd"] * np.log10(np.linalg.norm(np.array(place[0]) - SENDER.position_m)),
        )
        assert behind.sd_db[0, 0] == pytest.approx(np.hypot(there, part * KINDS[0].sd_db), rel=0.02)


def test_an_upright_field_loses_as_much() -> None:
    grid = grid_over(-1, -3, 7, 3, 0.5, (1.0,))
    bare = field(among(), SENDER, grid, BANDS, polarisation="upright").gain_db
    met = field(among(FRIDGE), SENDER, grid, BANDS, polarisation="upright").gain_db
    assert bare - met == pytest.approx(lost_db(among(FRIDGE), SENDER, grid), abs=2e-3)


def test_foil_and_metal_doors_are_panels_as_they_were() -> None:
    kinds = (kind("metal-body"),)
    scene = Scene(np.array([[2.0, -9, 2.0, 9, -9, 9.0]]), np.zeros(1, dtype=np.int32), (), kinds)
    lost = lost_db(scene, SENDER, [(5.0, 0.0, 1.2)])  # no bodies: nothing
    assert lost == pytest.approx(np.zeros((3, 1)))
    assert crossings(scene, SENDER.position_m, (5.0, 0.0, 1.2), (5.5e9,))[0].loss_db[0] == pytest.approx(
        30, abs=0.5
    )
