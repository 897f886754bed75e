"""Past one side of a body so large that all others are far: the printed loss of a single knife edge."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import fresnel

from published import Published
from rehaul.radio import Bulk, LayeredKind, Scene, SlabLayer, Stack, Transmitter, field_at

DOCUMENT = "ITU-R P.526, single knife edge"
KINDS = (LayeredKind("steel", Stack((SlabLayer("metal", 0.001),)), 5.0),)  # lets nothing through
D1_M, D2_M, FREQUENCY_HZ = 4.0, 3.0, 5.5e9
FAR_M = 400.0
VALUES = (
    (-0.4, "J(-0.4) from the printed formula", 2.72),
    (0.0, "J(0) from the printed formula", 6.03),
    (1.0, "J(1) from the printed formula", 13.93),
    (2.4, "J(2.4) from the printed formula", 20.54),
)


def lost_db(height_m: float, side: str) -> float:
    """Loss behind a thin screen whose one edge passes `height_m` beyond the ray, in the plane across it."""
    thin = 0.005
    boxes = {
        "left": ((D1_M - thin, -FAR_M, -FAR_M), (D1_M + thin, height_m, FAR_M)),
        "right": ((D1_M - thin, -height_m, -FAR_M), (D1_M + thin, FAR_M, FAR_M)),
        "over": ((D1_M - thin, -FAR_M, -FAR_M), (D1_M + thin, FAR_M, height_m)),
        "under": ((D1_M - thin, -FAR_M, -height_m), (D1_M + thin, FAR_M, FAR_M)),
    }
    body = Bulk(*boxes[side], 0, over=side == "over", under=side == "under", room=None)
    scenes = [Scene(np.empty((0, 6)), np.empty(0, np.int32), (), KINDS, b) for b in ((), (body,))]
    sender, point = Transmitter((0.0, 0.0, 0.0)), [(D1_M + D2_M, 0.0, 0.0)]
    bare, met = (field_at(scene, sender, point, (FREQUENCY_HZ,)).gain_db[0, 0] for scene in scenes)
    return float(bare - met)


def height_of(nu: float) -> float:
    """Height of an edge over the ray at nu, from nu = h sqrt(2 / wavelength · (1/d1 + 1/d2))."""
    return nu / np.sqrt(2 * FREQUENCY_HZ / 299_792_458.0 * (1 / D1_M + 1 / D2_M))


@pytest.mark.parametrize("side", ["left", "right", "over", "under"])
@pytest.mark.parametrize(("nu", "place", "value"), VALUES)
def test_printed(nu: float, place: str, value: float, side: str) -> None:
    why = "printed to two digits of 6.9"
    Published(value, "dB", DOCUMENT, place, "computed", 0.02, why).check(lost_db(height_of(nu), side))


@pytest.mark.parametrize("nu", np.linspace(-0.7, 4, 12))
def test_fresnel_integrals(nu: float) -> None:
    sine, cosine = fresnel(nu)
    exact = -20 * np.log10(np.hypot(0.5 - cosine, 0.5 - sine) / np.sqrt(2))
    where = f"exact integrals at nu = {nu:.2f}"
    why = "the recommendation calls its formula approximate; it is within 0.4 dB from -0.7 up"
    Published(exact, "dB", DOCUMENT, where, "computed", 0.4, why).check(lost_db(height_of(nu), "left"))
