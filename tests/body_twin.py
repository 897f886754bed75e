"""Big bodies worked out a second time: plain NumPy, ray by ray, straight from the knife edge's formula."""

from __future__ import annotations

from itertools import product

import numpy as np

from rehaul.facts.radio_numbers import radio_numbers
from rehaul.radio import Bulk

LIGHT_M_PER_S = 299_792_458.0


def knife_edge_share(nu: float) -> float:
    """Share of power past a knife edge, ITU-R P.526 section 4.1: 10^(-J(nu) / 10), all of it below -0.78."""
    if nu < -0.78:
        return 1.0
    return 10 ** (-(6.9 + 20 * np.log10(np.hypot(nu - 0.1, 1) + nu - 0.1)) / 10)


def edges_of(body: Bulk, start: np.ndarray, end: np.ndarray) -> tuple[float, float, dict[str, list[float]]]:
    """d1 and d2 to the body's plane across the ray, and how far within the edges of each side the ray passes.

    The outline is that of the eight corners as seen along the ray: upright edges left and right, over and
    under it edges along x and along y. Rays are not upright.
    """
    low, high = np.array(body.low_m), np.array(body.high_m)
    middle, half = (low + high) / 2, (high - low) / 2
    way = end - start
    length = np.linalg.norm(way)
    # the middle of the ray's way through the ellipsoid of the box: where it is nearest with its sizes as unit
    t = np.dot((middle - start) / half, way / half) / np.dot(way / half, way / half)
    corners = np.array(list(product(*zip(low, high, strict=True)))) - start
    along = corners @ way / (way @ way)
    t = np.clip(t, along.min(), along.max())  # or as near to that as the body reaches along the ray
    within: dict[str, list[float]] = {"left": [], "right": [], "over": [], "under": []}
    for axis in range(3):
        across = np.cross(way, np.eye(3)[axis])
        if np.linalg.norm(across) < 1e-9:
            continue  # seen end on, such an edge is a corner of the outline
        across /= np.linalg.norm(across)
        if axis < 2 and across[2] < 0:
            across = -across
        most, least = (corners @ across).max(), (corners @ across).min()
        within["right" if axis == 2 else "over"].append(most)
        within["left" if axis == 2 else "under"].append(-least)
    return t * length, (1 - t) * length, within


def round_share(body: Bulk, start: np.ndarray, end: np.ndarray, frequency_hz: float) -> float:
    """Sum of the powers past the open sides of a body between two places, over what came without it.

    Where a side has two edges, the one that lets less past.
    """
    d1, d2, within = edges_of(body, start, end)
    root = np.sqrt(2 * frequency_hz / LIGHT_M_PER_S * (1 / d1 + 1 / d2))
    ways = ["left", "right", *(["over"] if body.over else []), *(["under"] if body.under else [])]
    return sum(min(knife_edge_share(edge * root) for edge in within[way]) for way in ways)


def scattered_share(body: Bulk, start: np.ndarray, end: np.ndarray) -> float:
    """Power that the body's room scatters from one place to the other, over what comes straight.

    In watts, by Sabine's energy balance: density of power 4P / A, of which an antenna among waves of every
    polarisation takes lambda^2 / 8 pi, less by exp(-d / D); straight it takes P (lambda / 4 pi d)^2.
    """
    if body.room is None:
        return 0.0
    surface_m2, volume_m3 = body.room
    power_w, wave_m, absorbing_m2 = 1.0, 0.1, radio_numbers()["room_absorption"] * surface_m2
    before_m, after_m, _ = edges_of(body, start, end)
    path_m = sum(min(max(leg, 0.01), 4 * volume_m3 / surface_m2) for leg in (before_m, after_m))
    late = np.exp(-path_m / (4 * volume_m3 / absorbing_m2))
    from_all_sides_w = 4 * power_w / absorbing_m2 * late * wave_m**2 / (8 * np.pi)
    return float(from_all_sides_w / (power_w * (wave_m / (4 * np.pi * path_m)) ** 2))


def left_share(body: Bulk, start: np.ndarray, end: np.ndarray, frequency_hz: float) -> float:
    """What goes round a body and what its room scatters, over both without the body."""
    scattered = scattered_share(body, start, end)
    return (min(round_share(body, start, end, frequency_hz), 1.0) + scattered) / (1 + scattered)
