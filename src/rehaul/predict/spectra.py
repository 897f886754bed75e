"""The stretch of spectrum that stands for a band before channels are chosen."""

from __future__ import annotations

from rehaul.facts.guesses import prediction_bands
from rehaul.facts.spectrum import BandGhz
from rehaul.radio import FrequencyBand


def spectrum_of(band: BandGhz) -> FrequencyBand:
    """Centre and width of a band [Hz], as radio takes them before channels are chosen.

    **Source**: the fact table `prediction_bands`.

    >>> spectrum_of("5").centre_hz / 1e9
    5.5
    """
    row = prediction_bands()[band]
    return FrequencyBand(row.centre_mhz * 1e6, row.width_mhz * 1e6)
