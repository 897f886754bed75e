"""Transmitters: where they are, how strong, and which way they radiate."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache

import numpy as np
from numpy.typing import NDArray

from rehaul.errors import BadInput
from rehaul.facts.radio_numbers import Mounting, pattern_points
from rehaul.words import say

PATTERN_STEPS = 128  # intervals of the cosine to the axis from -1 to 1


@dataclass(frozen=True)
class Transmitter:
    """An access point or a client: power in its strongest direction, and its mounting.

    `eirp_dbm` is one value, or one per band. `azimuth_deg` turns the axis of a wall mounting,
    counter-clockwise from the x axis.
    """

    position_m: tuple[float, float, float]
    eirp_dbm: float | tuple[float, ...] = 20.0
    mounting: Mounting = "isotropic"
    azimuth_deg: float = 0.0
    name: str = field(default="", compare=False)

    def __post_init__(self) -> None:
        position = tuple(float(value) for value in self.position_m)
        object.__setattr__(self, "position_m", position)
        if len(position) != 3 or not np.isfinite(position).all():
            raise BadInput(
                say("refused_radio.transmitter_nowhere"),
                where="position_m",
                remedy=say("refused_common.mend_it"),
            )
        if not np.isfinite(self.eirp_dbm).all() or not np.isfinite(self.azimuth_deg):
            raise BadInput(
                say("refused_radio.power_no_number"), where="eirp_dbm", remedy=say("refused_common.mend_it")
            )

    @property
    def axis(self) -> tuple[float, float, float]:
        """Unit vector of the mounting's axis: down from a ceiling, out from a wall, else up."""
        if self.mounting == "ceiling":
            return 0.0, 0.0, -1.0
        if self.mounting == "wall":
            turn = np.radians(self.azimuth_deg)
            return float(np.cos(turn)), float(np.sin(turn)), 0.0
        return 0.0, 0.0, 1.0

    def eirp_per_band_dbm(self, count: int) -> NDArray[np.float64]:
        """Power of each of `count` bands [dBm] (count,): the one value for all, or one for each.

        Raises BadInput where the counts differ. In the strongest direction, antenna included.
        """
        powers_dbm = np.atleast_1d(np.asarray(self.eirp_dbm, dtype=np.float64))
        if powers_dbm.size not in (1, count):
            raise BadInput(
                say("refused_radio.powers_and_bands", powers=powers_dbm.size, bands=count),
                where="eirp_dbm",
                remedy=say("refused_radio.one_per_band"),
            )
        return powers_dbm.repeat(count) if powers_dbm.size < count else powers_dbm.copy()


@cache
def pattern_table_db(mounting: Mounting) -> NDArray[np.float32]:
    """Level of an antenna against its strongest direction, over the cosine to its axis [dB].

    Returns (PATTERN_STEPS + 1,), evenly spaced in the cosine from -1 (behind) to 1 (along the axis);
    between the points of the table by the angle. Empty tables do not occur: every mounting has points.
    **Validity**: usual shapes alike around the axis, no product's. **Source**: the fact table
    `antenna_patterns`.

    >>> float(pattern_table_db("isotropic").max())
    0.0
    """
    rows = pattern_points(mounting)
    angles_deg = np.degrees(np.arccos(np.linspace(-1.0, 1.0, PATTERN_STEPS + 1)))
    table = np.interp(angles_deg, [row.angle_deg for row in rows], [row.relative_db for row in rows])
    return np.asarray(table, dtype=np.float32)
