"""Scenes for the radio tests and benchmarks: a three-storey house, and pieces strewn at random."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from rehaul.radio import Bulk, LayeredKind, Scene, kind, plate

KINDS: tuple[LayeredKind, ...] = tuple(
    kind(name)
    for name in (
        "brick-solid",
        "stud-plasterboard",
        "brick-half",
        "door-hollow",
        "glass-double",
        "timber-floor",
        "concrete-slab",
        "metal-body",
        "chimney-breast",
    )
)
STOREY_M = 2.7
DOOR_HEAD_M, SILL_M, LINTEL_M = 2.0, 0.9, 2.1


def _cut(
    x0: float, y0: float, x1: float, y1: float, foot_m: float, opening: tuple[float, float, str], solid: int
):
    """Panels of one wall with one opening from and to fractions of its length: piers, lintel, sill, leaf."""

    def part(a: float, b: float, z0: float, z1: float, kind_index: int):
        ends = (x0 + a * (x1 - x0), y0 + a * (y1 - y0), x0 + b * (x1 - x0), y0 + b * (y1 - y0))
        return (*ends, foot_m + z0, foot_m + z1), kind_index

    a, b, what = opening
    head = DOOR_HEAD_M if what == "door" else LINTEL_M
    sill = 0.0 if what == "door" else SILL_M
    pieces = [
        part(0, a, 0, STOREY_M, solid),
        part(b, 1, 0, STOREY_M, solid),
        part(a, b, head, STOREY_M, solid),
    ]
    pieces.append(part(a, b, sill, head, 3 if what == "door" else 4))
    if sill:
        pieces.append(part(a, b, 0, sill, solid))
    return pieces


def three_storey_house(storeys: int = 3) -> Scene:
    """12 m by 9 m, about 40 wall pieces' lengths a storey, every one with a door or a window."""
    pieces: list[tuple[tuple[float, ...], int]] = []
    xs, ys = np.linspace(0, 12, 5), np.linspace(0, 9, 4)
    for storey in range(storeys):
        foot = storey * STOREY_M
        for j, y in enumerate(ys):
            for i in range(4):
                outer = j in (0, 3)
                opening = (0.35, 0.7, "window") if outer else (0.15 + 0.1 * ((i + storey) % 3), 0.55, "door")
                pieces += _cut(xs[i], y, xs[i + 1], y, foot, opening, 0 if outer else 1 + (i + j) % 2)
        for i, x in enumerate(xs):
            for j in range(3):
                outer = i in (0, 4)
                opening = (0.3, 0.65, "window") if outer else (0.2 + 0.1 * ((j + storey) % 3), 0.6, "door")
                pieces += _cut(x, ys[j], x, ys[j + 1], foot, opening, 0 if outer else 1 + (i + j) % 2)
    ring = [(0, 0), (12, 0), (12, 9), (0, 9)]
    void = [(6.2, 3.2), (8.8, 3.2), (8.8, 4.2), (6.2, 4.2)]
    plates = [plate(0.0, ring, 6)]
    plates += [plate(s * STOREY_M, ring, 5, (void,)) for s in range(1, storeys)]
    plates.append(plate(storeys * STOREY_M, ring, 5))
    panels = np.array([panel for panel, _ in pieces])
    return Scene(panels, np.array([k for _, k in pieces], dtype=np.int32), tuple(plates), KINDS)


def furnished(house: Scene) -> Scene:
    """The three-storey house with a refrigerator, a boiler on the wall, a bath, a chimney and a duct."""

    def body(x: float, y: float, z: float, wide: float, deep: float, tall: float, **how: object) -> Bulk:
        what = how.pop("kind", 7)
        return Bulk((x, y, z), (x + wide, y + deep, z + tall), what, **how)  # type: ignore[arg-type]

    first, second = STOREY_M, 2 * STOREY_M
    bodies = (
        body(6.1, 2.2, 0.0, 0.6, 0.65, 1.8),
        body(0.1, 6.3, 1.1, 0.5, 0.4, 0.8, under=True),
        body(9.2, 6.9, first, 1.7, 0.7, 0.5),
        body(3.2, 4.4, first, 1.4, 0.7, 2.6, kind=8, over=False),
        body(1.5, 4.3, second + 2.2, 5.0, 0.3, 0.3, over=False, under=True),
    )
    return replace(house, bodies=bodies)


def strewn(rng: np.random.Generator, panels: int, plates: int = 3, size_m: float = 10.0) -> Scene:
    """Panels of any direction and height, and plates with holes, thrown about a cube."""
    ends: NDArray[np.float64] = rng.uniform(0, size_m, (panels, 2))
    turn, length = rng.uniform(0, 2 * np.pi, panels), rng.uniform(0.3, 4.0, panels)
    foot, height = rng.uniform(0, 6, panels), rng.uniform(0.4, 3, panels)
    far = ends + np.stack([length * np.cos(turn), length * np.sin(turn)], axis=1)
    found = np.column_stack([ends, far, foot, foot + height])
    slabs = []
    for z in rng.uniform(0.5, 7, plates):
        middle = rng.uniform(0.3, 0.7, 2) * size_m
        corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
        turned = corners @ np.array([[0.8, 0.6], [-0.6, 0.8]])
        slabs.append(plate(float(z), middle + 3.0 * turned, 5, (middle + 0.7 * corners,)))
    return Scene(found, rng.integers(0, 5, panels).astype(np.int32), tuple(slabs), KINDS)


def box_panels(
    x0_m: float, y0_m: float, x1_m: float, y1_m: float, z0_m: float, z1_m: float
) -> NDArray[np.float64]:
    """The four upright sides of a box square to the axes, as panels (4, 6) [m]."""
    corners = [(x0_m, y0_m), (x1_m, y0_m), (x1_m, y1_m), (x0_m, y1_m)]
    sides = zip(corners, corners[1:] + corners[:1], strict=True)
    return np.array([(*a, *b, z0_m, z1_m) for a, b in sides], dtype=np.float64)
