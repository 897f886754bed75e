"""Crosstalk of a line: what leaks from pair to pair, near end and far end, and its own echo."""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Reals
from rehaul.copper.elements import CableSection, Line, Splice, Tap
from rehaul.copper.section import Frequencies, attenuation
from rehaul.copper.twoport import cascade, decibels, grade_of, joint_loss_db, scattering
from rehaul.facts.cables import cable
from rehaul.facts.conductors import copper_property

HUNDRED_MHZ = 1e8


def next_db(line: Line, frequency_hz: Frequencies, *, power_sum: bool = False) -> Reals:
    """Near-end crosstalk loss between the worst two pairs, in dB [n].

    Each section adds the power that leaks along it, each joint its own, both weakened by the way
    there and back; `power_sum` counts all other pairs together.

    **Validity**: cables near their category's limit; real ones are often several dB better.
    **Source**: 15 dB a decade and connector 20 dB a decade (ISO/IEC 11801 channel form, see facts);
    length factor 1 - exp(-4 alpha l), handbook.
    """
    frequencies = np.atleast_1d(np.asarray(frequency_hz, dtype=np.float64))
    decade = np.log10(frequencies / HUNDRED_MHZ)
    leaked = np.zeros(frequencies.shape)
    passed = np.ones(frequencies.shape)  # power that reaches this far and comes back
    for element in line.elements:
        if isinstance(element, CableSection):
            weakened = np.exp(-4.0 * attenuation(element, frequencies).total * element.length_m)
            level_db = cable(element.kind).next_db - 15.0 * decade
            leaked += passed * ratio(level_db) * (1.0 - weakened)
            passed = passed * weakened
        elif not isinstance(element, Tap):
            level_db = copper_property(f"connector NEXT category {grade_of(element.kind)}") - 20.0 * decade
            if isinstance(element, Splice):
                untwist = element.untwist_m / copper_property("standard untwist")
                level_db = level_db - 20.0 * np.log10(max(untwist, 1.0))
            leaked += passed * ratio(level_db)
            passed = passed * ratio(2.0 * joint_loss_db(element, frequencies))
    return _loss_db(leaked) - _summed(line, power_sum)


def elfext_db(line: Line, frequency_hz: Frequencies, *, power_sum: bool = False) -> Reals:
    """Far-end crosstalk below the far-end signal, between the worst two pairs, in dB [n].

    **Validity**: as `next_db`. **Source**: 20 dB a decade, power grows with length (ISO/IEC 11801).
    """
    frequencies = np.atleast_1d(np.asarray(frequency_hz, dtype=np.float64))
    decade = np.log10(frequencies / HUNDRED_MHZ)
    leaked = np.zeros(frequencies.shape)
    for element in line.elements:
        if isinstance(element, CableSection):
            level_db = cable(element.kind).elfext_db - 20.0 * decade
            leaked += ratio(level_db) * element.length_m / 100.0
        elif not isinstance(element, Tap):
            level_db = copper_property(f"connector ELFEXT category {grade_of(element.kind)}") - 20.0 * decade
            leaked += ratio(level_db)
    return _loss_db(leaked) - _summed(line, power_sum)


def alien_next_db(line: Line, frequency_hz: Frequencies) -> Reals:
    """Near-end crosstalk from a bundle of like cables beside the line, in dB [n].

    **Validity**: six cables around this one all the way, the worst a house will show.
    **Source**: 15 dB a decade (IEEE 802.3an list, in excerpt); length factor as `next_db`.
    """
    frequencies = np.atleast_1d(np.asarray(frequency_hz, dtype=np.float64))
    decade = np.log10(frequencies / HUNDRED_MHZ)
    leaked = np.zeros(frequencies.shape)
    passed = np.ones(frequencies.shape)
    for element in line.elements:
        if isinstance(element, CableSection):
            weakened = np.exp(-4.0 * attenuation(element, frequencies).total * element.length_m)
            leaked += passed * ratio(cable(element.kind).alien_next_db - 15.0 * decade) * (1.0 - weakened)
            passed = passed * weakened
    return _loss_db(leaked)


def echo_db(line: Line, frequency_hz: Frequencies) -> Reals:
    """Return loss of the line, or of its worst cable kind's roughness where that is worse, in dB [n].

    **Validity**: cables at their category's return-loss limit.
    **Source**: cascade, plus the channel return-loss form a - 10 lg(f/20) (TIA/EIA-568-B.2).
    """
    return roughened_db(line, frequency_hz, decibels(scattering(cascade(line, frequency_hz)).s11))


def roughened_db(line: Line, frequency_hz: Frequencies, smooth_db: Reals) -> Reals:
    """A return loss of smooth sections, or the worst cable kind's roughness where that is worse, in dB [n].

    **Validity** and **Source**: as `echo_db`.
    """
    frequencies = np.atleast_1d(np.asarray(frequency_hz, dtype=np.float64))
    kinds = [element.kind for element in line.elements if isinstance(element, CableSection)]
    at_20_mhz_db = min((cable(kind).return_loss_db for kind in kinds), default=np.inf)
    rough_db = at_20_mhz_db - 10.0 * np.log10(np.maximum(frequencies / 20e6, 1.0))
    return np.asarray(np.minimum(smooth_db, rough_db))


def ratio(loss_db: Reals | float) -> Reals:
    """Power ratio of a loss [dB], any shape: 10^(-loss / 10). An infinite loss gives 0.

    **Source**: decibel of a ratio of powers, IEC 60027-3 (from memory).

    >>> float(ratio(20.0))
    0.01
    """
    return np.asarray(10.0 ** (-np.asarray(loss_db) / 10.0), dtype=np.float64)


def _loss_db(power: Reals) -> Reals:
    with np.errstate(divide="ignore"):
        loss: Reals = -10.0 * np.log10(power)
    return loss


def _summed(line: Line, power_sum: bool) -> float:
    """What the other disturbers add to the worst pair: nothing where there is only one."""
    return copper_property("power sum over worst pair") if power_sum and line.pairs > 2 else 0.0
