"""What one straight ray goes through, piece by piece, so that a spot can be explained."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from rehaul.radio.band import FrequencyBand, as_bands
from rehaul.radio.bodies import BodyTables, round_points
from rehaul.radio.geometry import panel_cosine, plate_cosine
from rehaul.radio.losstable import COSINE_STEPS, THICKNESS_TOLERANCE
from rehaul.radio.scene import Scene
from rehaul.radio.tables import bodies, body_tables, flat, tables

_SEEN_DB = 1e-3  # a body that costs the ray less is not on its way


@dataclass(frozen=True, eq=False)
class Crossing:
    """One piece on the way, in the order the ray meets them."""

    piece: Literal["panel", "plate", "body"]
    index: int  # in the scene's panels, plates or bodies
    kind: str  # name of the construction
    distance_m: float  # from the start of the ray
    angle_deg: float  # of incidence, from the normal; 0 for a body
    loss_db: NDArray[np.float64]  # (band,)
    sd_db: float


def crossings(
    scene: Scene,
    start_m: tuple[float, float, float],
    end_m: tuple[float, float, float],
    bands: Iterable[FrequencyBand | float],
) -> tuple[Crossing, ...]:
    """Everything the straight ray from `start_m` to `end_m` [m] crosses, with the loss of each.

    **Validity**, **Source**: as `field` at the direct level, to whose losses these add up where not eased.
    """
    bands = as_bands(bands)
    pieces, table = flat(scene), tables(scene.kinds, bands)
    start, end = np.asarray(start_m, dtype=np.float64), np.asarray(end_m, dtype=np.float64)
    found = []
    for p, panel in enumerate(pieces.panels_m):
        cosine = panel_cosine(panel, *start, *end)
        if cosine >= 0:
            normal = np.array([panel[1] - panel[3], panel[2] - panel[0]])
            along = float(normal @ (panel[:2] - start[:2])) / float(normal @ (end[:2] - start[:2]))
            found.append(("panel", p, int(pieces.panel_kind[p]), along, cosine))
    for p, z in enumerate(pieces.plate_z_m):
        ring = pieces.edges_m[pieces.edge_start[p] : pieces.edge_start[p + 1]]
        cosine = plate_cosine(z, ring, *start, *end)
        if cosine >= 0:
            along = (z - start[2]) / (end[2] - start[2])
            found.append(("plate", p, int(pieces.plate_kind[p]), float(along), cosine))
    length = float(np.linalg.norm(end - start))
    steps = np.arange(COSINE_STEPS + 2) / COSINE_STEPS
    passed = [
        Crossing(
            "panel" if piece == "panel" else "plate",
            index,
            scene.kinds[k].name,
            along * length,
            float(np.degrees(np.arccos(min(cosine, 1.0)))),
            np.array([np.interp(cosine, steps, row) for row in table.loss_db[k]]),
            scene.kinds[k].sd_db,
        )
        for piece, index, k, along, cosine in found
    ]
    passed += _bodies(scene, start, end, bands)
    return tuple(sorted(passed, key=lambda crossing: crossing.distance_m))


def _bodies(
    scene: Scene, start: NDArray[np.float64], end: NDArray[np.float64], bands: tuple[FrequencyBand, ...]
) -> Iterator[Crossing]:
    """The bodies that cost the ray something."""
    every, table = bodies(scene), body_tables(scene, bands, THICKNESS_TOLERANCE)
    way = end - start
    for n, body in enumerate(scene.bodies):
        lost = np.zeros((1, len(bands) + 2), dtype=np.float32)
        one = slice(n, n + 1)
        its_table = BodyTables(table.wave_root, table.through[one], table.sd_db[one], table.per_db[one])
        round_points(every.only(one), its_table, start, end[None], False, lost)
        if lost[0, :-2].max() > _SEEN_DB:
            weight = way / every.half_m[n] ** 2
            along = float((every.centre_m[n] - start) @ weight / (way @ weight))
            yield Crossing(
                "body",
                n,
                scene.kinds[body.kind].name,
                along * float(np.linalg.norm(way)),
                0.0,
                lost[0, :-2].astype(np.float64),
                float(lost[0, -2]),
            )
