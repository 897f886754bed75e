"""Where the field is asked for: a regular grid of receivers, on one height or several."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rehaul.errors import BadInput
from rehaul.words import say


@dataclass(frozen=True)
class Grid:
    """Receivers at (x0 + i·step, y0 + j·step, z); axes of every result are (storey, y, x)."""

    x0_m: float
    y0_m: float
    step_m: float
    nx: int
    ny: int
    z_m: tuple[float, ...]  # height of the receivers on each storey

    def __post_init__(self) -> None:
        heights = (self.z_m,) if isinstance(self.z_m, int | float) else tuple(float(z) for z in self.z_m)
        object.__setattr__(self, "z_m", heights)
        for name in ("x0_m", "y0_m", "step_m"):  # whole numbers would be compiled for on their own
            object.__setattr__(self, name, float(getattr(self, name)))
        if not (self.step_m > 0 and self.nx > 0 and self.ny > 0 and heights):
            raise BadInput(
                say("refused_radio.grid_no_cells"), where="grid", remedy=say("refused_radio.give_grid")
            )
        if not np.isfinite([self.x0_m, self.y0_m, self.step_m, *heights]).all():
            raise BadInput(
                say("refused_radio.grid_no_number"), where="grid", remedy=say("refused_common.mend_it")
            )

    @property
    def shape(self) -> tuple[int, int, int]:
        """(storeys, ny, nx)."""
        return len(self.z_m), self.ny, self.nx

    def divided(self, parts: int) -> Grid:
        """The grid of parts by parts receivers, evenly spread, in every cell about a receiver of this one.

        Rows and columns are parts times as many; one part gives an equal grid.
        """
        step_m = self.step_m / parts
        back_m = (self.step_m - step_m) / 2
        return Grid(
            self.x0_m - back_m, self.y0_m - back_m, step_m, self.nx * parts, self.ny * parts, self.z_m
        )

    def points_m(self) -> NDArray[np.float64]:
        """All receivers, (storeys · ny · nx, 3) [m], x fastest, then y, then the storey.

        >>> Grid(0.0, 0.0, 0.5, 2, 1, (1.0,)).points_m().tolist()
        [[0.0, 0.0, 1.0], [0.5, 0.0, 1.0]]
        """
        x = self.x0_m + self.step_m * np.arange(self.nx)
        y = self.y0_m + self.step_m * np.arange(self.ny)
        z, y, x = np.meshgrid(self.z_m, y, x, indexing="ij")
        return np.stack([x.ravel(), y.ravel(), z.ravel()], axis=1)


@dataclass(frozen=True, eq=False)
class Cells:
    """Some receivers of a grid: what is found at them is what a map over the whole grid shows there."""

    grid: Grid
    at: NDArray[np.intp]  # (k,) of all receivers, x fastest

    def __len__(self) -> int:
        return len(self.at)

    def __getitem__(self, some: NDArray[np.intp]) -> Cells:
        """Some of them (k,)."""
        return Cells(self.grid, self.at[some])

    def points_m(self) -> NDArray[np.float64]:
        """Where the receivers are, (k, 3) [m], in the order of `at`.

        The same floats as rows of the whole grid's `points_m`.
        """
        storey, y, x = np.unravel_index(self.at, self.grid.shape)
        grid = self.grid
        places = grid.x0_m + grid.step_m * x, grid.y0_m + grid.step_m * y, np.array(grid.z_m)[storey]
        return np.stack(places, axis=1)

    def of(self, values: NDArray[np.float32]) -> NDArray[np.float32]:
        """From values over the grid (..., storey, y, x) those here (..., k).

        The storey, y and x must be the grid's own: their product is not checked against it.
        """
        return values.reshape(*values.shape[:-3], -1).take(self.at, axis=-1)  # a row stays a row in memory


def grid_over(
    x0_m: float, y0_m: float, x1_m: float, y1_m: float, step_m: float, z_m: tuple[float, ...]
) -> Grid:
    """A grid whose cells of `step_m` cover the rectangle; receivers sit at the middles of the cells.

    At least one cell each way; the last may reach beyond x1 or y1. The step must be above 0; else
    BadInput is raised.

    >>> grid_over(0.0, 0.0, 4.0, 3.1, 1.0, (1.0,)).shape
    (1, 4, 4)
    """
    if not step_m > 0:
        raise BadInput(
            say("refused_common.a_step", step_m=step_m),
            where="step_m",
            remedy=say("refused_radio.step_above_0"),
        )
    nx = max(1, int(np.ceil((x1_m - x0_m) / step_m - 1e-9)))
    ny = max(1, int(np.ceil((y1_m - y0_m) / step_m - 1e-9)))
    return Grid(x0_m + step_m / 2, y0_m + step_m / 2, step_m, nx, ny, z_m)
