"""Crosstalk of a line: what leaks from pair to pair, near end and far end, and its own echo."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.copper.cascade import TERMINATION_OHM, decibels, grade_of, joint_loss_db, scattering
from rehaul.copper.cascade import cascade as cascade_line
from rehaul.copper.elements import Line, Section, Splice, Tap
from rehaul.copper.section import Frequencies, propagation
from rehaul.facts.cables import cables
from rehaul.facts.conductors import copper_property

Reals = NDArray[np.float64]
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
        if isinstance(element, Section):
            gamma, _ = propagation(element, frequencies)
            weakened = np.exp(-4.0 * gamma.real * element.length_m)
            level_db = cables()[element.kind].next_db - 15.0 * decade
            leaked += passed * ratio(level_db) * (1.0 - weakened)
            passed = passed * weakened
        elif not isinstance(element, Tap):
            level_db = _joint_next_db(grade_of(element.kind)) - 20.0 * decade
            if isinstance(element, Splice):
                level_db = level_db - 20.0 * np.log10(max(element.untwist_m / STANDARD_UNTWIST_M, 1.0))
            leaked += passed * ratio(level_db)
            passed = passed * ratio(2.0 * joint_loss_db(element, frequencies))
    return _loss_db(leaked) - _summed(line, power_sum)


STANDARD_UNTWIST_M = 0.013


def elfext_db(line: Line, frequency_hz: Frequencies, *, power_sum: bool = False) -> Reals:
    """Far-end crosstalk below the far-end signal, between the worst two pairs, in dB [n].

    **Validity**: as `next_db`. **Source**: 20 dB a decade, power grows with length (ISO/IEC 11801).
    """
    frequencies = np.atleast_1d(np.asarray(frequency_hz, dtype=np.float64))
    decade = np.log10(frequencies / HUNDRED_MHZ)
    leaked = np.zeros(frequencies.shape)
    for element in line.elements:
        if isinstance(element, Section):
            level_db = cables()[element.kind].elfext_db - 20.0 * decade
            leaked += ratio(level_db) * element.length_m / 100.0
        elif not isinstance(element, Tap):
            leaked += ratio(_joint_elfext_db(grade_of(element.kind)) - 20.0 * decade)
    return _loss_db(leaked) - _summed(line, power_sum)


def echo_db(line: Line, frequency_hz: Frequencies) -> Reals:
    """Return loss of the line with the roughness of its worst cable kind added, in dB [n].

    **Validity**: cables at their category's return-loss limit.
    **Source**: cascade, plus the channel return-loss form a - 10 lg(f/20) (TIA/EIA-568-B.2).
    """
    frequencies = np.atleast_1d(np.asarray(frequency_hz, dtype=np.float64))
    smooth_db = decibels(scattering(cascade_line(line, frequencies), TERMINATION_OHM).s11)
    kinds = [element.kind for element in line.elements if isinstance(element, Section)]
    at_20_mhz_db = min((cables()[kind].return_loss_db for kind in kinds), default=np.inf)
    rough_db = at_20_mhz_db - 10.0 * np.log10(np.maximum(frequencies / 20e6, 1.0))
    return _loss_db(ratio(smooth_db) + ratio(rough_db))


def ratio(loss_db: Reals | float) -> Reals:
    """Power ratio of a loss."""
    return np.asarray(10.0 ** (-np.asarray(loss_db) / 10.0), dtype=np.float64)


def _loss_db(power: Reals) -> Reals:
    with np.errstate(divide="ignore"):
        loss: Reals = -10.0 * np.log10(power)
    return loss


def _summed(line: Line, power_sum: bool) -> float:
    """What the other disturbers add to the worst pair: nothing where there is only one."""
    return copper_property("power sum over worst pair") if power_sum and line.pairs > 2 else 0.0


def _joint_next_db(grade: str) -> float:
    if grade == "3":
        return copper_property("connector NEXT category 3") - 20.0 * float(np.log10(100.0 / 16.0))
    return copper_property(f"connector NEXT category {grade}")


def _joint_elfext_db(grade: str) -> float:
    return copper_property(f"connector ELFEXT category {'6' if grade == '6' else '5e'}")
