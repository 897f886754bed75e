"""The small dual simplex against a general linear solver, as rows come and bounds move."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from rehaul.exact.simplex import (
    INFEASIBLE,
    OPTIMAL,
    add_row,
    drop_slack_rows,
    duals,
    new_tableau,
    resolve,
)


@pytest.mark.parametrize("seed", range(60))
def test_same_optimum_after_every_row_and_bound(seed: int) -> None:
    random = np.random.default_rng(seed)
    columns = int(random.integers(3, 25))
    cost = random.uniform(1, 100, columns)
    tableau = new_tableau(cost, 40)
    rows: list[np.ndarray] = []
    right: list[float] = []
    for _ in range(int(random.integers(2, 14))):
        row = np.where(random.random(columns) < 0.6, random.uniform(0, 1, columns), 0.0)
        if random.random() < 0.25:
            row = -(random.random(columns) < 0.3).astype(float)
        bound = float(row.clip(max=0).sum() + random.uniform(0.1, 0.6) * np.abs(row).sum())
        rows.append(row)
        right.append(bound)
        add_row(tableau, row, bound)
        fixed = int(random.integers(0, columns))
        if random.random() < 0.4:
            tableau.low[fixed] = tableau.high[fixed] = float(random.integers(0, 2))
        elif random.random() < 0.3:
            tableau.low[fixed], tableau.high[fixed] = 0.0, 1.0
        if random.random() < 0.2 and resolve(tableau, 1000) == OPTIMAL:
            drop_slack_rows(tableau, 0)  # idle rows may come back into force below
            held = [tuple(row) for row in tableau.rows[: tableau.size[0]]]
            keep = [i for i, row in enumerate(rows) if tuple(row) in held]
            rows, right = [rows[i] for i in keep], [right[i] for i in keep]
        bounds = np.column_stack([tableau.low[:columns], tableau.high[:columns]])
        matrix = -np.array(rows).reshape(-1, columns)
        there = linprog(tableau.cost, matrix, -np.array(right), bounds=bounds, method="highs")
        status = resolve(tableau, 1000)
        assert (status == INFEASIBLE) == (there.status == 2)
        if status == OPTIMAL:
            assert tableau.cost @ tableau.value[:columns] == pytest.approx(there.fun, rel=1e-7, abs=1e-7)


def test_prices_of_rows_prove_the_optimum() -> None:
    """Weak duality with the prices that `duals` gives closes the gap."""
    random = np.random.default_rng(1)
    cost = random.uniform(1, 10, 12)
    tableau = new_tableau(cost, 10)
    rows = random.uniform(0, 1, (5, 12))
    for row in rows:
        add_row(tableau, row, 1.5)
    assert resolve(tableau, 500) == OPTIMAL
    price = np.zeros(10)
    duals(tableau, price)
    left = tableau.cost - price[:5] @ rows
    proven = price[:5].sum() * 1.5 + np.minimum(left, 0.0).sum()
    assert proven == pytest.approx(tableau.cost @ tableau.value[:12], rel=1e-9)
