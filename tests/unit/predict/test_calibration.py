"""Readings correct the house: towards the truth, within the prior, and not led astray by a bad one."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from rehaul.facts.calibration import calibration_number
from rehaul.house import Quantity
from rehaul.jobs import demo_job
from rehaul.predict import calibration_of, receivers_of, scene_of, standing_radiators
from rehaul.predict.air import DEFAULT_LISTENER
from rehaul.predict.calibration import Calibration, calibrate, corrected_air
from rehaul.predict.correction import tail
from rehaul.predict.doubts import Sender, Ways, ways_to
from rehaul.predict.observations import Observation
from rehaul.predict.scene import HouseScene
from rehaul.radio import LayeredKind, Scene, kind, shadowing_sd_db

WALL = kind("brick-half")
SENDS = Sender("RT1", "5")
PHONE, CLIENT = "DV1", "phone"


def wall_scene(made_of: LayeredKind = WALL) -> HouseScene:
    """One long wall at x = 5 of one kind."""
    panels = np.array([(5.0, -20.0, 5.0, 20.0, -0.1, 3.0)])
    return HouseScene(Scene(panels, np.zeros(1, dtype=np.int32), (), (made_of,)), ("W1",), ())


def seen(name: str, place: tuple[float, float, float], off_db: float, sd_db: float = 2.5) -> Observation:
    ways = ways_to(wall_scene().scene, (0.0, 0.0, 2.0), [place])
    return Observation(name, SENDS, PHONE, CLIENT, off_db, sd_db, ways)


def far_side(count: int, off_db: float, *, near_db: float = 0.0) -> list[Observation]:
    """Readings on both sides of the wall; those behind it are off by `off_db`."""
    behind = [seen(f"B{i}", (6.0 + i % 4, -8.0 + 3.0 * i, 1.2), off_db) for i in range(count)]
    front = [seen(f"F{i}", (1.0 + i % 4, -8.0 + 3.0 * i, 1.2), near_db) for i in range(count)]
    return [*behind, *front]


def loss_of_wall(found: Calibration) -> tuple[float, float]:
    """What the readings add to one crossing, and how surely (standard deviation)."""
    row = np.zeros(len(found.doubts.names))
    row[0], row[2] = np.sqrt(0.3) * WALL.sd_db, 1.0
    return float(row @ found.correction.mean_db), float(np.sqrt(row @ found.correction.covariance @ row))


def test_without_readings_the_prior_comes_back() -> None:
    found = calibrate(wall_scene(), [])
    assert not found.correction.mean_db.any()
    unsure = tail(0) ** 2  # nobody knows how rough the house is
    assert found.correction.scale == pytest.approx(unsure)
    variance = unsure * found.doubts.prior_variance()
    np.testing.assert_allclose(np.diag(found.correction.covariance), variance)


def test_three_readings_help_and_thirty_settle() -> None:
    """A wall 4 dB worse than the table: the correction grows towards it, surer each time."""
    found = [loss_of_wall(calibrate(wall_scene(), far_side(n, -4.0))) for n in (1, 3, 10, 30)]
    losses = [loss for loss, _ in found]
    assert 0.2 < losses[0] < losses[1] < losses[2]
    assert all(1.0 < loss <= 4.0 for loss in losses[2:])  # what parts of the house share explains the rest
    assert all(a > b for (_, a), (_, b) in pairwise(found))


def test_it_never_runs_away() -> None:
    """Readings that no wall explains move the wall by less than they are off."""
    for count in (1, 3, 10, 30):
        loss, _ = loss_of_wall(calibrate(wall_scene(), far_side(count, -15.0)))
        assert 0 < loss <= 15.0


@pytest.mark.parametrize("others", [4, 8, 15])
def test_a_reading_from_the_wrong_room_is_shown_and_does_little(others: int) -> None:
    good = far_side(others, -2.0)
    clean = calibrate(wall_scene(), good)
    found = calibrate(wall_scene(), [*good, seen("BAD", (3.0, 0.5, 1.2), -32.0)])
    assert found.suspects == ("BAD",)
    assert loss_of_wall(found)[0] == pytest.approx(loss_of_wall(clean)[0], abs=0.6)


def test_the_readings_say_how_rough_the_house_is() -> None:
    rng = np.random.default_rng(5)
    freedom = calibration_number("scale_freedom")
    for sd_db in (1.5, 4.5, 9.0):
        off = rng.normal(0, sd_db, 60)
        places = [(1.0 + i % 4, -18 + 0.6 * i, 1.2) for i in range(60)]
        readings = [seen(f"F{i}", places[i], float(value)) for i, value in enumerate(off)]
        far = np.linalg.norm(np.array(places) - (0.0, 0.0, 2.0), axis=1)
        own = shadowing_sd_db(np.log10(far)) ** 2 + 2.5**2  # of the tables, and the reading's own
        level = np.sum(off / own) / np.sum(1 / own)
        plain = (freedom + np.sum((off - level) ** 2 / own)) / (freedom + 60)
        assert calibrate(wall_scene(), readings).correction.scale == pytest.approx(plain, rel=0.15)


def test_a_reading_says_most_of_its_own_neighbourhood() -> None:
    found = calibrate(wall_scene(), [seen("F1", (3.0, 0.0, 1.2), 6.0)])
    ways = ways_to(wall_scene().scene, (0.0, 0.0, 2.0), [(3.0, y, 1.2) for y in (0.0, 0.5, 2.0, 9.0)])
    view = found.view(found.doubts.basis(ways, SENDS, CLIENT))
    shift, sd = view.shift_db, view.sd_db
    assert np.all(np.diff(-shift) < 0) and np.all(np.diff(sd) > 0)
    other_storey = ways_to(wall_scene().scene, (0.0, 0.0, 2.0), [(3.0, 0.0, 4.2)])
    above = found.view(found.doubts.basis(other_storey, SENDS, CLIENT))
    assert abs(above.shift_db[0]) < 0.6 * abs(shift[0])


def test_the_joint_normal_equals_a_plain_one() -> None:
    """Against the conditional normal written out on all places and readings at once."""
    readings = far_side(3, -3.0, near_db=1.0)
    found = calibrate(wall_scene(), readings)
    ways = ways_to(wall_scene().scene, (0.0, 0.0, 2.0), [(3.0, 1.0, 1.2), (7.0, 2.0, 1.2)])
    places = found.doubts.basis(ways, SENDS, CLIENT)
    prior = found.doubts.prior_variance()
    rows = [found.doubts.basis(one.ways, one.source, one.client, one.device) for one in readings]
    design = np.concatenate([row.design for row in rows] + [places.design], axis=1).astype(float)
    points = np.concatenate([row.points_m for row in rows] + [places.points_m])
    own = np.concatenate([row.own_variance for row in rows] + [places.own_variance]).astype(float)
    distance = np.hypot(*(points[:, None, :2] - points[None, :, :2]).transpose(2, 0, 1))
    room = np.minimum(own, 5.5**2)  # what stands about a place; what comes on top reaches farther
    joint = 0.88 * np.exp(-distance / 4.0) * np.sqrt(np.outer(room, room))
    joint += 0.9 * np.exp(-distance / 15.0) * np.sqrt(np.outer(own - room, own - room))
    np.fill_diagonal(joint, own)
    joint += design.T @ np.diag(prior) @ design
    n = len(readings)
    noise = 2.5**2 + (own[:n] + 2.5**2) * (1 / found.correction.weight - 1)
    solved = np.linalg.inv(joint[:n, :n] + np.diag(noise))
    loss = np.array([-one.difference_db for one in readings])
    mean = joint[n:, :n] @ solved @ loss
    covariance = found.correction.scale * (joint[n:, n:] - joint[n:, :n] @ solved @ joint[:n, n:])
    view = found.view(places)
    np.testing.assert_allclose(view.shift_db, mean, atol=1e-3)
    np.testing.assert_allclose(view.sd_db, np.sqrt(np.diag(covariance)), atol=1e-3)
    between = np.triu(found.covariance(view, view), 1)
    np.testing.assert_allclose(between, np.triu(covariance, 1), atol=2e-3)


def test_many_readings_are_taken_by_the_terms_alone() -> None:
    readings = [seen(f"F{i}", (1.0 + i % 4, -15 + 0.1 * i, 1.2), -1.0) for i in range(320)]
    assert calibrate(wall_scene(), readings).residual is None
    assert isinstance(readings[0].ways, Ways)


def test_a_job_s_readings_narrow_its_map() -> None:
    job = demo_job()
    scene, receivers = scene_of(job.house, job.country), receivers_of(job.house, 0.5)
    (box, *_) = standing_radiators(job)
    found = calibration_of(job, scene, standing_radiators(job))
    assert found.readings
    before = corrected_air(job, scene, box, receivers.grid, DEFAULT_LISTENER)
    after = corrected_air(job, scene, box, receivers.grid, DEFAULT_LISTENER, found)
    inside = receivers.room >= 0
    assert after[0].sd_db[inside].mean() < before[0].sd_db[inside].mean()
    assert {reading.quantity for reading in job.readings} <= set(Quantity)
