"""Halves and images of pieces at a mirror plane n·r = offset; the normal points to the half that is kept."""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Reals
from rehaul.kernels.loops import compiled

ON_PLANE_M = 1e-7


@compiled
def keep_panel(panel: Reals, nx: float, ny: float, nz: float, offset: float) -> bool:
    """Cut a panel (6,), in place, to the half before the mirror; returns whether anything is left.

    The mirror is upright (nz 0) or level (nz 1 or -1); its normal is a unit vector. What is left of a panel
    in the mirror's own plane is nothing. **Source**: method of images; docs/radio.md, "How it is fast".
    """
    if nz != 0.0:
        if nz > 0.0:
            panel[4] = max(panel[4], offset)
        else:
            panel[5] = min(panel[5], -offset)
        return panel[5] - panel[4] >= ON_PLANE_M  # type: ignore[no-any-return]
    a = nx * panel[0] + ny * panel[1] - offset
    b = nx * panel[2] + ny * panel[3] - offset
    if max(a, b) < ON_PLANE_M:
        return False
    if a < 0.0:
        share = a / (a - b)
        panel[0], panel[1] = (
            panel[0] + share * (panel[2] - panel[0]),
            panel[1] + share * (panel[3] - panel[1]),
        )
    elif b < 0.0:
        share = b / (b - a)
        panel[2], panel[3] = (
            panel[2] + share * (panel[0] - panel[2]),
            panel[3] + share * (panel[1] - panel[3]),
        )
    return True


@compiled
def flip_panel(panel: Reals, nx: float, ny: float, nz: float, offset: float) -> None:
    """Mirror a panel (6,) in place, at an upright (nz 0) or level (nz 1 or -1) plane.

    Heights stay in order: the lower first. **Source**: method of images; docs/radio.md, "How it is fast".
    """
    if nz != 0.0:
        panel[4], panel[5] = 2.0 * offset * nz - panel[5], 2.0 * offset * nz - panel[4]
        return
    for c in (0, 2):
        twice = 2.0 * (nx * panel[c] + ny * panel[c + 1] - offset)
        panel[c] -= twice * nx
        panel[c + 1] -= twice * ny


@compiled
def keep_ring(ring: Reals, nx: float, ny: float, offset: float, out: Reals) -> int:
    """Cut rings (edges in order, ring after ring) to the kept half of an upright mirror, closed along it.

    Writes edges to `out` and returns how many. **Source**: one plane of the clipping of polygons (Sutherland
    and Hodgman 1974), from memory; docs/radio.md, "How it is fast".
    """
    count = 0
    leaving, entering = False, False  # the ring has gone behind; it began behind and came forward
    gone_x, gone_y, came_x, came_y = 0.0, 0.0, 0.0, 0.0
    for e in range(ring.shape[0]):
        if e > 0 and (ring[e, 0] != ring[e - 1, 2] or ring[e, 1] != ring[e - 1, 3]):
            if leaving and entering:
                out[count] = np.array([gone_x, gone_y, came_x, came_y])
                count += 1
            leaving, entering = False, False
        a = nx * ring[e, 0] + ny * ring[e, 1] - offset
        b = nx * ring[e, 2] + ny * ring[e, 3] - offset
        if a < 0.0 and b < 0.0:
            continue
        edge = out[count]
        edge[:] = ring[e]
        count += 1
        if a < 0.0:
            edge[0] += a / (a - b) * (ring[e, 2] - ring[e, 0])
            edge[1] += a / (a - b) * (ring[e, 3] - ring[e, 1])
            if leaving:
                out[count] = np.array([gone_x, gone_y, edge[0], edge[1]])
                count += 1
                leaving = False
            else:
                entering, came_x, came_y = True, edge[0], edge[1]
        elif b < 0.0:
            edge[2] += b / (b - a) * (ring[e, 0] - ring[e, 2])
            edge[3] += b / (b - a) * (ring[e, 1] - ring[e, 3])
            leaving, gone_x, gone_y = True, edge[2], edge[3]
    if leaving and entering:
        out[count] = np.array([gone_x, gone_y, came_x, came_y])
        count += 1
    return count


@compiled
def flip_ring(ring: Reals, nx: float, ny: float, offset: float) -> None:
    """Mirror rings (e, 4) in place at an upright plane. Level mirrors move a plate's height alone.

    The edges run on in the order they had, so that the rings go round the other way. **Source**: method of
    images; docs/radio.md, "How it is fast".
    """
    for e in range(ring.shape[0]):
        for c in (0, 2):
            twice = 2.0 * (nx * ring[e, c] + ny * ring[e, c + 1] - offset)
            ring[e, c] -= twice * nx
            ring[e, c + 1] -= twice * ny
