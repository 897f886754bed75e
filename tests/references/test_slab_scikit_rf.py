"""Stacks at normal incidence against a general microwave library: lines in cascade between air ports."""

from __future__ import annotations

import numpy as np
import pytest

from rehaul.facts.materials import material
from rehaul.radio import SlabLayer, Stack
from rehaul.radio.slab import VACUUM_IMPEDANCE_OHM, permittivity, slab_response

skrf = pytest.importorskip("skrf", reason="scikit-rf is not installed")

STACKS = (
    (("brick", 0.1025), ("air", 0.05), ("brick", 0.1025), ("plaster", 0.013)),
    (("glass", 0.004), ("air", 0.016), ("glass", 0.004)),
    (("plasterboard", 0.0125), ("air", 0.089), ("plasterboard", 0.0125)),
    (("chipboard", 0.022), ("air", 0.2), ("wood", 0.007), ("plaster", 0.016)),
    (("concrete", 0.25),),
    (("wet brick", 0.215), ("plaster", 0.013)),
)


@pytest.mark.parametrize("layers", STACKS, ids=lambda layers: " + ".join(name for name, _ in layers))
def test_lines_in_cascade(layers: tuple[tuple[str, float], ...]) -> None:
    frequency = skrf.Frequency(2.4, 7.1, 95, unit="ghz")
    k0 = 2 * np.pi * frequency.f / 299792458.0
    whole = None
    for name, thickness_m in layers:
        root = np.sqrt(permittivity(material(name), frequency.f))
        medium = skrf.media.DefinedGammaZ0(
            frequency, gamma=1j * k0 * root, z0=VACUUM_IMPEDANCE_OHM / root, z0_port=VACUUM_IMPEDANCE_OHM
        )
        line = medium.line(thickness_m, "m")
        whole = line if whole is None else whole**line
    stack = Stack(tuple(SlabLayer(name, thickness_m) for name, thickness_m in layers))
    ours = slab_response(stack, frequency.f, 0.0)
    assert np.abs(whole.s[:, 1, 0] - ours.t_te).max() < 1e-9
    assert np.abs(whole.s[:, 0, 0] - ours.r_te).max() < 1e-9
    assert np.abs(whole.s[:, 1, 0] - ours.t_tm).max() < 1e-9
