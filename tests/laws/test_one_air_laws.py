"""What the choice takes a box to give is what the map of it shows: to the last bit, in every drawn house."""

from __future__ import annotations

import numpy as np
import pytest

from drawn_houses import drawn_job
from rehaul.predict import (
    Listener,
    asked,
    calibration_of,
    corrected_air,
    receivers_of,
    scene_of,
    standing_radiators,
)
from rehaul.predict.paths import Paths
from rehaul.radio import Cells

SEEDS = (3, 21, 41, 58, 7073)


@pytest.mark.parametrize("seed", SEEDS)
def test_some_places_have_the_air_of_the_whole_map(seed: int) -> None:
    """Power and spread, from spots that lie on no line of the grid and from some that do."""
    job = drawn_job(seed)
    scene, receivers = scene_of(job.house, job.country), receivers_of(job.house)
    boxes = standing_radiators(job)
    calibration = calibration_of(job, scene, boxes)
    random = np.random.default_rng(seed)
    every = np.flatnonzero(receivers.room.ravel() >= 0)
    cells = Cells(receivers.grid, random.permutation(every)[:300])
    paths = Paths(scene, cells)
    assert np.array_equal(cells.points_m(), receivers.grid.points_m()[cells.at])
    compared = 0
    for client in sorted({need.client for need in asked(job)} | {"phone", "old laptop"}):
        for box in boxes:
            there = corrected_air(job, scene, box, cells, Listener(client), calibration, paths)
            whole = corrected_air(job, scene, box, receivers.grid, Listener(client), calibration)
            for part, of in zip(there, whole, strict=True):
                compared += 1
                # what readings correct is a product of matrices, whose sums depend on their size
                room_for_sums = 1e-4 if calibration.says else 0.0
                assert np.abs(part.power_dbm - of.at(cells.at).power_dbm).max() <= room_for_sums
                assert np.abs(part.sd_db - of.at(cells.at).sd_db).max() <= room_for_sums
    assert compared or not boxes
