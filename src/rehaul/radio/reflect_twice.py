"""Reflections from one mirror to another, over a whole grid, by images of images.

Seen from the second image everything on the way is unfolded, so that the whole path is straight: the
pieces of the first leg mirrored twice, the first mirror mirrored once, the pieces of the second leg
mirrored once, the second mirror, and the pieces of the last leg as they stand. Each group is cut to the
side of the mirrors on which its leg lies, so none is met outside its leg.
"""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import compiled
from rehaul.radio.beams import EVERY, look, measure, room_for, shade_rings, shade_sheets
from rehaul.radio.faint import leave_faint
from rehaul.radio.folded import Folded, add_rings, image_of, room_for_rings
from rehaul.radio.lanes import address
from rehaul.radio.lit import list_lit, take_hull, wipe
from rehaul.radio.mirror import ON_PLANE_M, cut_sheets
from rehaul.radio.reflect import LaneTables, Receivers
from rehaul.radio.summed import free_of, gather


@compiled
def reflect_twice_grid(
    folded: Folded,
    tables: LaneTables,
    transmitter: tuple[Reals, Reals, Floats],
    receivers: Receivers,
    spreads: tuple[float, float],
    wanted: Floats,
    left_out: Floats,
    faint_db: float,
    power: Floats,
    scatter: Floats,
) -> None:
    """Add every double reflection to the power at every receiver; parameters as `reflect_grid`.

    `wanted` (storey · ny · nx, float) as `want` has it, of the power without them; adds to `left_out`
    (storey · ny · nx,) the share of that power which pairs that were left out cannot exceed. Bodies are not
    met on the way. **Validity** and **Source**: as `field`: mirrors ITU-R P.2040, by images of images.
    """
    source, axis, pattern = transmitter
    origin, step, heights, ny, nx, free_db = receivers
    bands, size, mirrors = free_db.size, ny * nx, folded.planes.shape[0]
    lanes, few = tables.panel_loss.shape[2], power.shape[1]
    free, plates = free_of(free_db, few), folded.plates
    mid, rings = room_for_rings(plates, 2), room_for_rings(plates, 6)
    windows, panels = folded.window.shape[1], 4 * folded.window.shape[1]
    bench = room_for(ny, nx, lanes, panels, rings.edges.shape[0])
    way, way_kind = np.empty((6, panels)), np.empty(panels, dtype=np.int32)
    gate, gate_kind = np.empty((6, windows)), np.empty(windows, dtype=np.int32)
    doors = room_for_rings(plates, 1)
    image, turned, second, again = np.empty(3), np.empty(3), np.empty(3), np.empty(3)
    power_at, scatter_at, wanted_at = address(power), address(scatter), address(wanted)
    window, window_kind, window_start = folded.window, folded.window_kind, folded.window_start
    sheets, sheet_kind, sheet_start = folded.sheets, folded.sheet_kind, folded.sheet_start
    panel_loss, plate_loss, panel_last, plate_last, panel_first, plate_first = tables
    for m in range(mirrors):
        before, sign = image_of(folded.planes[m], source, axis, image, turned)
        if before < ON_PLANE_M:
            continue
        one, one_side = sign * folded.planes[m], 4 * m + (0 if sign > 0.0 else 2)
        unfolded = add_rings(plates, plates.z.size, one[0], one[1], one[2], one[3], False, mid, 0)
        unfolded = add_rings(plates, plates.z.size, one[0], one[1], one[2], one[3], True, mid, unfolded)
        for k in range(mirrors):
            before, sign = image_of(folded.planes[k], image, turned, second, again)
            if k == m or before < ON_PLANE_M:
                continue
            two, side = sign * folded.planes[k], 4 * k + (0 if sign > 0.0 else 2)
            gates = cut_sheets(
                window, window_kind, window_start[m], window_start[m + 1],
                two[0], two[1], two[2], two[3], True, gate, gate_kind,
            )  # fmt: skip
            open_doors, first_level, last_level = 0, 0.0, two[2] * two[3]
            lying = plates.z.size if two[2] != 0.0 else 0
            if one[2] != 0.0:
                first_level = one[2] * one[3]
                open_doors = add_rings(plates, plates.z.size, two[0], two[1], two[2], two[3], True, doors, 0)
                if two[2] != 0.0:
                    first_level = 2.0 * last_level - first_level
            ways, made = -1, 0
            for s in range(heights.size):
                view = look(second, origin, step, heights[s], bench, nx)
                some = False
                for opens in (True, False):  # what both mirrors light, then what that costs there
                    if not opens:
                        measure(view, bench, nx)
                    shade_sheets(
                        window, window_kind, window_start[k], window_start[k + 1],
                        panel_last, lanes, nx, view, bench, opens,
                    )  # fmt: skip
                    shade_rings(plates, lying, last_level, plate_last, lanes, nx, view, bench, opens)
                    if opens and not take_hull(bench, nx):
                        break
                    shade_sheets(gate, gate_kind, 0, gates, panel_first, lanes, nx, view, bench, opens)
                    shade_rings(doors, open_doors, first_level, plate_first, lanes, nx, view, bench, opens)
                    if opens and not take_hull(bench, nx):
                        break
                    some = not opens
                if not some:
                    continue
                if ways < 0:
                    ways = cut_sheets(
                        sheets, sheet_kind,
                        sheet_start[one_side], sheet_start[one_side + 2],
                        two[0], two[1], two[2], two[3], True, way, way_kind,
                    )  # fmt: skip
                    made = add_rings(plates, plates.z.size, two[0], two[1], two[2], two[3], False, rings, 0)
                    made = add_rings(mid, unfolded, two[0], two[1], two[2], two[3], True, rings, made)
                shade_rings(rings, made, EVERY, plate_loss, lanes, nx, view, bench, False)
                there, storey = s * size, 4 * s * size * few
                count = list_lit(
                    second, again, pattern, origin, step, spreads[0], bands, lanes, nx, 2, view.rise,
                    wanted_at + storey, few, bench,
                )  # fmt: skip
                count = leave_faint(bench, count, nx, there, left_out, faint_db)
                if count > 0:
                    shade_sheets(
                        sheets, sheet_kind, sheet_start[side], sheet_start[side + 1],
                        panel_loss, lanes, nx, view, bench, False,
                    )  # fmt: skip
                    shade_sheets(way, way_kind, 0, ways, panel_loss, lanes, nx, view, bench, False)
                    gather(
                        bench,
                        count,
                        lanes,
                        few,
                        bands,
                        free,
                        spreads[1],
                        power_at + storey,
                        scatter_at + storey,
                    )
                wipe(bench, nx, lanes)
