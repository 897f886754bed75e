"""Halves and images of pieces at a mirror plane n·r = offset; the normal points to the half that is kept.

A mirror is upright (nz 0) or level (nz 1 or -1); its normal is a unit vector.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Reals
from rehaul.kernels.loops import uncounted

ON_PLANE_M = 1e-7


@uncounted
def cut_sheets(
    sheets: Reals,
    kind: NDArray[np.int32],
    first: int,
    end: int,
    nx: float,
    ny: float,
    nz: float,
    offset: float,
    flip: bool,
    out: Reals,
    out_kind: NDArray[np.int32],
) -> int:
    """Write what is before the mirror of the panels (6, n) from `first` to `end`, as it stands or mirrored.

    To `out` (6, at least as many) and `out_kind`; returns how many. Heights stay in order: the lower first.
    What is left of a panel in the mirror's own plane is nothing, nor of the holes (negative `kind`) that
    follow a panel of which nothing is left. **Source**: method of images; docs/radio.md, "How reflections are
    fast".
    """
    count, gone = 0, False
    for p in range(first, end):
        if kind[p] >= 0:
            gone = True
        elif gone:
            continue
        x0, y0, x1, y1 = sheets[0, p], sheets[1, p], sheets[2, p], sheets[3, p]
        z0, z1 = sheets[4, p], sheets[5, p]
        if nz != 0.0:
            if nz > 0.0:
                z0 = max(z0, offset)
            else:
                z1 = min(z1, -offset)
            if z1 - z0 < ON_PLANE_M:
                continue
            if flip:
                z0, z1 = 2.0 * offset * nz - z1, 2.0 * offset * nz - z0
        else:
            a, b = nx * x0 + ny * y0 - offset, nx * x1 + ny * y1 - offset
            if max(a, b) < ON_PLANE_M:
                continue
            if a < 0.0:
                share = a / (a - b)
                x0, y0, a = x0 + share * (x1 - x0), y0 + share * (y1 - y0), 0.0
            elif b < 0.0:
                share = b / (b - a)
                x1, y1, b = x1 + share * (x0 - x1), y1 + share * (y0 - y1), 0.0
            if flip:
                x0, y0, x1, y1 = x0 - 2.0 * a * nx, y0 - 2.0 * a * ny, x1 - 2.0 * b * nx, y1 - 2.0 * b * ny
        out[0, count], out[1, count], out[2, count], out[3, count] = x0, y0, x1, y1
        out[4, count], out[5, count], out_kind[count] = z0, z1, kind[p]
        count += 1
        gone = False
    return count


@uncounted
def cut_ring(
    ring: Reals,
    first: int,
    end: int,
    nx: float,
    ny: float,
    offset: float,
    flip: bool,
    out: Reals,
    start: int,
) -> int:
    """Cut rings (edges in order, ring after ring) to the kept half of an upright mirror, closed along it.

    Takes the edges (e, 4) from `first` to `end` and writes to `out` from `start` on, as they stand or
    mirrored; returns how many. Mirrored edges run on in the order they had, so that the rings go round the
    other way. **Source**: one plane of the clipping of polygons (Sutherland and Hodgman 1974), from memory;
    docs/radio.md, "How reflections are fast".
    """
    count = start
    leaving, entering = False, False  # the ring has gone behind; it began behind and came forward
    gone_x, gone_y, came_x, came_y = 0.0, 0.0, 0.0, 0.0
    for e in range(first, end):
        x0, y0, x1, y1 = ring[e, 0], ring[e, 1], ring[e, 2], ring[e, 3]
        if e > first and (x0 != ring[e - 1, 2] or y0 != ring[e - 1, 3]):
            if leaving and entering:
                out[count, 0], out[count, 1], out[count, 2], out[count, 3] = gone_x, gone_y, came_x, came_y
                count += 1
            leaving, entering = False, False
        a, b = nx * x0 + ny * y0 - offset, nx * x1 + ny * y1 - offset
        if a < 0.0 and b < 0.0:
            continue
        here = count
        count += 1
        if a < 0.0:
            share = a / (a - b)
            x0, y0 = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
            if leaving:
                out[count, 0], out[count, 1], out[count, 2], out[count, 3] = gone_x, gone_y, x0, y0
                count += 1
                leaving = False
            else:
                entering, came_x, came_y = True, x0, y0
        elif b < 0.0:
            share = b / (b - a)
            x1, y1 = x1 + share * (x0 - x1), y1 + share * (y0 - y1)
            leaving, gone_x, gone_y = True, x1, y1
        out[here, 0], out[here, 1], out[here, 2], out[here, 3] = x0, y0, x1, y1
    if leaving and entering:
        out[count, 0], out[count, 1], out[count, 2], out[count, 3] = gone_x, gone_y, came_x, came_y
        count += 1
    if flip:
        for e in range(start, count):
            for c in (0, 2):
                twice = 2.0 * (nx * out[e, c] + ny * out[e, c + 1] - offset)
                out[e, c] -= twice * nx
                out[e, c + 1] -= twice * ny
    return count - start
