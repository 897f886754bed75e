"""Where rates are predicted: a grid over every storey, and the room that each place belongs to."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from rehaul.errors import BadInput
from rehaul.house import House
from rehaul.house.geometry import house_bounds, storey_outlines
from rehaul.predict.size import STEP_M, require_grid_memory
from rehaul.radio import Cells, Grid, grid_over
from rehaul.words import say

HEIGHT_M = 1.2  # of a device in use, above the floor
NO_ROOM, OUTSIDE = -1, -2


@dataclass(frozen=True, eq=False)
class Receivers:
    """A grid over the storeys, lowest first, and what each cell belongs to."""

    grid: Grid
    storeys: tuple[str, ...]  # ids, in the order of the grid's first axis
    room: NDArray[np.int32]  # (storey, y, x) index into house.rooms; NO_ROOM inside, OUTSIDE elsewhere

    @cached_property
    def in_rooms(self) -> Cells:
        """All that stand in a room, room by room in the order of the house, each in that of the grid."""
        room = self.room.ravel()
        order = np.argsort(room, kind="stable")
        return Cells(self.grid, order[np.searchsorted(room[order], 0) :])

    def span(self, index: int) -> slice:
        """Where those of a room, by its place in the house, lie among `in_rooms`; empty where it has none."""
        return slice(*np.searchsorted(self._rooms, [index, index + 1]).tolist())

    def of_room(self, index: int) -> NDArray[np.intp]:
        """Those of a room, by its place in the house: which of all receivers (k,), in their order."""
        return self.in_rooms.at[self.span(index)]

    @cached_property
    def _rooms(self) -> NDArray[np.int32]:
        return self.room.ravel()[self.in_rooms.at]


def receivers_of(house: House, step_m: float = STEP_M, height_m: float = HEIGHT_M) -> Receivers:
    """Receivers over the whole house and its outside areas.

    An outside area is what is drawn of it beyond the walls.
    Raises BadInput for a house without walls or rooms; refuses one too large for the memory given.
    """
    bounds = house_bounds(house)
    if bounds is None or not house.storeys:
        raise BadInput(
            say("refused_predict.nothing_drawn"),
            where="house",
            remedy=say("refused_predict.draw_it"),
        )
    require_grid_memory(house, step_m)
    storeys = sorted(house.storeys, key=lambda storey: storey.elevation_m)
    grid = grid_over(*bounds, step_m, tuple(storey.elevation_m + height_m for storey in storeys))
    x = grid.x0_m + grid.step_m * np.arange(grid.nx)
    y = grid.y0_m + grid.step_m * np.arange(grid.ny)
    xs, ys = np.meshgrid(x, y)
    room = np.full(grid.shape, OUTSIDE, dtype=np.int32)
    for level, storey in enumerate(storeys):
        here = [(index, found) for index, found in enumerate(house.rooms) if found.storey == storey.id]
        drawn = [(found.polygon, index) for index, found in here if found.outside]
        drawn += [(outline, NO_ROOM) for outline in storey_outlines(house, storey)]
        drawn += [(found.polygon, index) for index, found in here if not found.outside]
        for corners, index in drawn:
            if len(corners) >= 3:
                room[level][shapely.contains_xy(shapely.Polygon(corners), xs, ys)] = index
    return Receivers(grid, tuple(storey.id for storey in storeys), room)
