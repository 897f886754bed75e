"""Compile ahead of the first use, so that nobody waits for it in front of a customer."""

from __future__ import annotations

import numpy as np

from rehaul.radio.antenna import Transmitter
from rehaul.radio.counts import crossing_counts
from rehaul.radio.easing import eased_counts
from rehaul.radio.grid import Grid
from rehaul.radio.layers import kind
from rehaul.radio.pierced import crossings
from rehaul.radio.power_field import field
from rehaul.radio.scene import Bulk, Scene, plate


def warm_up() -> None:
    """Run every compiled loop once on a tiny scene; the machine code is kept on disk for later starts.

    Takes a minute or two where nothing is kept yet, next to nothing otherwise. A loop that is new and is
    not called by this compiles in front of a customer.
    """
    kinds = (kind("metal-body"), kind("timber-floor"))
    square = [(-1.0, -1.0), (3.0, -1.0), (3.0, 3.0), (-1.0, 3.0)]
    scene = Scene(
        np.array([[1.0, -1.0, 1.0, 3.0, 0.0, 2.5]]),
        np.zeros(1, dtype=np.int32),
        (plate(2.5, square, 1),),
        kinds,
        (Bulk((1.4, 0.4, 0.0), (1.8, 0.8, 1.5), 0),),
    )
    transmitter = Transmitter((0.0, 0.5, 1.0))
    grid = Grid(0.0, 0.0, 0.5, 4, 4, (1.0, 3.5))
    for places in (grid, grid.points_m()):
        field(scene, transmitter, places, (5.5e9,), "full")
        counts = crossing_counts(scene, transmitter.position_m, places)
        eased_counts(
            counts.reshape(len(kinds), -1),
            np.ones(len(kinds), dtype=np.float32),
            np.ones(len(kinds), dtype=np.bool_),
        )
    crossings(scene, transmitter.position_m, (2.0, 2.0, 3.5), (5.5e9,))
    field(scene, transmitter, grid, (5.5e9,), parts=2)
