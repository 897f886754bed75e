"""Big bodies as properties: both ways alike, turned and moved alike, smooth, one more never helps."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from body_twin import edges_of, left_share, scattered_share
from counts import counted
from rehaul.radio import Bulk, DiffuseRoom, Scene, Transmitter, field, field_at, grid_over, kind

BANDS = (2.442e9, 5.5e9, 6.5e9)
KINDS = tuple(kind(name) for name in ("metal-body", "chimney-breast", "book-wall", "mirror"))
SIZE = st.tuples(st.floats(0.1, 2.0), st.floats(0.1, 2.0), st.floats(0.2, 2.4))
PLACE = st.tuples(st.floats(0.0, 8.0), st.floats(0.0, 8.0), st.floats(0.2, 2.4))


@st.composite
def any_body(draw: st.DrawFn) -> Bulk:
    low, size = np.array(draw(PLACE)), np.array(draw(SIZE))
    over, under = draw(st.booleans()), draw(st.booleans())
    room = draw(st.none() | st.builds(lambda *sides: room_of(*sides), *[st.floats(1.5, 20.0)] * 3))
    over = over or room is None  # under the open sky nothing closes the way over it
    return Bulk(tuple(low), tuple(low + size), draw(st.integers(0, 3)), over=over, under=under, room=room)


def room_of(x: float, y: float, z: float) -> DiffuseRoom:
    return DiffuseRoom(2 * (x * y + y * z + z * x), x * y * z)


def among(*bodies: Bulk) -> Scene:
    return Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), KINDS, bodies)


def gain_db(scene: Scene, start: object, points: object) -> np.ndarray:
    return field_at(scene, Transmitter(tuple(start)), points, BANDS).gain_db  # type: ignore[arg-type]


def lost_db(scene: Scene, start: object, points: object) -> np.ndarray:
    return gain_db(among(), start, points) - gain_db(scene, start, points)


@settings(max_examples=counted(80, 200), deadline=None)
@given(any_body(), PLACE, PLACE)
def test_a_path_past_a_body_is_the_same_both_ways(body: Bulk, a: tuple, b: tuple) -> None:
    assume(np.hypot(a[0] - b[0], a[1] - b[1]) > 0.05)
    assert gain_db(among(body), a, [b]) == pytest.approx(gain_db(among(body), b, [a]), abs=2e-3)


@settings(max_examples=counted(80, 200), deadline=None)
@given(any_body(), PLACE, PLACE)
def test_a_body_takes_no_more_than_its_own_loss_and_never_gives(body: Bulk, a: tuple, b: tuple) -> None:
    lost = lost_db(among(body), a, [b])
    wall = np.array([[1.0, -9.0, 1.0, 9.0, -9.0, 9.0]])  # the same construction as a wall, met square on
    through = replace(among(), panels_m=wall, panel_kind=np.array([body.kind], dtype=np.int32))
    most = gain_db(among(), (0, 0, 1), [(2, 0, 1)]) - gain_db(through, (0, 0, 1), [(2, 0, 1)])
    assert (lost > -1e-3).all() and (lost <= most + 2e-3).all()


@settings(max_examples=counted(80, 200), deadline=None)
@given(any_body(), PLACE, PLACE)
def test_nowhere_darker_than_what_goes_round(body: Bulk, a: tuple, b: tuple) -> None:
    start, end = np.array(a), np.array(b)
    assume(np.hypot(*(start - end)[:2]) > abs(start - end)[2])  # flatter than 45 degrees
    before, after, _ = edges_of(body, start, end)
    assume(min(before, after) > 0.02)
    lost = lost_db(among(body), a, [b])[:, 0]
    for frequency, loss in zip(BANDS, lost, strict=True):
        assert loss <= -10 * np.log10(left_share(body, start, end, frequency)) + 0.01


@settings(max_examples=counted(80, 200), deadline=None)
@given(any_body(), PLACE, PLACE)
def test_the_room_adds_to_both_what_comes_past_and_what_came_before(body: Bulk, a: tuple, b: tuple) -> None:
    start, end = np.array(a), np.array(b)
    assume(np.hypot(*(start - end)[:2]) > 0.05)
    for place in (start, end):
        assume(np.maximum(np.array(body.low_m) - place, place - np.array(body.high_m)).max() > 0.02)
    before, after, _ = edges_of(body, start, end)
    half = (np.array(body.high_m) - np.array(body.low_m)) / 2
    along = (end - start) / np.linalg.norm(end - start)
    # nearer than half of its half depth an end is taken to be partly within the body
    assume(min(before, after) > max(0.02, 0.5 / np.linalg.norm(along / half)))
    lost = lost_db(among(body), a, [b])[:, 0]
    share = 10 ** (-lost_db(among(replace(body, room=None)), a, [b])[:, 0] / 10)
    scattered = scattered_share(body, start, end)
    whole = np.abs(lost) < 1e-3  # not on the way
    expected = -10 * np.log10((share + scattered) / (1 + scattered))
    assert lost[~whole] == pytest.approx(expected[~whole], abs=0.02)
    assert (expected[whole] < 0.05).all()


@settings(max_examples=counted(40, 100), deadline=None)
@given(any_body(), PLACE, PLACE, st.integers(0, 3), st.tuples(*[st.floats(-20, 20)] * 3))
def test_turning_and_moving_the_house_changes_nothing(
    body: Bulk, a: tuple, b: tuple, turns: int, shift: tuple
) -> None:
    assume(np.hypot(a[0] - b[0], a[1] - b[1]) > 0.05)
    turn = np.linalg.matrix_power(np.array([[0, -1, 0], [1, 0, 0], [0, 0, 1]]), turns)
    corners = np.array([turn @ corner + shift for corner in (body.low_m, body.high_m)])
    moved = replace(body, low_m=tuple(corners.min(axis=0)), high_m=tuple(corners.max(axis=0)))
    before = lost_db(among(body), a, [b])
    after = lost_db(among(moved), turn @ a + shift, [turn @ b + shift])
    assert after == pytest.approx(before, abs=5e-3)


@settings(max_examples=counted(40, 100), deadline=None)
@given(any_body(), PLACE, PLACE, st.floats(0, 2 * np.pi))
def test_moved_by_a_millimetre_it_costs_the_same_to_a_fraction_of_a_decibel(
    body: Bulk, a: tuple, b: tuple, angle: float
) -> None:
    """Ends at least a quarter of a metre clear of the body, which is moved in any direction of the plan.

    In a room: past bare edges a steep ray beside a closed way goes as fast as 0.4 dB a millimetre.
    """
    assume(body.room is not None)
    start, end = np.array(a), np.array(b)
    assume(np.hypot(*(start - end)[:2]) > 1.0)
    for place in (start, end):
        outside = np.maximum(np.array(body.low_m) - place, place - np.array(body.high_m)).max()
        assume(outside > 0.25)
    shift = 1e-3 * np.array([np.cos(angle), np.sin(angle), 0.0])
    moved = replace(body, low_m=tuple(body.low_m + shift), high_m=tuple(body.high_m + shift))
    assert lost_db(among(moved), a, [b]) == pytest.approx(lost_db(among(body), a, [b]), abs=0.2)


@settings(max_examples=counted(40, 100), deadline=None)
@given(any_body(), PLACE, PLACE)
def test_a_ray_well_clear_of_a_body_loses_nothing(body: Bulk, a: tuple, b: tuple) -> None:
    """However steep it is: no place of it is within the reach of a knife edge at 2.4 GHz of the body."""
    start, end = np.array(a), np.array(b)
    reach = 0.1 * np.sqrt(np.linalg.norm(end - start)) + 0.02
    along = start + np.linspace(0, 1, 400)[:, None] * (end - start)
    outside = np.maximum(np.array(body.low_m) - along, along - np.array(body.high_m)).max(axis=1)
    assume(outside.min() > reach)
    assert np.abs(lost_db(among(body), a, [b])).max() < 1e-3


@settings(max_examples=30, deadline=None)
@given(st.lists(any_body(), min_size=1, max_size=6), PLACE)
def test_one_more_body_never_helps_and_the_grid_agrees(bodies: list[Bulk], start: tuple) -> None:
    grid = grid_over(-1.013, -1.017, 9, 9, 0.51, (0.417, 1.013, 3.711))
    sender = Transmitter(start)
    more, fewer = (field(among(*some), sender, grid, BANDS) for some in (bodies, bodies[:-1]))
    assert (more.gain_db <= fewer.gain_db + 1e-3).all()
    points = field_at(among(*bodies), sender, grid.points_m(), BANDS)
    assert np.abs(more.gain_db.reshape(3, -1) - points.gain_db).max() < 5e-3
    assert np.abs(more.sd_db.reshape(3, -1) - points.sd_db).max() < 1e-3
