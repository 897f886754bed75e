"""The worth of a reading and the chance that it turns a verdict, against drawing the reading many times."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import ndtr, ndtri

from rehaul.predict.calibration import calibrate
from rehaul.predict.doubts import Sender, ways_to
from rehaul.predict.observations import Observation
from rehaul.predict.scene import HouseScene
from rehaul.proof.reading_worth import Margin, change_chance, worth
from rehaul.radio import Scene, kind

BOX = (0.0, 0.0, 2.0)
SENDS = Sender("RT1", "5")
PANELS = np.array([(4.0, -9.0, 4.0, 9.0, -0.1, 3.0), (-9.0, 5.0, 9.0, 5.0, -0.1, 3.0)])
SCENE = HouseScene(
    Scene(PANELS, np.array([0, 1], dtype=np.int32), (), (kind("brick-solid"), kind("lath-plaster"))), (), ()
)
DRAWS = 200_000
PLACES = np.array([(2.0, 1.0, 1.2), (6.0, 1.0, 1.2), (2.0, 7.0, 1.2), (7.0, 7.0, 1.2)])


@pytest.mark.parametrize("spatial", [True, False])
def test_against_drawing_the_reading(spatial: bool) -> None:
    """Places that share doubts and neighbourhood: draw truth and reading jointly, decide by the posterior."""
    rng = np.random.default_rng(11)
    readings = [
        Observation(f"r{i}", SENDS, "DV1", "phone", off, 2.5, ways_to(SCENE.scene, BOX, [at]))
        for i, (off, at) in enumerate([(-3.0, (5.0, 2.0, 1.2)), (1.0, (1.0, 3.0, 1.2))])
    ]
    found = calibrate(SCENE, readings, spatial=spatial)
    basis = found.doubts.basis(ways_to(SCENE.scene, BOX, PLACES), SENDS, "phone")
    view = found.view(basis)
    spots, margins = (1, 3), (1.5, -3.0)
    decisions = [
        Margin("R", "?", basis.at(np.array([spot])), margin, float(view.sd_db[spot]))
        for spot, margin in zip(spots, margins, strict=True)
    ]
    reading_sd = 2.5
    got = worth(found, view, reading_sd, decisions)
    chances = change_chance(decisions, got.moves_db)
    cross = found.covariance(view, view).astype(float)
    for place in range(len(PLACES)):
        if place in spots and not spatial:
            continue  # a reading there holds the place's own part, which doubts alone leave out
        total = float(view.sd_db[place]) ** 2 + reading_sd**2
        gain = 0.0
        for d, (spot, margin) in enumerate(zip(spots, margins, strict=True)):
            read = rng.normal(0.0, np.sqrt(total), DRAWS)
            mean = margin + cross[place, spot] / total * read
            gain += np.mean(np.maximum(mean, 0.0)) - max(margin, 0.0)
            left = np.sqrt(float(view.sd_db[spot]) ** 2 - cross[place, spot] ** 2 / total)
            turned = (mean >= ndtri(0.9) * left) != (ndtr(margin / float(view.sd_db[spot])) >= 0.9)
            assert chances[place, d] == pytest.approx(np.mean(turned), abs=0.005)
        assert got.gain_db[place] == pytest.approx(gain, abs=0.02)


def test_a_decision_that_is_certain_is_worth_no_reading() -> None:
    found = calibrate(SCENE, [])
    basis = found.doubts.basis(ways_to(SCENE.scene, BOX, PLACES), SENDS, "phone")
    sure = [Margin("R", "?", basis.at(np.array([3])), 60.0, 5.0)]
    got = worth(found, found.view(basis), 2.5, sure)
    assert got.gain_db.max() < 1e-6
    assert change_chance(sure, got.moves_db).max() < 1e-6


def test_without_decisions_nothing_is_worth_anything() -> None:
    found = calibrate(SCENE, [])
    basis = found.doubts.basis(ways_to(SCENE.scene, BOX, PLACES), SENDS, "phone")
    assert not worth(found, found.view(basis), 2.5, []).gain_db.any()
