"""Between the steps of tables over median power and spread, by straight lines: one pass over the places."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats
from rehaul.kernels.loops import compiled, inner

Axes = tuple[float, float, float]  # lowest power [dBm], one over the step of power, one over that of spread


@compiled
def look_up(
    tables: Floats, power_dbm: Floats, sd_db: Floats, more_db: float, axes: Axes, found: Floats
) -> int:
    """From tables (n, power, spread) at places of some power and spread (k,), to `found` (n, k).

    `more_db` is a further spread, of which the places know nothing. Beyond the last step the last holds, and
    a power that is no number counts as the lowest. Returns how many spreads are below 0 or no number.
    **Source**: docs/wlan.md, "The delivered share".
    """
    count, rows, columns = tables.shape
    flat = tables.reshape(-1)
    wrong = 0
    for i in range(power_dbm.size):
        start, over, beside, bad = _place(power_dbm[i], sd_db[i], more_db, axes, rows, columns)
        wrong += bad
        for n in range(count):
            found[n, i] = _between(flat, start + n * rows * columns, columns, over, beside)
    return wrong


@compiled
def look_up_own(
    tables: Floats,
    which: NDArray[np.int64],
    power_dbm: Floats,
    sd_db: Floats,
    more_db: float,
    axes: Axes,
    found: Floats,
) -> int:
    """As `look_up`, each place in a table of its own: `which` (k,), to `found` (k,)."""
    _, rows, columns = tables.shape
    flat = tables.reshape(-1)
    wrong = 0
    for i in range(power_dbm.size):
        start, over, beside, bad = _place(power_dbm[i], sd_db[i], more_db, axes, rows, columns)
        wrong += bad
        found[i] = _between(flat, start + which[i] * rows * columns, columns, over, beside)
    return wrong


@inner
def _place(power, sd, more_db, axes, rows, columns):  # type: ignore[no-untyped-def]
    """The entry below in a table laid out flat, parts of the way to the next ones, and 1 for no spread."""
    lowest, per_power, per_sd = axes
    over = np.float32(per_power) * (power - np.float32(lowest))
    over = min(over, np.float32(rows - 1.001)) if over > np.float32(0.0) else np.float32(0.0)
    if not sd >= np.float32(0.0):
        return 0, over, over, 1
    more = np.float64(np.float32(more_db))
    total = np.float32(np.sqrt(np.float64(sd) * np.float64(sd) + more * more))
    beside = min(np.float32(per_sd) * total, np.float32(columns - 1.001))
    row, column = np.int32(over), np.int32(beside)
    return row * columns + column, over - np.float32(row), beside - np.float32(column), 0


@inner
def _between(flat, start, columns, over, beside):  # type: ignore[no-untyped-def]
    """Between four entries of a table laid out flat."""
    near = flat[start] + (flat[start + 1] - flat[start]) * beside
    far = flat[start + columns] + (flat[start + columns + 1] - flat[start + columns]) * beside
    return near + (far - near) * over
