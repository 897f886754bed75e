"""First-order mirror reflections from every wall and slab, over a whole grid, by images.

A path that is thrown back once is straight when the source is mirrored. All panels of one plane share one
image. Seen from it, the receivers that a panel lights are its shadow; what stands before the mirror shades
them twice: as itself on the way from the mirror, mirrored on the way to it. Nothing is left out.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import compiled
from rehaul.radio.beams import EVERY, LIT, look, measure, room_for, shade_rings, shade_sheets
from rehaul.radio.bodies import BodyTables, FlatBodies, round_storey_mirrored
from rehaul.radio.folded import Folded, add_rings, image_of, room_for_rings
from rehaul.radio.lanes import address
from rehaul.radio.lit import list_lit, take_hull, wipe
from rehaul.radio.mirror import ON_PLANE_M
from rehaul.radio.summed import free_of, gather

Receivers = tuple[
    tuple[float, float], float, Reals, int, int, Floats
]  # (x0, y0), step, heights, ny, nx, free_db


class LaneTables(NamedTuple):
    """Losses of every kind by lanes (kind, cosine step, lane), as `in_lanes` lays them."""

    panel_loss: NDArray[np.float32]
    plate_loss: NDArray[np.float32]
    panel_last: NDArray[np.float32]  # what the last mirror of a path loses
    plate_last: NDArray[np.float32]
    panel_first: NDArray[np.float32]  # and what the first of two loses
    plate_first: NDArray[np.float32]


@compiled
def reflect_grid(
    bodies: FlatBodies,
    body_tables: BodyTables,
    folded: Folded,
    tables: LaneTables,
    transmitter: tuple[Reals, Reals, Floats],
    receivers: Receivers,
    spreads: tuple[float, float],
    power: Floats,
    scatter: Floats,
) -> None:
    """Add every single reflection to the power at every receiver.

    `bodies` and `body_tables` as in `radio.bodies`; `transmitter` is (source, axis, pattern), `spreads`
    (nearest, together). Adds to `power` and `scatter` (power² times variance), (storey · ny · nx, float).
    **Source**: ITU-R P.2040 (what a slab throws back), method of images; docs/radio.md, "How reflections
    are fast".
    """
    source, axis, pattern = transmitter
    origin, step, heights, ny, nx, free_db = receivers
    bands, size, lanes, few = free_db.size, ny * nx, tables.panel_loss.shape[2], power.shape[1]
    free = free_of(free_db, few)
    plates, rings = folded.plates, room_for_rings(folded.plates, 2)
    bench = room_for(ny, nx, lanes, folded.sheets.shape[1], rings.edges.shape[0])
    image, turned, normal = np.empty(3), np.empty(3), np.empty(3)
    lit = np.empty((1, ny, 2), dtype=np.int64)
    power_at, scatter_at = address(power), address(scatter)
    window, window_kind, window_start = folded.window, folded.window_kind, folded.window_start
    sheets, sheet_kind, sheet_start = folded.sheets, folded.sheet_kind, folded.sheet_start
    panel_loss, plate_loss, panel_last, plate_last = tables[:4]
    for m in range(folded.planes.shape[0]):
        before, sign = image_of(folded.planes[m], source, axis, image, turned)
        if before < ON_PLANE_M:
            continue
        at = sign * folded.planes[m]
        made = add_rings(plates, plates.z.size, at[0], at[1], at[2], at[3], False, rings, 0)
        made = add_rings(plates, plates.z.size, at[0], at[1], at[2], at[3], True, rings, made)
        side = 4 * m + (0 if sign > 0.0 else 2)
        for s in range(heights.size):
            view = look(image, origin, step, heights[s], bench, nx)
            for opens in (True, False):
                shade_sheets(
                    window, window_kind, window_start[m], window_start[m + 1],
                    panel_last, lanes, nx, view, bench, opens,
                )  # fmt: skip
                if at[2] != 0.0:
                    level = at[2] * at[3]
                    shade_rings(plates, plates.z.size, level, plate_last, lanes, nx, view, bench, opens)
                if opens:
                    if not take_hull(bench, nx):
                        break
                    measure(view, bench, nx)
            if bench.box[1] < 0:
                continue
            shade_rings(rings, made, EVERY, plate_loss, lanes, nx, view, bench, False)
            shade_sheets(
                sheets, sheet_kind, sheet_start[side], sheet_start[side + 2],
                panel_loss, lanes, nx, view, bench, False,
            )  # fmt: skip
            if bodies[0].shape[0] > 0:
                normal[:] = at[:3]
                for j in range(ny):
                    lit[0, j, 0], lit[0, j, 1] = bench.rows[LIT, j], bench.rows[LIT + 1, j]
                round_storey_mirrored(
                    bodies, body_tables, source, image, normal, before, origin, step, heights[s : s + 1],
                    lit, lanes, nx, bench.lost,
                )  # fmt: skip
            count = list_lit(
                image,
                turned,
                pattern,
                origin,
                step,
                spreads[0],
                bands,
                lanes,
                nx,
                1,
                view.rise,
                0,
                few,
                bench,
            )
            storey = 4 * s * size * few
            gather(bench, count, lanes, few, bands, free, spreads[1], power_at + storey, scatter_at + storey)
            wipe(bench, nx, lanes)
