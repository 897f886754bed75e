"""The cascade against scikit-rf, an independent microwave-network library, to 1e-9 in every S-parameter."""

from __future__ import annotations

import numpy as np
import pytest
import skrf
from skrf.media import DefinedGammaZ0

from rehaul.copper import CableSection, Cord, Jack, Line, Splice, Tap, cascade, scattering
from rehaul.copper.section import propagation
from rehaul.copper.twoport import joint_loss_db

FREQUENCIES_HZ = np.linspace(0.5e6, 500e6, 801)
BAND = skrf.Frequency.from_f(FREQUENCIES_HZ, unit="hz")

CASES = {
    "one section": Line((CableSection("cat5e", 100.0),)),
    "cold and hot halves": Line(
        (CableSection("cat5e", 40.0, temperature_c=5.0), CableSection("cat5e", 40.0, None, 60.0))
    ),
    "full channel": Line(
        (Cord("cat6", 5.0), Jack("cat6"), CableSection("cat6", 90.0), Jack("cat6"), Cord("cat6", 5.0))
    ),
    "mixed gauges": Line((CableSection("cat3", 20.0, awg=26), CableSection("cat3", 15.0, awg=22))),
    "mixed impedance": Line((CableSection("quad", 12.0), Splice(), CableSection("cat5e", 25.0))),
    "short open tap": Line((CableSection("cat5e", 15.0), Tap(2.0, "cat5e"), CableSection("cat5e", 15.0))),
    "long open tap": Line((CableSection("cat5", 15.0), Tap(10.0, "quad"), CableSection("cat5", 15.0))),
    "three taps and splices": Line(
        (
            CableSection("quad", 4.0),
            Tap(6.0, "quad"),
            Splice(),
            CableSection("cat3", 9.0),
            Tap(1.5, "cat3"),
            CableSection("cat6a", 7.0),
            Jack("cat3"),
            Tap(25.0, "cat3"),
            CableSection("quad", 3.0),
        )
    ),
}


def medium_of(piece: CableSection | Tap) -> DefinedGammaZ0:
    gamma, impedance = propagation(piece, FREQUENCIES_HZ)
    return DefinedGammaZ0(BAND, gamma=gamma, z0=impedance, z0_port=100.0)


def reference(line: Line) -> np.ndarray:
    """S-parameters [frequency, 2, 2] of the line between 100 ohm, every element by scikit-rf."""
    ports = DefinedGammaZ0(BAND, gamma=1j * np.ones_like(FREQUENCIES_HZ), z0=100.0)
    whole = ports.thru()
    for element in line.elements:
        if isinstance(element, CableSection):
            piece = medium_of(element).line(element.length_m, "m")
        elif isinstance(element, Tap):
            medium = medium_of(element)
            stub = medium.line(element.length_m, "m") ** medium.open()
            piece = ports.shunt(stub)
        else:
            loss = 10.0 ** (-joint_loss_db(element, FREQUENCIES_HZ) / 20.0)
            piece = ports.thru()
            piece.s = np.array([[[0, t], [t, 0]] for t in loss])
        whole = whole**piece
    return whole.s


@pytest.mark.parametrize("name", CASES)
def test_cascade_equals_scikit_rf(name: str) -> None:
    line = CASES[name]
    ours = scattering(cascade(line, FREQUENCIES_HZ))
    theirs = reference(line)
    for value, row, column in ((ours.s11, 0, 0), (ours.s12, 0, 1), (ours.s21, 1, 0), (ours.s22, 1, 1)):
        assert np.max(np.abs(value - theirs[:, row, column])) < 1e-9
