"""Certified placement: our search against HiGHS on the merged formulation, in one run.

    python benchmarks/placement.py            # three houses, 60 sites x 3 kinds x 10,000 places
    python benchmarks/placement.py --quick    # one smaller house
    python benchmarks/placement.py --blocky   # levels known by blocks of half a metre: few kinds of place

Houses are invented: three storeys of 12 x 9 m, forty wall pieces each with losses over the cosine of
incidence, slabs, sixty sites with invented costs. Times are CPU seconds of this process, one thread.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

import numpy as np

from rehaul.exact import CoverProblem, Requirement, solve_exact

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from general_solver import solve_general

WIDTH_M, DEPTH_M, STOREY_M = 12.0, 9.0, 2.7
NEED_DBM = -64.0
BLOCK_M = 0.5


def walls_of(random: np.random.Generator) -> np.ndarray:
    """Forty pieces (x0, y0, x1, y1, loss) on one storey: partitions on a rough grid with gaps for doors."""
    pieces: list[tuple[float, ...]] = []
    for x in (3.1, 6.2, 8.9):
        for y in np.arange(0.0, DEPTH_M, 1.5):
            if random.random() > 0.2:
                at = x + random.normal(0, 0.4)
                pieces.append((at, y, at, y + 1.4, random.choice([3.5, 6.0, 11.0])))
    for y in (2.8, 5.9):
        for x in np.arange(0.0, WIDTH_M, 1.2):
            if random.random() > 0.2:
                at = y + random.normal(0, 0.4)
                pieces.append((x, at, x + 1.1, at, random.choice([3.5, 6.0, 11.0])))
    while len(pieces) < 40:  # slanted ends, chimney breasts
        x, y = random.uniform(1, WIDTH_M - 1), random.uniform(1, DEPTH_M - 1)
        angle, length = random.uniform(0, np.pi), random.uniform(0.5, 1.5)
        pieces.append((x, y, x + length * np.cos(angle), y + length * np.sin(angle), 9.0))
    return np.array(pieces)


def losses_db(sites: np.ndarray, places: np.ndarray, walls: list[np.ndarray]) -> np.ndarray:
    """Loss from every site to every place: distance, walls and slabs crossed over the cosine of incidence."""
    delta = places[None] - sites[:, None]
    distance = np.maximum(np.linalg.norm(delta, axis=2), 0.5)
    flat = np.maximum(np.hypot(delta[..., 0], delta[..., 1]), 1e-6)
    loss = 47.0 + 20.0 * np.log10(distance)
    storey_of = (places[:, 2] // STOREY_M).astype(int), (sites[:, 2] // STOREY_M).astype(int)
    crossed = np.abs(storey_of[0][None] - storey_of[1][:, None])
    loss += 12.0 * crossed * np.minimum(distance / np.maximum(np.abs(delta[..., 2]), 0.3), 3.0)
    for storey, pieces in enumerate(walls):
        on = (storey_of[0] == storey)[None] & (np.abs(storey_of[1] - storey)[:, None] <= 1)
        for x0, y0, x1, y1, piece_db in pieces:
            wx, wy = x1 - x0, y1 - y0
            side_s = wx * (sites[:, 1] - y0) - wy * (sites[:, 0] - x0)
            side_p = wx * (places[:, 1] - y0) - wy * (places[:, 0] - x0)
            share = side_s[:, None] / np.where(
                side_s[:, None] == side_p[None], 1.0, side_s[:, None] - side_p[None]
            )
            x = sites[:, None, 0] + share * delta[..., 0]
            y = sites[:, None, 1] + share * delta[..., 1]
            along = ((x - x0) * wx + (y - y0) * wy) / (wx * wx + wy * wy)
            hit = on & (share > 0) & (share < 1) & (along >= 0) & (along <= 1)
            cosine = np.abs(delta[..., 0] * wy - delta[..., 1] * wx) / (flat * np.hypot(wx, wy))
            loss += np.where(hit, piece_db / np.maximum(cosine, 0.35), 0.0)
    return loss


def house(
    seed: int, sites: int = 60, places: int = 10_000, *, blocky: bool = False
) -> tuple[CoverProblem, CoverProblem]:
    """The same house asked two ways: shares of the whole and of what matters most; every room by itself.

    In a blocky house every place of a block of half a metre is served as its middle is.
    """
    random = np.random.default_rng(seed)
    columns = int(np.sqrt(places / 3 * WIDTH_M / DEPTH_M))
    rows = -(-places // (3 * columns))
    x, y = np.meshgrid(
        (np.arange(columns) + 0.5) * WIDTH_M / columns, (np.arange(rows) + 0.5) * DEPTH_M / rows
    )
    plan = np.stack([x.ravel(), y.ravel()], axis=1)
    spots = np.concatenate(
        [np.column_stack([plan, np.full(len(plan), s * STOREY_M + 1.2)]) for s in range(3)]
    )
    where = np.column_stack(
        [
            random.uniform(0.3, WIDTH_M - 0.3, sites),
            random.uniform(0.3, DEPTH_M - 0.3, sites),
            random.integers(0, 3, sites) * STOREY_M + random.choice([0.3, 1.4, 2.4], sites),
        ]
    )
    heard = spots.copy()
    if blocky:
        heard[:, :2] = (np.floor(spots[:, :2] / BLOCK_M) + 0.5) * BLOCK_M
    loss = losses_db(where, heard, [walls_of(random) for _ in range(3)])
    radiated_dbm = np.array([19.0, 22.0, 25.0])
    price = np.array([85.0, 135.0, 210.0])  # invented
    reach = random.choice([45, 60, 75, 160, 220, 280, 340], sites)  # invented: reuse is cheap, a pull is not
    cost = (reach[:, None] + price[None]).ravel()
    serves = (radiated_dbm[None, :, None] - loss[:, None, :] >= NEED_DBM).reshape(sites * 3, -1)
    site, kind = np.repeat(np.arange(sites), 3), np.tile(np.arange(3), sites)
    storey = (spots[:, 2] // STOREY_M).astype(int)
    matters = np.flatnonzero(((storey == 1) & (spots[:, 0] < 6)) | ((storey == 2) & (spots[:, 1] < 4)))
    shares = (
        Requirement("everywhere", np.arange(len(spots)), np.ones(len(spots)), 0.90),
        Requirement("where it matters", matters, np.ones(len(matters)), 0.95),
    )
    rooms = []
    for level in range(3):
        for i, (left, right) in enumerate(((0.0, 4.0), (4.0, 8.0), (8.0, 12.0))):
            for j, (front_m, back) in enumerate(((0.0, 4.5), (4.5, 9.0))):
                inside = (storey == level) & (spots[:, 0] >= left) & (spots[:, 0] < right)
                inside &= (spots[:, 1] >= front_m) & (spots[:, 1] < back)
                members = np.flatnonzero(inside)
                rooms.append(Requirement(f"{level}{i}{j}", members, np.ones(len(members)), 0.90))
    return CoverProblem(site, kind, cost, serves, shares), CoverProblem(
        site, kind, cost, serves, tuple(rooms)
    )


def best_cpu_s(work, repeats: int) -> tuple[float, object]:  # type: ignore[no-untyped-def]
    times = []
    for _ in range(repeats):
        started = time.process_time()
        answer = work()
        times.append(time.process_time() - started)
    return min(times), answer


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--quick", action="store_true", help="one house, 2,000 places")
    arguments.add_argument("--blocky", action="store_true", help="few kinds of place")
    arguments.add_argument("--limit", type=float, default=120.0, help="seconds by the clock for HiGHS")
    arguments.add_argument("--houses", type=int, default=3)
    options = arguments.parse_args()
    solve_exact(house(9, 12, 300)[0])  # compile
    print("house  asked  merged rows | ours s  cost  nodes proven | HiGHS s  cost  gap % proven | ratio")
    for seed in range(1, 2 if options.quick else options.houses + 1):
        for asked, problem in zip(
            ("shares", "rooms"),
            house(seed, places=2_000 if options.quick else 10_000, blocky=options.blocky),
            strict=True,
        ):
            ours_s, ours = best_cpu_s(lambda p=problem: solve_exact(CoverProblem(**_fresh(p))), 3)
            general_s, general = best_cpu_s(
                lambda p=problem: solve_general(CoverProblem(**_fresh(p)), options.limit), 1
            )
            mark = "" if general.proven else "at least "
            rows = len(problem.merged.rows)
            print(
                f"{seed:5d}  {asked:6s} {rows:11d} | {ours_s:6.3f} {ours.cost:6.0f} {ours.nodes:6d} "
                f"{ours.proven!s:6s} | {general_s:7.2f} {general.cost:6.0f} {100 * general.gap:5.1f} "
                f"{general.proven!s:6s} | {mark}{general_s / ours_s:.0f}",
                flush=True,
            )
            if general.proven and general.feasible:
                assert round(100 * general.cost) == round(100 * ours.cost), "the two disagree"


def _fresh(problem: CoverProblem) -> dict[str, object]:
    """The problem's own fields, so that merging is timed too."""
    return {
        name: getattr(problem, name)
        for name in ("site", "kind", "cost", "serves", "requirements", "pinned", "forbidden")
    }


if __name__ == "__main__":
    main()
