"""Reflections on top of the straight path: over one mirror, over two, and what was left out of those."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats, Reals
from rehaul.radio.bodies import BodyTables, FlatBodies
from rehaul.radio.faint import FAINT_DB
from rehaul.radio.folded import Folded
from rehaul.radio.reflect import LaneTables, Receivers, reflect_grid
from rehaul.radio.reflect_twice import reflect_twice_grid
from rehaul.radio.summed import want


def add_bounces(
    big: tuple[FlatBodies, BodyTables],
    folded: Folded,
    tables: LaneTables,
    transmitter: tuple[Reals, Reals, Floats],
    receivers: Receivers,
    spreads: tuple[float, float],
    bounces: int,
    power: Floats,
    scatter: Floats,
    faint_db: float = FAINT_DB,
) -> NDArray[np.float32]:
    """Add the paths over one mirror, and over two where `bounces` is 2, to power and scatter.

    Both (storey · ny · nx, float) as `summed.begin` lays them; the rest as in `reflect_grid`. Returns the
    share of the power before second bounces that what was left out of those cannot exceed, of each
    receiver: nothing where `faint_db` is beyond all paths. **Validity** and **Source**: as `field`.
    """
    upon = folded, tables, transmitter, receivers, spreads
    reflect_grid(*big, *upon, power, scatter)
    left_out = np.zeros(len(power), dtype=np.float32)
    if bounces == 2:
        wanted = np.empty_like(power)
        want(power, receivers[-1], wanted)
        reflect_twice_grid(*upon, wanted, left_out, faint_db, power, scatter)
    return left_out
