"""The compiled look-up of tables against the same worked out in NumPy, beyond the edges and off them."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from rehaul.wlan.lookup import look_up, look_up_own

AXES = -10.0, 0.5, 2.0
TABLES = np.random.default_rng(5).random((3, 6, 5)).astype(np.float32)
ROWS, COLUMNS = TABLES.shape[1:]


def by_hand(power: np.ndarray, sd: np.ndarray, more_db: float) -> np.ndarray:
    """Between four entries by weights, in double precision; (table, place)."""
    total = np.sqrt(sd.astype(np.float64) ** 2 + np.float64(np.float32(more_db)) ** 2)
    x = np.clip(np.nan_to_num((power.astype(np.float64) + 10.0) * 0.5, nan=0.0), 0.0, ROWS - 1.001)
    y = np.clip(total * 2.0, 0.0, COLUMNS - 1.001)
    i, j = x.astype(int), y.astype(int)
    u, v = x - i, y - j
    t = TABLES.astype(np.float64)
    near = t[:, i, j] * (1 - v) + t[:, i, j + 1] * v
    far = t[:, i + 1, j] * (1 - v) + t[:, i + 1, j + 1] * v
    return near * (1 - u) + far * u


numbers = st.floats(-40, 40, width=32)


@given(
    arrays(np.float32, 7, elements=numbers | st.just(float("nan"))),
    arrays(np.float32, 7, elements=st.floats(0, 30, width=32)),
    st.floats(0, 9),
)
def test_it_is_straight_between_the_four_entries_about_a_place(
    power: np.ndarray, sd: np.ndarray, more_db: float
) -> None:
    found = np.empty((3, 7), dtype=np.float32)
    assert look_up(TABLES, power, sd, more_db, AXES, found) == 0
    # single precision, at worst where a place is a rounding away from the next step
    assert np.abs(found - by_hand(power, sd, more_db)).max() < 2e-5
    which = np.array([0, 1, 2, 0, 1, 2, 2])
    own = np.empty(7, dtype=np.float32)
    assert look_up_own(TABLES, which, power, sd, more_db, AXES, own) == 0
    assert np.array_equal(own, found[which, np.arange(7)])


def test_spreads_that_are_none_are_counted() -> None:
    power, found = np.zeros(4, dtype=np.float32), np.empty((3, 4), dtype=np.float32)
    sd = np.array([1.0, -0.5, np.nan, 0.0], dtype=np.float32)
    assert look_up(TABLES, power, sd, 3.0, AXES, found) == 2
    own = np.empty(4, dtype=np.float32)
    assert look_up_own(TABLES, np.zeros(4, dtype=np.int64), power, sd, 3.0, AXES, own) == 2
