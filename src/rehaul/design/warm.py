"""Compile ahead of the first use what searches for the cheapest choice."""

from __future__ import annotations

import numpy as np

from rehaul.design.coverage import Problem, Requirement
from rehaul.design.exact import solve_exact

SIDE = 3  # sites on a square; every straight line of it (indices modulo 3) asks for one of its sites


def warm_up() -> None:
    """Search a small problem whose root does not settle it, so that every compiled loop is called.

    Least covers of the lines of a finite plane are far from what the small program says.
    """
    x, y = np.divmod(np.arange(SIDE * SIDE), SIDE)
    slopes = (x, y, (x + y) % SIDE, (x + 2 * y) % SIDE)
    serves = np.stack([slope == at for slope in slopes for at in range(SIDE)], axis=1)
    lines = tuple(Requirement(f"line {i}", np.array([i]), np.ones(1), 1.0) for i in range(len(slopes) * SIDE))
    solve_exact(Problem(np.arange(SIDE * SIDE), 0 * x, np.ones(SIDE * SIDE), serves, lines))
