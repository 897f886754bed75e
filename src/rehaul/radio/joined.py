"""Fewer rectangles for the same walls: panels of one plane and kind that make up a larger one are one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Rectangle = tuple[
    int, int, tuple[float, float], tuple[float, float], float, float
]  # plane, kind, ends, z0, z1

_SAME = 9  # decimals of a metre to which edges that meet are equal


def join_panels(
    panels_m: NDArray[np.float64], kind: NDArray[np.int32], plane: NDArray[np.int32]
) -> tuple[NDArray[np.float64], NDArray[np.int32], NDArray[np.int32]]:
    """Panels (k, 6) that cover what `panels_m` (n, 6) cover, with their kinds and planes (k,).

    First those one above the other are joined, then those side by side. A ray crosses of two panels that meet
    at an edge exactly one, so it meets the same kinds. **Source**: docs/radio.md, "How reflections are fast".
    """
    found: list[Rectangle] = []
    for (x0, y0, x1, y1, z0, z1), k, p in zip(panels_m.tolist(), kind, plane, strict=True):
        a, b = sorted(((x0, y0), (x1, y1)), key=_near)
        found.append((int(p), int(k), a, b, z0, z1))
    found = _in_rows(_in_rows(found, upward=True), upward=False)
    panels = np.array([(*a, *b, z0, z1) for _, _, a, b, z0, z1 in found]).reshape(-1, 6)
    kinds = np.array([k for _, k, *_ in found], dtype=np.int32)
    return panels, kinds, np.array([p for p, *_ in found], dtype=np.int32)


def _in_rows(pieces: list[Rectangle], upward: bool) -> list[Rectangle]:
    """Each run of rectangles that go on from one to the next, upward or along the wall, as one."""
    begins: dict[tuple[object, ...], Rectangle] = {}
    alone: list[Rectangle] = []  # what shares its beginning with another is left as it is
    for piece in pieces:
        if begins.setdefault(_begin(piece, upward), piece) is not piece:
            alone.append(piece)
    followers = {_end(piece, upward) for piece in begins.values()} & set(begins)
    joined = []
    for start, piece in begins.items():
        if start in followers:
            continue
        last = piece
        while (following := begins.get(_end(last, upward))) is not None:
            last = following
        plane, kind, a, b, z0, _ = piece
        joined.append((plane, kind, a, last[3] if not upward else b, z0, last[5]))
    return joined + alone


def _begin(piece: Rectangle, upward: bool) -> tuple[object, ...]:
    """What a rectangle begins at: one that ends there goes on in it."""
    plane, kind, a, b, z0, z1 = piece
    return (plane, kind, _near(a), *((_near(b), _near((z0,))) if upward else (_near((z0, z1)),)))


def _end(piece: Rectangle, upward: bool) -> tuple[object, ...]:
    plane, kind, a, b, z0, z1 = piece
    return (plane, kind, *((_near(a), _near(b), _near((z1,))) if upward else (_near(b), _near((z0, z1)))))


def _near(place: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(round(c, _SAME) for c in place)
