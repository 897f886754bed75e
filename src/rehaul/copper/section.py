"""One uniform length of cable: loss, propagation constant and characteristic impedance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Complex, Reals
from rehaul.copper.elements import CableSection, Cord, Tap
from rehaul.facts.cables import cable
from rehaul.facts.conductors import conductor, copper_property

Frequencies = NDArray[np.float64]
NEPERS_PER_DB = float(np.log(10.0) / 20.0)


@dataclass(frozen=True)
class Attenuation:
    """Loss of a piece of cable by cause, in nepers per metre, [frequency] each."""

    skin: Reals
    insulation: Reals
    rest: Reals

    @property
    def total(self) -> Reals:
        """All causes together."""
        return self.skin + self.insulation + self.rest


def attenuation(piece: CableSection | Tap, frequency_hz: Frequencies) -> Attenuation:
    """Loss of a piece of cable at its temperature and gauge, by cause.

    At 20 °C it is il_sqrt·√f + il_linear·f + il_inv_sqrt/√f in dB per 100 m, f in MHz.

    Parameters: piece; frequency_hz [n] above zero. Returns nepers per metre [n].

    **Validity**: specified from 1 MHz to the kind's `top_hz`, extrapolated beyond; the gauge scales
    skin-effect loss by diameter.
    **Source**: TIA/EIA-568 form; 0.4 %/K for unscreened cable and 20 % more loss in cords (LAN wiring
    handbook, in excerpt).
    """
    row = cable(piece.kind)
    root = np.sqrt(frequency_hz / 1e6)
    warmer_c = piece.temperature_c - copper_property("reference temperature")
    scale = NEPERS_PER_DB / 100.0 * (1.0 + copper_property("insertion loss per kelvin") * warmer_c)
    if isinstance(piece, Cord):
        scale *= copper_property("cord loss factor")
    thinner = 1.0
    if piece.awg is not None:
        thinner = conductor(row.awg).diameter_m / conductor(piece.awg).diameter_m
    return Attenuation(
        skin=row.il_sqrt_db * scale * thinner * root,
        insulation=row.il_linear_db * scale * root**2,
        rest=row.il_inv_sqrt_db * scale / root,
    )


def propagation(piece: CableSection | Tap, frequency_hz: Frequencies) -> tuple[Complex, Complex]:
    """Propagation constant per metre and characteristic impedance of a piece of cable.

    Skin-effect loss brings an equal phase; insulation loss is a shunt conductance; both follow from
    the loss formula, so that loss, delay and impedance belong to one passive line.

    Parameters: piece; frequency_hz [n] above zero. Returns gamma [n] in 1/m and impedance [n] in ohm.

    **Validity**: as `attenuation`.
    **Source**: gamma = sqrt((R+jwL)(G+jwC)), handbook transmission-line theory.
    """
    row = cable(piece.kind)
    loss = attenuation(piece, frequency_hz)
    phase = 2.0 * np.pi * frequency_hz * (row.delay_s / 100.0)
    gamma: Complex = loss.total + 1.0j * (phase + loss.skin)
    admittance = (2.0 * loss.insulation + 1.0j * phase) / row.impedance_ohm
    return gamma, np.asarray(gamma / admittance)
