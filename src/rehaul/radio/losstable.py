"""Loss of a construction tabulated once per band over the angle of incidence."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rehaul.radio.band import FrequencyBand
from rehaul.radio.layers import Guess, Layered, Measured, Structure, parts_of
from rehaul.radio.slab import DEEPEST_DB, slab_response

COSINE_STEPS = 128  # intervals of the cosine of incidence from 0 to 1
THICKNESS_TOLERANCE = 0.05  # half-width of the evenly spread factor on every thickness
_BAND_NODES, _THICKNESS_NODES = 7, 5


@dataclass(frozen=True)
class LossTable:
    """Powers of one structure in one band over the cosine of incidence, evenly spaced from 0 to 1.

    Averages of power over the band, over ±5 % of thickness and over the parts of a mixture.
    `cross` is the mean of t_te · conj(t_tm), which carries the turn of polarisation.
    """

    transmitted_te: NDArray[np.float64]  # (COSINE_STEPS + 1,)
    transmitted_tm: NDArray[np.float64]
    reflected_te: NDArray[np.float64]
    reflected_tm: NDArray[np.float64]
    cross: NDArray[np.complex128]

    @property
    def loss_db(self) -> NDArray[np.float64]:
        """Loss through, mean of both polarisations [dB], at most 120."""
        return in_db((self.transmitted_te + self.transmitted_tm) / 2)

    @property
    def reflection_db(self) -> NDArray[np.float64]:
        """Loss on reflection, mean of both polarisations [dB], at most 120."""
        return in_db((self.reflected_te + self.reflected_tm) / 2)


def in_db(power: NDArray[np.float64]) -> NDArray[np.float64]:
    """Loss of a share of power [dB], at most 120; any shape.

    A share above 1 comes out below 0 dB.

    >>> in_db(np.array([1.0, 0.01, 0.0])).tolist()
    [-0.0, 20.0, 120.0]
    """
    return np.asarray(-10.0 * np.log10(np.maximum(power, 10 ** (-DEEPEST_DB / 10))))


@lru_cache(maxsize=1024)
def loss_table(
    structure: Structure, band: FrequencyBand, thickness_tolerance: float = THICKNESS_TOLERANCE
) -> LossTable:
    """Tabulate `structure` in `band`.

    Parameters: `thickness_tolerance`, half-width of the factor on thickness (0 for exact thickness).
    **Validity**: as `slab_response`. Thin stacks resonate, so no single frequency or thickness stands
    for a real wall; the average does. What was measured loses one figure at all angles; a guess loses the
    mean in decibels. **Source**: ITU-R P.2040, section 2.2.2; the rows of what was measured.
    """
    if isinstance(structure, Measured):
        return _measured(structure, band, thickness_tolerance)
    if isinstance(structure, Guess):
        return _guessed(structure, band, thickness_tolerance)
    return _layered(structure, band, thickness_tolerance)


def _measured(structure: Measured, band: FrequencyBand, thickness_tolerance: float) -> LossTable:
    like = loss_table(structure.like, band, thickness_tolerance)
    frequencies_hz, losses_db = np.array(structure.points).T
    loss_db = np.interp(band.centre_hz, frequencies_hz, losses_db)
    through = np.full(COSINE_STEPS + 1, 10 ** (-loss_db / 10))
    left = 1.0 - through  # what is thrown back is no more than what does not come through
    te, tm = np.minimum(like.reflected_te, left), np.minimum(like.reflected_tm, left)
    return LossTable(through, through, te, tm, through.astype(np.complex128))


def _guessed(structure: Guess, band: FrequencyBand, thickness_tolerance: float) -> LossTable:
    found = [(chance, loss_table(part, band, thickness_tolerance)) for chance, part in structure.parts]

    def mean(of: str) -> NDArray[np.float64]:
        return np.asarray(10 ** (-sum(chance * in_db(getattr(table, of)) for chance, table in found) / 10))

    te, tm = mean("transmitted_te"), mean("transmitted_tm")
    turn = sum(chance * table.cross / np.maximum(np.abs(table.cross), 1e-30) for chance, table in found)
    return LossTable(te, tm, mean("reflected_te"), mean("reflected_tm"), np.sqrt(te * tm) * turn)


def _layered(structure: Layered, band: FrequencyBand, thickness_tolerance: float) -> LossTable:
    cosines = np.linspace(0.0, 1.0, COSINE_STEPS + 1)
    angles_deg = np.degrees(np.arccos(cosines))[:, None, None]
    frequencies_hz = band.nodes_hz(_BAND_NODES)[:, None]
    stretches = _nodes(1.0, thickness_tolerance, _THICKNESS_NODES)
    sums = np.zeros((5, COSINE_STEPS + 1), dtype=np.complex128)
    for fraction, stack in parts_of(structure):
        wave = slab_response(stack, frequencies_hz, angles_deg, stretch=stretches)
        products = (
            *(one.real**2 + one.imag**2 for one in (wave.t_te, wave.t_tm, wave.r_te, wave.r_tm)),
            wave.t_te * np.conj(wave.t_tm),
        )
        sums += fraction * np.array([product.mean(axis=(1, 2)) for product in products])
    return LossTable(sums[0].real, sums[1].real, sums[2].real, sums[3].real, sums[4])


def _nodes(middle: float, half_width: float, count: int) -> NDArray[np.float64]:
    """Midpoints of `count` equal parts of middle ± half_width; the middle alone where it has no width."""
    if half_width == 0:
        return np.array([middle])
    return middle + half_width * ((2 * np.arange(count) + 1) / count - 1)
