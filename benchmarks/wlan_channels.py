"""Channel plans: our search against a general constraint solver on the same costs, one thread each.

python benchmarks/wlan_channels.py
"""

from __future__ import annotations

import time

import numpy as np
from ortools.sat.python import cp_model

from rehaul.wlan import allowed_channels, assign_channels, coupling

LIMIT_S = 20.0
SCALE = 1_000_000
CASES = [("US", "2.4", ()), ("US", "5", (20, 40, 80)), ("DE", "6", (20, 40, 80, 160))]


def house(count: int, seed: int) -> np.ndarray:
    """Levels of `count` access points in a square of 25 m."""
    at = np.random.default_rng(seed).uniform(0, 25, (count, 2))
    apart = np.hypot(*(at[:, None] - at[None]).transpose(2, 0, 1))
    return -35 - 38 * np.log10(np.maximum(apart, 1))


def general(heard: np.ndarray, channels: tuple) -> tuple[bool, float, float]:
    """The same plan by a general solver: proved or not, its cost in doublings, and the time."""
    weight, widest = coupling(heard), max(channel.width_mhz for channel in channels)
    model = cp_model.CpModel()
    count = len(weight)
    pick = [[model.new_bool_var("") for _ in channels] for _ in range(count)]
    cost = []
    for row in pick:
        model.add_exactly_one(row)
        for channel, chosen in zip(channels, row, strict=True):
            cost.append(round(np.log2(widest / channel.width_mhz) * SCALE + 100 * channel.dfs) * chosen)
    for i in range(count):
        for j in range(i + 1, count):
            if weight[i, j] == 0:
                continue
            meets = model.new_bool_var("")
            for one, chosen in zip(channels, pick[i], strict=True):
                near = [p for c, p in zip(channels, pick[j], strict=True) if one.overlap_mhz(c) > 0]
                model.add(sum(near) + chosen - 1 <= meets)
            cost.append(round(weight[i, j] * SCALE * (SCALE if weight[i, j] >= 1 else 1)) * meets)
    model.minimize(sum(cost))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers, solver.parameters.max_time_in_seconds = 1, LIMIT_S
    start = time.process_time()
    proved = solver.solve(model) == cp_model.OPTIMAL
    return proved, solver.objective_value / SCALE, time.process_time() - start


def main() -> None:
    print("country band  aps   ours ms proved nodes   general ms proved   ratio")
    for country, band, widths in CASES:
        channels = allowed_channels(country, band, widths, dfs=False)  # type: ignore[arg-type]
        for count in (4, 6, 8):
            heard = house(count, seed=1)
            start = time.process_time()
            plan = assign_channels(heard, channels)
            ours = time.process_time() - start
            proved, _, theirs = general(heard, channels)
            print(
                f"{country:7} {band:4} {count:4} {ours * 1e3:9.1f} {plan.proved!s:6} {plan.nodes:5}"
                f" {theirs * 1e3:12.1f} {proved!s:6} {theirs / ours:7.0f}"
            )


if __name__ == "__main__":
    main()
