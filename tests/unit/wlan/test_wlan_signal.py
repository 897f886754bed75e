"""The levels that steps ask for."""

import numpy as np
import pytest

from rehaul.errors import OutOfRange
from rehaul.wlan import noise_dbm, receiver_sd_db, thresholds_dbm


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
