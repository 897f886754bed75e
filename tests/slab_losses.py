"""Losses of whole structures, as documents print them, from the waves that the program computes."""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from rehaul.arrays import Reals
from rehaul.radio.layers import Layered, parts_of
from rehaul.radio.slab import DEEPEST_DB, slab_response

Polarisation = Literal["te", "tm", "mean"]


def transmission_loss_db(
    structure: Layered, frequency_hz: ArrayLike, angle_deg: ArrayLike, polarisation: Polarisation = "mean"
) -> Reals:
    """Loss of power through a structure [dB]; a mixture adds the powers of its parts by area."""
    return _loss_db(structure, frequency_hz, angle_deg, polarisation, reflected=False)


def reflection_loss_db(
    structure: Layered, frequency_hz: ArrayLike, angle_deg: ArrayLike, polarisation: Polarisation = "mean"
) -> Reals:
    """Loss of power on mirror reflection from a structure [dB]."""
    return _loss_db(structure, frequency_hz, angle_deg, polarisation, reflected=True)


def _loss_db(
    structure: Layered,
    frequency_hz: ArrayLike,
    angle_deg: ArrayLike,
    polarisation: Polarisation,
    *,
    reflected: bool,
) -> Reals:
    power: Reals | float = 0.0
    for fraction, stack in parts_of(structure):
        wave = slab_response(stack, frequency_hz, angle_deg)
        te, tm = (wave.r_te, wave.r_tm) if reflected else (wave.t_te, wave.t_tm)
        by_name = {"te": np.abs(te) ** 2, "tm": np.abs(tm) ** 2}
        power = power + fraction * by_name.get(polarisation, (by_name["te"] + by_name["tm"]) / 2)
    return np.asarray(-10.0 * np.log10(np.maximum(power, 10 ** (-DEEPEST_DB / 10))))
