"""Fewer rectangles for the same walls: a wall with its doors and windows is one, less what they take out.

Losses add, so a wall may be met as if it had no openings where what an opening loses more or less is added
behind it: a wall of four pieces round a door is a rectangle and a hole.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

NOTHING = -1  # kind of an opening without a leaf

_SAME = 9  # decimals of a metre to which edges that meet are equal
_Ends = tuple[float, float]
_Sides = tuple[float, float, float, float]  # along the wall from and to, foot and top


class Joined(NamedTuple):
    """Rectangles, each followed by the holes that lie in it."""

    panels_m: NDArray[np.float64]  # (k, 6) x0, y0, x1, y1, z0, z1
    kind: NDArray[np.int32]  # (k,) of a rectangle; -1 - i for a hole that makes of `swaps[i][0]` the other
    plane: NDArray[np.int32]  # (k,)
    swaps: NDArray[np.int32]  # (s, 2) kind of what the hole lies in, and of what is there instead, or NOTHING


class _Block(NamedTuple):
    plane: int
    kind: int
    a: _Ends
    b: _Ends
    z0: float
    z1: float
    sides: _Sides  # rounded
    holes: tuple[tuple[int, _Block], ...] = ()  # and the kind that each lies in


def join_panels(panels_m: NDArray[np.float64], kind: NDArray[np.int32], plane: NDArray[np.int32]) -> Joined:
    """Rectangles and holes that lose what `panels_m` (n, 6) lose, with their kinds and planes (n,).

    Panels of one plane and kind are joined that go on from one to the next, upward and along the wall, and
    those that are parted by an opening alone. A ray that meets two panels at their common edge crosses
    exactly one, so it meets the same kinds. **Source**: docs/radio.md, "How reflections are fast".
    """
    by_plane: dict[int, list[_Block]] = {}
    for (x0, y0, x1, y1, z0, z1), k, p in zip(panels_m.tolist(), kind.tolist(), plane.tolist(), strict=True):
        axis = 0 if abs(x1 - x0) >= abs(y1 - y0) else 1
        a, b = (x0, y0), (x1, y1)
        if a[axis] > b[axis]:
            a, b = b, a
        by_plane.setdefault(p, []).append(_block(p, k, a, b, z0, z1))
    return _as_arrays(block for of_plane in by_plane.values() for block in _over_openings(of_plane))


def _block(plane: int, kind: int, a: _Ends, b: _Ends, z0: float, z1: float) -> _Block:
    axis = 0 if abs(b[0] - a[0]) >= abs(b[1] - a[1]) else 1
    sides = round(a[axis], _SAME), round(b[axis], _SAME), round(z0, _SAME), round(z1, _SAME)
    return _Block(plane, kind, a, b, z0, z1, sides)


def _as_arrays(blocks: Iterable[_Block]) -> Joined:
    """Blocks as arrays, each followed by its holes."""
    swaps: dict[tuple[int, int], int] = {}
    rows, kinds, planes = [], [], []
    for block in blocks:
        for within, one in ((None, block), *block.holes):
            rows.append((*one.a, *one.b, one.z0, one.z1))
            kinds.append(
                one.kind if within is None else -1 - swaps.setdefault((within, one.kind), len(swaps))
            )
            planes.append(one.plane)
    return Joined(
        np.array(rows, dtype=np.float64).reshape(-1, 6),
        np.array(kinds, dtype=np.int32),
        np.array(planes, dtype=np.int32),
        np.array(list(swaps), dtype=np.int32).reshape(-1, 2),
    )


def _over_openings(blocks: list[_Block]) -> list[_Block]:
    """The blocks of one plane, those as one that stand in a row on both sides of openings."""
    while (fewer := _one_less(blocks)) is not None:
        blocks = fewer
    return blocks


def _one_less(blocks: list[_Block]) -> list[_Block] | None:
    """The blocks with the first two that can be as one, along the wall before upward; None if none can."""
    for along in (0, 2):
        rows: dict[tuple[float, ...], list[_Block]] = {}
        for block in blocks:
            across = block.sides[2:] if along == 0 else block.sides[:2]
            rows.setdefault((block.kind, *across), []).append(block)
        for row in rows.values():
            row.sort(key=lambda block: block.sides[along])
            for one, other in pairwise(row):
                joined = _as_one(one, other, blocks)
                if joined is not None:
                    return joined
    return None


def _as_one(one: _Block, other: _Block, blocks: list[_Block]) -> list[_Block] | None:
    """`blocks` with the rectangle over two of them in place of all it covers; None where that is no gain.

    All that it covers lies in it whole and nowhere twice, and what is left open is a rectangle.
    """
    upward = one.sides[:2] == other.sides[:2]
    whole = _block(
        one.plane, one.kind, one.a, one.b if upward else other.b, one.z0, other.z1 if upward else one.z1
    )
    left, right, foot, top = whole.sides
    inside: list[_Block] = []
    outside: list[_Block] = []
    for block in blocks:
        x0, x1, z0, z1 = block.sides
        apart = x1 <= left or x0 >= right or z1 <= foot or z0 >= top
        if not apart and not (left <= x0 and x1 <= right and foot <= z0 and z1 <= top):
            return None
        (outside if apart else inside).append(block)
    if any(_beside(end, whole) for block in inside for end in (block.a, block.b)):
        return None
    gaps = _left_open(inside, whole)
    if gaps is None or sum(block.kind == one.kind for block in inside) - 1 <= len(gaps):
        return None
    holes = [(one.kind, gap) for gap in gaps]
    for block in inside:
        holes += block.holes
        if block.kind != one.kind:
            holes.append((one.kind, block._replace(holes=())))
    if any(_parts(hole, whole) for within, hole in holes if within == one.kind):
        return None
    return [*outside, whole._replace(holes=tuple(holes))]


def _beside(end: _Ends, whole: _Block) -> bool:
    """Whether a place is not on the line of a rectangle: panels of a plane may lie a hair apart."""
    along, up = whole.b[0] - whole.a[0], whole.b[1] - whole.a[1]
    off = along * (end[1] - whole.a[1]) - up * (end[0] - whole.a[0])
    return abs(off) > 0.1**_SAME * max(abs(along), abs(up))


def _parts(hole: _Block, whole: _Block) -> bool:
    """Whether a hole goes from one side of a rectangle to the other: then they are better two."""
    (left, right, foot, top), (x0, x1, z0, z1) = whole.sides, hole.sides
    return (x0 == left and x1 == right) or (z0 == foot and z1 == top)


def _left_open(inside: list[_Block], whole: _Block) -> list[_Block] | None:
    """What blocks leave open of the rectangle they lie in; None if two overlap, or it is no rectangle."""
    ends = {side: end for block in inside for side, end in zip(block.sides, (block.a, block.b), strict=False)}
    heights = {side: z for block in inside for side, z in zip(block.sides[2:], block[4:6], strict=True)}
    along, up = sorted(ends), sorted(heights)
    covered = np.zeros((len(along) - 1, len(up) - 1), dtype=np.int32)
    for block in inside:
        x0, x1, z0, z1 = block.sides
        covered[along.index(x0) : along.index(x1), up.index(z0) : up.index(z1)] += 1
    if covered.max() > 1:
        return None
    i, j = np.nonzero(covered == 0)
    if not i.size:
        return []
    i0, i1, j0, j1 = i.min(), i.max() + 1, j.min(), j.max() + 1
    if covered[i0:i1, j0:j1].any():
        return None
    a, b, z0, z1 = ends[along[i0]], ends[along[i1]], heights[up[j0]], heights[up[j1]]
    return [_block(whole.plane, NOTHING, a, b, z0, z1)]
