"""First-order mirror reflections at scattered points: every panel and plate tried on its own."""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import compiled
from rehaul.radio.bodies import BodyTables, FlatBodies, round_legs
from rehaul.radio.decibels import POWER_SHIFT_DB
from rehaul.radio.finish import finish_points
from rehaul.radio.geometry import FlatScene, panel_cosine, plate_cosine
from rehaul.radio.straight import add_crossing, ray_losses

_SHORT = 1e-7  # legs end this share before the mirror, so that they do not cross it


@compiled
def reflect_points(
    bodies: FlatBodies,
    body_tables: BodyTables,
    pieces: FlatScene,
    tables: tuple[Floats, ...],
    transmitter: tuple[Reals, Reals, Floats],
    points: Reals,
    free_db: Floats,
    spreads: tuple[float, float],
    power: Floats,
    scatter: Floats,
) -> None:
    """Add every single reflection to `power` and `scatter` (band, point).

    `bodies` and `body_tables` as in `radio.bodies`; `pieces` is a FlatScene, `tables` (loss, reflection,
    spread), `transmitter` (source, axis, pattern), `spreads` (nearest, together). **Source**: as
    `reflect_grid` (docs/radio.md, "Levels of paths").
    """
    panels, panel_kind, plate_z, plate_kind, edges, edge_start = pieces
    source, axis, pattern = transmitter
    bands = power.shape[0]
    path = np.empty((1, bands + 2), dtype=np.float32)
    gain, sd = np.empty((bands, 1), dtype=np.float32), np.empty(1, dtype=np.float32)
    image, turned, normal = np.empty(3), np.empty(3), np.empty(3)
    for m in range(panels.shape[0] + plate_z.size):
        if m < panels.shape[0]:
            normal[0], normal[1], normal[2] = panels[m, 3] - panels[m, 1], panels[m, 0] - panels[m, 2], 0.0
            normal /= np.sqrt(normal[0] ** 2 + normal[1] ** 2)
            offset = normal[0] * panels[m, 0] + normal[1] * panels[m, 1]
            kind = panel_kind[m]
        else:
            normal[0], normal[1], normal[2] = 0.0, 0.0, 1.0
            offset = plate_z[m - panels.shape[0]]
            kind = plate_kind[m - panels.shape[0]]
        before = (normal * source).sum() - offset
        image[:] = source - 2.0 * before * normal
        turned[:] = axis - 2.0 * (normal * axis).sum() * normal
        for i in range(points.shape[0]):
            point = points[i]
            if m < panels.shape[0]:
                cosine = panel_cosine(panels[m], image[0], image[1], image[2], point[0], point[1], point[2])
            else:
                q = m - panels.shape[0]
                ring = edges[edge_start[q] : edge_start[q + 1]]
                cosine = plate_cosine(
                    plate_z[q], ring, image[0], image[1], image[2], point[0], point[1], point[2]
                )
            after = (normal * point).sum() - offset
            if cosine < 0.0 or before * after <= 0.0:
                continue
            bounce = image + (point - image) * (before / (before + after))
            path[:] = 0.0
            add_crossing(cosine, tables[1][kind], tables[2][kind], path[0])
            for end in (source, point):
                near = bounce + (end - bounce) * _SHORT
                ray_losses(
                    panels, panel_kind, plate_z, plate_kind, edges, edge_start, tables[0], tables[2],
                    end[0], end[1], end[2], near[0], near[1], near[2], path[0],
                )  # fmt: skip
            round_legs(bodies, body_tables, source, image, normal, before, point, path[0])
            finish_points(
                path,
                image,
                turned,
                pattern,
                free_db,
                points[i : i + 1],
                spreads[0],
                ((0.0, 0.0, 0.0, 0.0), 0.0, spreads[1]),
                gain,
                sd,
            )
            for b in range(bands):
                received = 10.0 ** ((gain[b, 0] + POWER_SHIFT_DB) / 10.0)
                power[b, i] += received
                scatter[b, i] += received**2 * sd[0] ** 2
