"""Cascade of line elements by chain (ABCD) matrices; what is seen between two terminations."""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce
from operator import matmul

import numpy as np

from rehaul.arrays import Complex, Reals
from rehaul.copper.elements import CableSection, Element, Jack, Line, Splice, Tap
from rehaul.copper.section import NEPERS_PER_DB, Frequencies, propagation
from rehaul.errors import BadInput
from rehaul.facts.cables import PairCableKind, cable
from rehaul.facts.conductors import copper_property
from rehaul.words import say

TERMINATION_OHM = copper_property("port impedance")


@dataclass(frozen=True)
class ChainMatrix:
    """Chain matrix per frequency: (v1, i1) = ((a, b), (c, d)) · (v2, i2), i2 leaving."""

    a: Complex  # (frequency,)
    b: Complex  # (frequency,) ohm
    c: Complex  # (frequency,) siemens
    d: Complex  # (frequency,)

    def __matmul__(self, other: ChainMatrix) -> ChainMatrix:
        """This chain followed by the other."""
        return ChainMatrix(
            self.a * other.a + self.b * other.c,
            self.a * other.b + self.b * other.d,
            self.c * other.a + self.d * other.c,
            self.c * other.b + self.d * other.d,
        )


@dataclass(frozen=True)
class Scattering:
    """Scattering parameters per frequency between two terminations."""

    s11: Complex  # (frequency,)
    s21: Complex  # (frequency,)
    s12: Complex  # (frequency,)
    s22: Complex  # (frequency,)


def chain_of(element: Element, frequency_hz: Frequencies) -> ChainMatrix:
    """Chain matrix of one element at frequencies above 0 Hz [n].

    Cable is a uniform line, a tap a shunt with an open end, a jack or splice a matched attenuator, as its
    published figure is a loss and not an impedance. **Validity** and **Source**: as `cascade`.
    """
    if isinstance(element, CableSection):
        gamma, impedance = propagation(element, frequency_hz)
        return _uniform(gamma * element.length_m, impedance)
    one = np.ones(frequency_hz.shape, dtype=np.complex128)
    if isinstance(element, Tap):
        gamma, impedance = propagation(element, frequency_hz)
        return ChainMatrix(one, np.zeros_like(one), np.tanh(gamma * element.length_m) / impedance, one)
    # A joint is a matched attenuator: its published figure is a loss, not an impedance.
    nepers = NEPERS_PER_DB * joint_loss_db(element, frequency_hz)
    return _uniform(one * nepers, one * TERMINATION_OHM)


def _uniform(angle: Complex, impedance_ohm: Complex) -> ChainMatrix:
    """Chain matrix of a uniform two-port: its angle in nepers and radians, and its impedance."""
    grown = np.exp(angle)
    shrunk = np.exp(-angle)
    even = np.asarray((grown + shrunk) * 0.5, dtype=np.complex128)
    odd = np.asarray((grown - shrunk) * 0.5, dtype=np.complex128)
    return ChainMatrix(even, impedance_ohm * odd, odd / impedance_ohm, even)


def joint_loss_db(joint: Jack | Splice, frequency_hz: Frequencies) -> Reals:
    """Insertion loss of a mated connection or splice, in dB [n].

    **Validity**: grown as the root of frequency, sound joints.
    **Source**: connecting hardware table (fact rows, in excerpt).
    """
    loss: Reals = copper_property(f"connector loss category {grade_of(joint.kind)}") * np.sqrt(
        frequency_hz / 1e6
    )
    return loss


def grade_of(kind: PairCableKind) -> str:
    """Connector grade that goes with a cable kind: `3`, `5e` or `6`.

    Raises BadInput for a kind without pairs. **Source**: the fact table `cable_kinds`.

    >>> grade_of("cat5e")
    '5e'
    """
    return cable(kind).connector_grade


def cascade(line: Line, frequency_hz: Frequencies) -> ChainMatrix:
    """Chain matrix of a whole line.

    Parameters: line; frequency_hz [n], all above zero. Returns the chain [n].
    Raises BadInput for a frequency of zero or less.

    **Validity**: differential mode of one pair, uniform sections; no mode conversion.
    **Source**: handbook two-port theory; equal to scikit-rf to 1e-9 (tests/references).
    """
    frequencies = np.atleast_1d(np.asarray(frequency_hz, dtype=np.float64))
    if not np.all(frequencies > 0):
        raise BadInput(
            say("refused_copper.not_above_zero"),
            where="frequency_hz",
            remedy=say("refused_copper.give_hertz"),
        )
    one = np.ones(frequencies.shape, dtype=np.complex128)
    through = ChainMatrix(one, np.zeros_like(one), np.zeros_like(one), one)
    chains = {element: chain_of(element, frequencies) for element in dict.fromkeys(line.elements)}
    return reduce(matmul, (chains[element] for element in line.elements), through)


def scattering(chain: ChainMatrix, impedance_ohm: float = TERMINATION_OHM) -> Scattering:
    """Scattering parameters of a chain between equal real terminations.

    Parameters: chain [n]; impedance_ohm of both terminations. Returns S [n].

    **Validity**: any reciprocal two-port.
    **Source**: handbook conversion of chain to scattering parameters.
    """
    b, c = chain.b / impedance_ohm, chain.c * impedance_ohm
    whole = chain.a + b + c + chain.d
    return Scattering(
        s11=(chain.a + b - c - chain.d) / whole,
        s21=2.0 / whole,
        s12=2.0 / whole,  # every element here is reciprocal: ad - bc = 1
        s22=(-chain.a + b - c + chain.d) / whole,
    )


def insertion_loss_db(line: Line, frequency_hz: Frequencies) -> Reals:
    """Loss of signal from end to end between 100 ohm ports, in dB [n].

    **Validity** and **Source**: as `cascade`.

    >>> from rehaul.copper import CableSection, Line
    >>> round(float(insertion_loss_db(Line((CableSection("cat5e", 90.0),)), np.array([100e6]))[0]), 1)
    19.8
    """
    return decibels(scattering(cascade(line, frequency_hz)).s21)


def decibels(wave: Complex) -> Reals:
    """Loss in dB of a wave quantity such as s21, any shape; infinite where nothing passes.

    A gain comes out below nought. **Source**: decibel of a ratio of amplitudes, IEC 60027-3 (from memory);
    docs/copper.md, "From cable to margin".

    >>> decibels(np.array([1.0 + 0.0j, 0.1j, 0.0j])).tolist()
    [-0.0, 20.0, inf]
    """
    with np.errstate(divide="ignore"):
        loss: Reals = -20.0 * np.log10(np.abs(wave))
    return loss
