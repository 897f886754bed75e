"""Bending round one edge: the loss of a knife edge, and which receivers it reaches."""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import compiled
from rehaul.radio.decibels import POWER_SHIFT_DB

_FAINT_DB = 25.0  # a bend this far below what is already there is left out


@compiled
def knife_edge_db(nu: float) -> float:
    """Loss of a knife edge [dB] over free space, for the Fresnel parameter nu.

    **Validity**: nu above -0.78; below it the loss is 0. **Source**: ITU-R P.526, section 4.1.
    """
    if nu <= -0.78:
        return 0.0
    return 6.9 + 20.0 * np.log10(np.sqrt((nu - 0.1) ** 2 + 1.0) + nu - 0.1)  # type: ignore[no-any-return]


@compiled
def bend(
    start: Reals,
    along: Reals,
    length: float,
    inward: Reals,
    sx: float,
    sy: float,
    sz: float,
    rx: float,
    ry: float,
    rz: float,
) -> tuple[float, float, float, float]:
    """Shortest way S→R over an edge, where R lies in the shadow of the half plane behind the edge.

    Returns (whole way, first leg, angle of the bend [rad], place along the edge); a whole way of -1
    where R is not in the shadow or the shortest way misses the edge. **Source**: equal angles with the edge
    (Keller, Geometrical theory of diffraction, 1962), from memory.
    """
    ax, ay, az = along[0], along[1], along[2]
    ux, uy, uz = inward[0], inward[1], inward[2]
    wx, wy, wz = ay * uz - az * uy, az * ux - ax * uz, ax * uy - ay * ux
    px, py, pz = sx - start[0], sy - start[1], sz - start[2]
    qx, qy, qz = rx - start[0], ry - start[1], rz - start[2]
    p_side, q_side = px * wx + py * wy + pz * wz, qx * wx + qy * wy + qz * wz
    if p_side * q_side >= 0.0:
        return -1.0, 0.0, 0.0, 0.0
    p_in, q_in = px * ux + py * uy + pz * uz, qx * ux + qy * uy + qz * uz
    if p_in + (q_in - p_in) * p_side / (p_side - q_side) <= 0.0:
        return -1.0, 0.0, 0.0, 0.0
    p_out, q_out = np.sqrt(p_in**2 + p_side**2), np.sqrt(q_in**2 + q_side**2)
    p_along, q_along = px * ax + py * ay + pz * az, qx * ax + qy * ay + qz * az
    across = p_out + q_out
    share = p_out / across
    place = p_along + (q_along - p_along) * share
    if place < 0.0 or place > length:
        return -1.0, 0.0, 0.0, 0.0
    way = np.sqrt((q_along - p_along) ** 2 + across**2)
    sine2 = (across / way) ** 2
    turn = -(p_in * q_in + p_side * q_side) / (p_out * q_out)
    angle = np.arccos(min(1.0, max(-1.0, 1.0 - sine2 + sine2 * turn)))
    return way, way * share, angle, place


@compiled
def bend_points(
    edges: tuple[Reals, Reals, Reals, Reals, Floats],
    first_loss: Floats,
    second_loss: Floats,
    source: Reals,
    axis: Reals,
    pattern: Floats,
    points: Reals,
    free_db: Floats,
    wave_m: Reals,
    nearest: float,
    together: float,
    power: Floats,
    scatter: Floats,
) -> None:
    """Add the way round every edge to `power` and `scatter` (band, point).

    `edges` is (start, along, length, inward, beside_db); `first_loss` (e, band + 2) what the ray from
    the source to the middle of each edge crosses, `second_loss` (e, band + 2, point) from there on.
    **Source**: ITU-R P.526, section 4.1 (nu by the angle of the bend); docs/radio.md, "Levels of paths",
    "Uncertainty".
    """
    start, along, length, inward, beside_db = edges
    bands = power.shape[0]
    steps = (pattern.size - 1) / 2.0
    for e in range(length.size):
        for i in range(points.shape[0]):
            way, first, angle, place = bend(
                start[e], along[e], length[e], inward[e],
                source[0], source[1], source[2], points[i, 0], points[i, 1], points[i, 2],
            )  # fmt: skip
            if way < 0.0:
                continue
            toward = 0.0
            for c in range(3):
                toward += axis[c] * (start[e, c] + place * along[e, c] - source[c]) / max(first, 1e-9)
            spot = min(max((toward + 1.0) * steps, 0.0), pattern.size - 1.001)
            k = int(spot)
            level = pattern[k] + (spot - k) * (pattern[k + 1] - pattern[k])
            level += POWER_SHIFT_DB - 20.0 * np.log10(max(way, nearest))
            total = first_loss[e, bands] + second_loss[e, bands, i]
            squares = first_loss[e, bands + 1] + second_loss[e, bands + 1, i]
            variance = together * total * total + (1.0 - together) * squares
            for b in range(bands):
                there = level - free_db[b] - first_loss[e, b] - second_loss[e, b, i] - beside_db[e, b]
                if there - 6.0 < 10.0 * np.log10(power[b, i]) - _FAINT_DB:
                    continue
                nu = angle * np.sqrt(2.0 * first * (way - first) / (wave_m[b] * way))
                received = 10.0 ** ((there - knife_edge_db(nu)) / 10.0)
                power[b, i] += received
                scatter[b, i] += received * received * variance
