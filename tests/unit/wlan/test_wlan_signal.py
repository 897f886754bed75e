"""Steps at the edges of their levels."""

import numpy as np
import pytest

from rehaul.errors import OutOfRange
from rehaul.wlan import mcs_of, noise_dbm, receiver_sd_db, thresholds_dbm


def test_a_level_is_inside_its_step() -> None:
    levels = np.array(thresholds_dbm(80, "guaranteed"))
    assert mcs_of(levels, 80, "guaranteed").tolist() == list(range(14))
    assert mcs_of(levels - 1e-6, 80, "guaranteed").tolist() == list(range(-1, 13))


def test_nothing_is_carried_by_silence() -> None:
    assert mcs_of([-np.inf, np.nan, -150.0], 20).tolist() == [-1, -1, -1]


def test_shape_is_kept_and_the_generation_caps_the_step() -> None:
    assert mcs_of(np.full((2, 3), -30.0), 20, top_mcs=7).tolist() == [[7] * 3] * 2


def test_a_worse_noise_figure_asks_more_except_of_the_guaranteed_level() -> None:
    assert thresholds_dbm(20, "best", 10)[5] == pytest.approx(thresholds_dbm(20, "best", 7)[5] + 3)
    assert thresholds_dbm(20, "guaranteed", 10) == thresholds_dbm(20, "guaranteed", 7)


def test_ladders_stand_in_their_order() -> None:
    best, expected, guaranteed = (
        np.array(thresholds_dbm(20, name)) for name in ("best", "expected", "guaranteed")
    )
    assert (best < expected).all() and (expected < guaranteed).all()
    assert 3 < receiver_sd_db() < 5


def test_a_width_of_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange, match="no width"):
        noise_dbm(0, 7)
