"""From received power to modulation step: noise, and what a receiver needs for each step."""

from __future__ import annotations

import math
from functools import cache

import numpy as np

from rehaul.errors import OutOfRange
from rehaul.facts.modulation import Ladder, receiver_limits
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.words import say

REFERENCE_WIDTH_MHZ = 20
TOP_MCS = 13


def noise_dbm(width_mhz: float, noise_figure_db: float) -> float:
    """Noise power of a receiver: thermal noise over the width, plus its noise figure.

    Parameters
    ----------
    width_mhz : channel width [MHz], above zero
    noise_figure_db : noise figure [dB]

    Returns
    -------
    noise power [dBm]

    Validity: 290 K.
    Source: ITU-R P.372 (kTB).

    >>> round(noise_dbm(20, 7), 2)
    -93.96
    """
    if not width_mhz > 0:
        raise OutOfRange(
            say("refused_wlan.width_is_none", width_mhz=width_mhz),
            where="width_mhz",
            remedy=say("refused_wlan.give_width"),
        )
    return wlan_number("thermal_noise_dbm_per_hz") + 10 * math.log10(width_mhz * 1e6) + noise_figure_db


@cache
def thresholds_dbm(
    width_mhz: int, ladder: Ladder | str, noise_figure_db: float | None = None
) -> tuple[float, ...]:
    """Least power per receive chain for MCS 0 to 13 [dBm].

    Parameters
    ----------
    width_mhz : channel width [MHz]; each doubling asks 3 dB more
    ladder : how good the receiver is: guaranteed, expected or best
    noise_figure_db : of the receiver [dB]; the usual one where None. The guaranteed ladder is a
        level that already holds any certified receiver, so it does not move with it.

    Validity: one stream per receive chain; 20 to 320 MHz. MCS 12 and 13 rest on memory.
    Source: IEEE 802.11 receiver minimum sensitivity; see the table of receiver limits.
    """
    name = Ladder(ladder)
    figure_db = wlan_number("noise_figure_db") if noise_figure_db is None else noise_figure_db
    widening_db = 10 * math.log10(width_mhz / REFERENCE_WIDTH_MHZ)
    levels = []
    for mcs in range(TOP_MCS + 1):
        limit = receiver_limits()[name, mcs]
        floor_dbm = 0.0 if limit.unit == "dbm" else noise_dbm(REFERENCE_WIDTH_MHZ, figure_db)
        levels.append(floor_dbm + limit.value + widening_db)
    return tuple(levels)


def receiver_sd_db() -> float:
    """Spread of real receivers: the guaranteed and the best ladder taken as a 90 % interval [dB].

    Validity: MCS 0 to 11, mean over the steps.
    Source: the three ladders of the table of receiver limits; docs/wlan.md, "Power to modulation step".
    """
    guaranteed = np.array(thresholds_dbm(REFERENCE_WIDTH_MHZ, Ladder.GUARANTEED)[:12])
    best = np.array(thresholds_dbm(REFERENCE_WIDTH_MHZ, Ladder.BEST)[:12])
    return float(np.mean(guaranteed - best) / (2 * 1.6449))
