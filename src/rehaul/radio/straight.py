"""Losses along straight rays, every piece tested against every point: plain, and for scattered points."""

from __future__ import annotations

import numpy as np
from numba import njit

from rehaul.radio.geometry import panel_cosine, plate_cosine


@njit(cache=True, nogil=True)
def straight_losses(  # type: ignore[no-untyped-def]
    panels, panel_kind, plate_z, plate_kind, edges, edge_start, loss_db, sd_db, source, points, out
):
    """Add up what each straight ray crosses.

    `loss_db` (kind, band, cosine step) and `sd_db` (kind,) are tables; `points` (k, 3). Writes `out`
    (k, band + 2): loss of each band, then the sum and the sum of squares of the spreads.
    """
    bands = loss_db.shape[1]
    steps = loss_db.shape[2] - 2
    sx, sy, sz = source
    for i in range(points.shape[0]):
        rx, ry, rz = points[i, 0], points[i, 1], points[i, 2]
        out[i, :] = 0.0
        for p in range(panels.shape[0] + plate_z.shape[0]):
            if p < panels.shape[0]:
                kind = panel_kind[p]
                cosine = panel_cosine(panels[p], sx, sy, sz, rx, ry, rz)
            else:
                q = p - panels.shape[0]
                kind = plate_kind[q]
                cosine = plate_cosine(
                    plate_z[q], edges, edge_start[q], edge_start[q + 1], sx, sy, sz, rx, ry, rz
                )
            if cosine < 0.0:
                continue
            place = np.float32(cosine * steps)
            k = int(place)
            part = place - np.float32(k)
            for b in range(bands):
                low = loss_db[kind, b, k]
                out[i, b] += low + part * (loss_db[kind, b, k + 1] - low)
            out[i, bands] += sd_db[kind]
            out[i, bands + 1] += sd_db[kind] * sd_db[kind]
