"""Measured places: how sure predictions are, what the first readings do, how loud devices are taken to be.

Floors a little below what `benchmarks/prediction_truth.py` prints.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
import prediction_truth as truth
from calibration_truth import boxes_of
from measured_sets import measured_set

from rehaul.predict.doubts import straight_db


@pytest.fixture(autouse=True)
def _data(shared_data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    if not (shared_data / "radio").is_dir():
        pytest.skip("the measured sets are not here")
    monkeypatch.setattr(truth, "DRAWS", 3)
    monkeypatch.setattr(truth, "MOST_PLACES", 200)


def judged(count: int) -> dict[tuple[str, str], truth.Judged]:
    found = {
        key: truth.judged(boxes_of(measured_set(key[0]), key[1]), count) for key in truth.keys_of(truth.SETS)
    }
    return {key: one for key, one in found.items() if one is not None}


def test_ranges_hold_what_they_promise_and_the_first_reading_narrows_them() -> None:
    """Pooled over the sets 85 to 96 % lie inside a 90 % range, before readings and after 1, 3 and 10."""
    widths = {}
    for count in (0, 1, 3, 10):
        found = judged(count)
        held = np.mean([one.held.mean() for one in found.values()])
        assert 0.85 <= held <= 0.96, (count, held)
        widths[count] = {key: one.width_db for key, one in found.items()}
    mean = {count: np.mean([row[key] for key in widths[10]]) for count, row in widths.items()}
    assert mean[1] < mean[0] and mean[3] < mean[1] and mean[10] < mean[3]


def test_homes_after_ten_readings() -> None:
    """The aims are 3.6 and 4.5 dB; one draw more or less moves them by 0.1."""
    limits = {("ble-flat", "2.4"): 3.75, ("rtt-apartment", "2.4"): 4.7}
    found = judged(10)
    for key, limit in limits.items():
        assert truth.rmse(found[key].errors) <= limit


def test_level_with_nothing_fitted() -> None:
    """Within 4 dB on all but the three storeys at 2.4 GHz, which read 9 dB below; ranges hold nine tenths."""
    for name, band in (key for key in truth.keys_of(truth.SETS) if key[0].startswith("sod")):
        errors, sds = truth.absolute(name, band)
        every, sd = np.concatenate(errors), np.concatenate(sds)
        if (name, band) != ("sod-cetc", "2.4"):
            assert abs(every.mean()) <= 4.0, (name, band)
        assert np.mean(np.abs(every) <= truth.Z_90 * sd) >= 0.78, (name, band)


def test_three_readings_with_one_phone_take_the_bias_off(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(truth, "DRAWS", 12)
    for name, band in (key for key in truth.keys_of(truth.SETS) if key[0].startswith("sod")):
        boxes = boxes_of(measured_set(name), band)
        # 3.3 there, and 2.7 while far places were believed as much as near ones; the aim is 2
        limit = 3.5 if (name, band) == ("sod-cetc", "2.4") else 2.0
        assert abs(truth.bias_db(boxes, band, 3)) <= limit, (name, band)


def test_unknown_floors_cost_what_measured_ones_do() -> None:
    """Two floors cost the root of two of one: 27 and 39 dB in the building that was measured."""
    rows = truth.told("sod-cetc", "2.4")
    rest = {
        k: np.concatenate([(r.read + r.free_db)[(r.floors == k) & (r.walls < 2)] for r in rows])
        for k in (0, 1, 2)
    }
    one, two = (float(rest[0].mean() - rest[k].mean()) for k in (1, 2))
    assert two / one == pytest.approx(np.sqrt(2.0), rel=0.1)
    scene = measured_set("sod-cetc").scene.scene
    floor_db = straight_db(scene.kinds)[scene.plates[0].kind]
    assert 0.6 * one < floor_db < 1.2 * one
