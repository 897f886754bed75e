"""Plane wave on a layered slab: complex transmission and reflection by transfer matrix."""

from __future__ import annotations

from typing import Any, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.errors import OutOfRange, require_range
from rehaul.facts.materials import Material, material
from rehaul.radio.layers import Stack
from rehaul.units import SPEED_OF_LIGHT_M_PER_S
from rehaul.words import say

Complex: TypeAlias = NDArray[np.complex128]
Real: TypeAlias = NDArray[np.float64]
Matrix: TypeAlias = tuple[Any, Any, Any, Any]  # a, b, c, d; arrays that broadcast together

VACUUM_PERMITTIVITY = 8.8541878128e-12  # F/m, CODATA 2018
VACUUM_IMPEDANCE_OHM = 376.730313668  # CODATA 2018
DEEPEST_DB = 120.0  # a loss beyond any link budget; keeps decibels finite where nothing comes through
_MOST_NEPERS = 100.0  # attenuation of one layer beyond which nothing comes through; keeps exp() finite


class SlabResponse(NamedTuple):
    """Complex amplitudes of the wave behind (t) and thrown back (r), for both polarisations."""

    t_te: Complex
    t_tm: Complex
    r_te: Complex
    r_tm: Complex


def permittivity(row: Material, frequency_hz: ArrayLike) -> Complex:
    """Complex relative permittivity a - j σ/(2π f ε0), with σ = c (f/GHz)^d.

    Parameters: `row`, a bulk material; `frequency_hz` [Hz], any shape. Returns the same shape.
    Raises OutOfRange outside the band of the material's row.
    **Validity**: the band of the row, edges included. **Source**: ITU-R P.2040, section 3 (power laws).
    """
    f_hz = np.asarray(frequency_hz, dtype=np.float64)
    for edge_hz in (f_hz.min(), f_hz.max()):
        require_range(float(edge_hz), row.low_hz, row.high_hz, name=f"frequency_hz of {row.name}")
    conductivity = row.conductivity_at_1_ghz * (f_hz / 1e9) ** row.conductivity_exponent
    return np.asarray(row.permittivity - 1j * conductivity / (2 * np.pi * f_hz * VACUUM_PERMITTIVITY))


def slab_response(
    stack: Stack, frequency_hz: ArrayLike, angle_deg: ArrayLike, *, stretch: ArrayLike = 1.0
) -> SlabResponse:
    """Transmission and reflection of a plane wave by a stack in air.

    Parameters: `frequency_hz` [Hz], `angle_deg` from the normal [0 to 90 deg] and `stretch`, a factor on
    every thickness, broadcast together. Returns complex amplitudes of that shape; t is referred from
    face to face. Raises OutOfRange for angles or frequencies outside their range.
    **Validity**: layers that are flat and wide against the wavelength.
    **Source**: ITU-R P.2040, section 2.2.2 (multi-layer slab), in the equal chain-matrix form.
    """
    angle = np.radians(np.asarray(angle_deg, dtype=np.float64))
    if angle.size and not (angle.min() >= 0 and angle.max() <= np.pi / 2 + 1e-12):
        raise OutOfRange(say("refused_radio.angle"), where="angle_deg")
    f_hz = np.asarray(frequency_hz, dtype=np.float64)
    cosine = np.maximum(np.cos(angle), 1e-6)  # at grazing nothing passes; keeps the impedances finite
    sin2 = 1.0 - cosine**2
    k0 = 2 * np.pi * f_hz / SPEED_OF_LIGHT_M_PER_S
    layers = [_passed(row, f_hz, k0 * thickness_m, sin2, stretch) for row, thickness_m in _rows(stack)]
    shape = np.broadcast_shapes(f_hz.shape, sin2.shape, np.shape(stretch))
    amplitudes: list[Complex] = []
    for tm in (False, True):
        outside = VACUUM_IMPEDANCE_OHM * (cosine if tm else 1.0 / cosine)
        a, b, c, d = _chain([layer[tm] for layer in layers])
        b, c = b / outside, c * outside
        total = a + b + c + d
        amplitudes += [np.broadcast_to(found, shape) for found in (2.0 / total, (a + b - c - d) / total)]
    t_te, r_te, t_tm, r_tm = amplitudes
    return SlabResponse(t_te, t_tm, r_te, r_tm)


def _rows(stack: Stack) -> list[tuple[Material, float]]:
    """Each layer's material and thickness [m]."""
    return [(material(layer.material or "air"), layer.thickness_m) for layer in stack.layers]


def _passed(
    row: Material, f_hz: Real, turn_per_root: Real, sin2: Real, stretch: ArrayLike
) -> tuple[Matrix, Matrix]:
    """Chain matrices of one layer, te and tm: what it turns the phase by is the same for both."""
    if row.kind == "sheet":
        admittance = 1.0 / (row.sheet_resistance_ohm + 2j * np.pi * f_hz * row.sheet_inductance_h)
        sheet = 1.0, 0.0, admittance, 1.0
        return sheet, sheet
    eta = permittivity(row, f_hz)
    root: Complex = np.sqrt(eta - sin2)
    turn = turn_per_root * np.asarray(stretch, dtype=np.float64) * root
    forth = np.exp(1j * turn.real - np.maximum(turn.imag, -_MOST_NEPERS))
    back = 1.0 / forth
    cos, sin = (forth + back) / 2, (forth - back) / 2  # the sine times j
    te, tm = VACUUM_IMPEDANCE_OHM / root, VACUUM_IMPEDANCE_OHM * root / eta
    return (cos, sin * te, sin / te, cos), (cos, sin * tm, sin / tm, cos)


def _chain(layers: list[Matrix]) -> Matrix:
    """Chain matrix of a whole stack for the tangential fields of one polarisation."""
    a, b, c, d = layers[0] if layers else (1.0 + 0j, 0j, 0j, 1.0 + 0j)
    for e, f, g, h in layers[1:]:
        a, b, c, d = a * e + b * g, a * f + b * h, c * e + d * g, c * f + d * h
    return a, b, c, d
