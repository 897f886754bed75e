"""The problem of a choice as plain data, for whoever reads a plan."""

from __future__ import annotations

from typing import Any

import numpy as np

from rehaul.exact import FeedProblem
from rehaul.exact.coverage import merged_rows


def problem_data(problem: FeedProblem) -> dict[str, Any]:
    """The problem as plain data, equal rows of places merged: a reader may try all on a small house.

    Returns lists, texts and numbers alone, as the auditor's `problem_of` reads them. Weights are whole, so
    that requirements of fractional weight are cut down: those of a house count places.
    """
    weights = np.zeros((len(problem.requirements), problem.serves.shape[1]), dtype=np.int64)
    for index, requirement in enumerate(problem.requirements):
        np.add.at(weights[index], requirement.places, requirement.weights.astype(np.int64))
    rows, merged = merged_rows(problem.serves, weights)
    return {
        "ways": [
            {
                "id": way.id,
                "group": way.group,
                "cost": way.cost,
                "serves": np.flatnonzero(rows[:, number]).tolist(),
                "needs": list(way.needs),
                "beside": list(way.beside),
                "loads": [list(load) for load in way.loads],
                "ports": way.ports,
                "watts": way.watts,
                "counts": [list(count) for count in way.counts],
                "rate_mbps": way.rate_mbps,
            }
            for number, way in enumerate(problem.ways)
        ],
        "rows": len(rows),
        "requirements": [
            {
                "name": requirement.name,
                "room": requirement.name,
                "weights": [[int(row), int(merged[i, row])] for row in np.flatnonzero(merged[i])],
                "need": int(np.ceil(weights[i].sum() * requirement.share - 1e-9 * max(weights[i].sum(), 1))),
            }
            for i, requirement in enumerate(problem.requirements)
        ],
        "counted": [
            {"name": row.name, "room": row.name.removeprefix("outlets "), "least": row.least}
            for row in problem.counted
        ],
        "resources": [
            {
                "id": row.id,
                "cost": row.cost,
                "needs": list(row.needs),
                "excludes": row.excludes,
                "ports": row.ports,
                "watts": row.watts,
                "loads": [list(load) for load in row.loads],
            }
            for row in problem.resources
        ],
        "switch_classes": [
            {"id": row.id, "ports": row.ports, "watts": row.watts, "cost": row.cost}
            for row in problem.switch_classes
        ],
        "spare_ports": problem.spare_ports,
        "must": list(problem.must),
        "forbidden": list(problem.forbidden),
        "fixed": list(problem.fixed),
    }
