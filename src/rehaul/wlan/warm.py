"""Compile ahead of the first use what every map and every choice looks up."""

from __future__ import annotations

import numpy as np

from rehaul.wlan.lookup import look_up, look_up_own


def warm_up() -> None:
    """Call each compiled loop once.

    Nothing is returned; the machine code is kept on disk (docs/decisions.md, "compiled once").
    """
    tables, places = np.zeros((1, 2, 2), dtype=np.float32), np.zeros(1, dtype=np.float32)
    axes = 0.0, 1.0, 1.0
    look_up(tables, places, places, 0.0, axes, np.empty((1, 1), dtype=np.float32))
    which = np.zeros(1, dtype=np.int64)
    look_up_own(tables, which, places, places, 0.0, axes, np.empty(1, dtype=np.float32))
