"""Readings that heard nothing count as a bound: against quadrature, and where leaving them out misleads."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm

from rehaul.house import Quantity
from rehaul.jobs import demo_job
from rehaul.predict.calibration import calibrate
from rehaul.predict.censored import stand_ins
from rehaul.predict.doubts import Sender, ways_to
from rehaul.predict.observations import Observation
from rehaul.predict.scene import HouseScene
from rehaul.proof import new_reading
from rehaul.radio import Scene, kind

SENDS, BOX = Sender("RT1", "5"), (0.0, 0.0, 2.0)
WALL = np.array([(5.0, -20.0, 5.0, 20.0, -0.1, 3.0)])
SCENE = HouseScene(Scene(WALL, np.zeros(1, dtype=np.int32), (), (kind("brick-half"),)), ("W1",), ())
FLOOR_DB = -6.0  # power at which nothing is heard, less what is predicted behind the wall


@pytest.mark.parametrize("bound", [-12.0, -3.0, 0.0, 4.0, 12.0])
def test_one_bound_against_quadrature(bound: float) -> None:
    variance, noise = 49.0, 9.0
    value, spread = stand_ins(np.array([[variance]]), np.array([bound]), np.array([noise]), np.array([True]))
    precision = 1 / variance + 1 / spread[0]
    got_mean, got_var = value[0] / spread[0] / precision, 1 / precision
    x = np.linspace(-80, 80, 40001)
    weight = norm.pdf(x, 0, np.sqrt(variance)) * norm.cdf((x - bound) / np.sqrt(noise))
    mean = float(np.sum(x * weight) / np.sum(weight))
    assert got_mean == pytest.approx(mean, abs=1e-3)
    assert got_var == pytest.approx(float(np.sum((x - mean) ** 2 * weight) / np.sum(weight)), abs=1e-2)


def test_two_bounds_against_drawing() -> None:
    prior = np.array([[36.0, 20.0], [20.0, 49.0]])
    bound, noise = np.array([3.0, 6.0]), np.array([4.0, 4.0])
    value, spread = stand_ins(prior, bound, noise, np.array([True, True]))
    posterior = np.linalg.inv(np.linalg.inv(prior) + np.diag(1 / spread))
    rng = np.random.default_rng(3)
    drawn = rng.multivariate_normal([0, 0], prior, 400_000)
    kept = drawn[((drawn + rng.normal(0, 2, drawn.shape)) >= bound).all(axis=1)]
    assert posterior @ (value / spread) == pytest.approx(kept.mean(axis=0), abs=0.15)


def test_plain_readings_stay_as_they_are() -> None:
    value, noise = np.array([1.0, -2.0]), np.array([4.0, 9.0])
    found = stand_ins(np.eye(2) * 30, value, noise, np.zeros(2, dtype=np.bool_))
    assert found[0] is value and found[1] is noise


def test_a_bound_far_above_says_nothing() -> None:
    """Nothing was heard where nothing could be expected to be heard."""
    value, spread = stand_ins(np.array([[25.0]]), np.array([-60.0]), np.array([4.0]), np.array([True]))
    assert abs(value[0] / spread[0]) < 1e-3 and spread[0] > 1e6


def test_leaving_them_out_misleads_and_counting_them_does_not() -> None:
    """A wall 12 dB worse than its table: most places behind it hear nothing, the lucky ones are heard.

    Over many such houses the map behind the wall comes out too strong where only the heard places count.
    """
    rng, off_by = np.random.default_rng(8), {"left out": [], "counted": []}
    places = [(7.0, y, 1.2) for y in np.linspace(-9, 9, 12)]
    for _ in range(12):
        truth = -12.0 + rng.normal(0, 6, len(places))
        seen = [
            Observation(
                f"r{i}", SENDS, "DV1", "phone", float(max(off, FLOOR_DB)), 2.5,
                ways_to(SCENE.scene, BOX, [place]), bool(off < FLOOR_DB),
            )
            for i, (off, place) in enumerate(zip(truth, places, strict=True))
        ]  # fmt: skip
        for how, used in (("left out", [one for one in seen if not one.at_most]), ("counted", seen)):
            found = calibrate(SCENE, used)
            basis = found.doubts.basis(ways_to(SCENE.scene, BOX, places), SENDS, "phone", "DV1")
            off_by[how].append(float(np.mean(-found.view(basis).shift_db - truth)))
    assert np.mean(off_by["left out"]) > 5.0
    assert abs(np.mean(off_by["counted"])) < 0.5 * np.mean(off_by["left out"])


def test_nothing_heard_is_typed_as_it_is_said() -> None:
    job = demo_job()
    room = job.house.rooms[0].name
    (plain,) = new_reading(job, {"power_dbm": "-71", "room": room})
    (bound,) = new_reading(job, {"power_dbm": "<-90", "room": room})
    (nothing,) = new_reading(job, {"power_dbm": "nothing", "room": room})
    assert (plain.value, plain.at_most) == (-71, False)
    assert (bound.value, bound.at_most) == (-90, True)
    assert nothing.at_most and nothing.value < -85 and nothing.quantity is Quantity.POWER_DBM
