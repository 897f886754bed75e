"""Losses along straight rays, every piece tested against every point: plain, and for scattered points."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import compiled
from rehaul.radio.geometry import panel_cosine, plate_cosine


@compiled
def straight_losses(
    panels: Reals,
    panel_kind: NDArray[np.int32],
    plate_z: Reals,
    plate_kind: NDArray[np.int32],
    edges: Reals,
    edge_start: NDArray[np.int32],
    loss_db: Floats,
    sd_db: Floats,
    source: Reals,
    points: Reals,
    out: Floats,
) -> None:
    """Add up what each straight ray crosses.

    `loss_db` (kind, band, cosine step) and `sd_db` (kind,) are tables; `points` (k, 3). Writes `out`
    (k, band + 2): loss of each band, then the sum and the sum of squares of the spreads.
    """
    for i in range(points.shape[0]):
        out[i, :] = 0.0
        ray_losses(
            panels, panel_kind, plate_z, plate_kind, edges, edge_start, loss_db, sd_db,
            source[0], source[1], source[2], points[i, 0], points[i, 1], points[i, 2], out[i],
        )  # fmt: skip


@compiled
def ray_losses(
    panels: Reals,
    panel_kind: NDArray[np.int32],
    plate_z: Reals,
    plate_kind: NDArray[np.int32],
    edges: Reals,
    edge_start: NDArray[np.int32],
    loss_db: Floats,
    sd_db: Floats,
    sx: float,
    sy: float,
    sz: float,
    rx: float,
    ry: float,
    rz: float,
    out: Floats,
) -> None:
    """Add everything one straight ray crosses to `out` (band + 2,), from (sx, sy, sz) to (rx, ry, rz) [m].

    Tables as in `straight_losses`; the last two gather the spreads and their squares. **Source**:
    docs/radio.md, "Levels of paths": the loss of every crossing at its own angle.
    """
    for p in range(panels.shape[0]):
        cosine = panel_cosine(panels[p], sx, sy, sz, rx, ry, rz)
        if cosine >= 0.0:
            add_crossing(cosine, loss_db[panel_kind[p]], sd_db[panel_kind[p]], out)
    for q in range(plate_z.shape[0]):
        ring = edges[edge_start[q] : edge_start[q + 1]]
        cosine = plate_cosine(plate_z[q], ring, sx, sy, sz, rx, ry, rz)
        if cosine >= 0.0:
            add_crossing(cosine, loss_db[plate_kind[q]], sd_db[plate_kind[q]], out)


@compiled
def add_crossing(cosine: float, loss_db: Floats, sd_db: float, out: Floats) -> None:
    """Add one piece to the losses of one ray, `out` (band + 2,).

    `cosine` of incidence from 0 to 1, `loss_db` (band, cosine step) of this piece; between steps it is
    interpolated. **Source**: docs/radio.md, "Levels of paths": the loss of every crossing at its own angle.
    """
    bands = loss_db.shape[0]
    place = np.float32(cosine * (loss_db.shape[1] - 2))
    k = int(place)
    part = place - np.float32(k)
    for b in range(bands):
        out[b] += loss_db[b, k] + part * (loss_db[b, k + 1] - loss_db[b, k])
    out[bands] += sd_db
    out[bands + 1] += sd_db * sd_db
