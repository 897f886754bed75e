"""Speed of the field kernels on a three-storey house, every figure a ratio against a peer in this run.

    python benchmarks/radio_speed.py

The peer is the compiled point kernel, which tests every piece against every receiver. One thread.
Thread time, and the least of many repeats, as other work on the machine only ever adds; a fixed piece of
work, the square roots of 400,000 numbers, says how fast the machine was before and after.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
from radio_scenes import furnished, strewn, three_storey_house
from rehaul.radio import FrequencyBand, Grid, Scene, Transmitter, field, grid_over
from rehaul.radio.band import as_bands
from rehaul.radio.bodies import round_points
from rehaul.radio.decibels import decibels, powers
from rehaul.radio.geometry import any_order
from rehaul.radio.lanes import LANES, add_run
from rehaul.radio.losstable import COSINE_STEPS
from rehaul.radio.shadow import ADD, shade_grid
from rehaul.radio.solve import problem
from rehaul.radio.straight import straight_losses

BANDS = (FrequencyBand(2.442e9, 83e6), FrequencyBand(5.5e9, 700e6), FrequencyBand(6.525e9, 1.2e9))
HEIGHTS_M = (1.0, 3.7, 6.4)


def least_ms(job: Callable[[], object], seconds: float = 1.5) -> float:
    """Least time of one run [ms], of as many as fit."""
    job()
    best, stop = np.inf, time.perf_counter() + seconds
    while time.perf_counter() < stop:
        start = time.thread_time()
        job()
        best = min(best, time.thread_time() - start)
    return best * 1e3


def fixed_work() -> None:
    """Print how long a piece of work takes that has nothing to do with any of this."""
    numbers = np.arange(400_000, dtype=np.float32)
    print(f"fixed work             {least_ms(lambda: np.sqrt(numbers).sum(), 0.5):8.3f} ms")


def main() -> None:
    fixed_work()
    transmitter = Transmitter((4.13, 2.71, 2.317), 20.0, "ceiling")
    house, all_of_them = three_storey_house(), furnished(three_storey_house())
    grid, direct = of_house("without bodies", house, transmitter)
    of_house(
        "with a refrigerator, a boiler and a bath",
        replace(house, bodies=all_of_them.bodies[:3]),
        transmitter,
    )
    of_house("with a chimney breast and a duct besides", all_of_them, transmitter)
    limits(problem(house, transmitter, as_bands(BANDS)), grid, direct)
    limits_of_reflections()
    growth()
    fixed_work()


def of_house(name: str, scene: Scene, transmitter: Transmitter) -> tuple[Grid, float]:
    """Print what one house costs; returns its grid and the time of the direct field [ms]."""
    grid = grid_over(0, 0, 12, 9, 0.25, HEIGHTS_M)
    of = problem(scene, transmitter, as_bands(BANDS))
    points = grid.points_m()
    losses = np.empty((len(points), 5), dtype=np.float32)

    def every_piece() -> None:
        straight_losses(*of.pieces, of.table.loss_db, of.table.sd_db, of.source, points, losses)
        round_points(of.bodies, of.body_table, of.source, points, False, losses)

    brute = least_ms(every_piece)
    pieces = len(scene.panels_m) + len(scene.plates) + len(scene.bodies)
    direct = least_ms(lambda: field(scene, transmitter, grid, BANDS))
    single = least_ms(lambda: field(scene, transmitter, grid, BANDS[1:2]))
    mirrored = least_ms(lambda: field(scene, transmitter, grid, BANDS, "reflections"))
    twice = least_ms(lambda: field(scene, transmitter, grid, BANDS, "reflections", bounces=2))
    full = least_ms(lambda: field(scene, transmitter, grid, BANDS, "full"))
    upright = least_ms(lambda: field(scene, transmitter, grid, BANDS, polarisation="upright"))
    rng = np.random.default_rng(3)
    sites = [
        Transmitter((x, y, z), 20.0, "ceiling") for x, y, z in rng.uniform((1, 1, 0.5), (11, 8, 7), (60, 3))
    ]
    many = least_ms(lambda: [field(scene, site, grid, BANDS) for site in sites])

    print(f"three storeys {name}: {pieces} pieces, {len(points)} receivers, three bands, one thread")
    print(f"compiled brute force   {brute:8.3f} ms  {brute * 1e6 / pieces / len(points):.2f} ns a test")
    print(f"direct field           {direct:8.3f} ms  brute force takes {brute / direct:.0f} times as long")
    print(f"  one band alone       {single:8.3f} ms  three bands take {direct / single:.2f} times as long")
    print(f"  upright polarisation {upright:8.3f} ms  {upright / direct:.1f} times the direct field")
    print(f"with reflections       {mirrored:8.3f} ms  {mirrored / direct:.0f} times the direct field")
    print(f"with second bounces    {twice:8.3f} ms  {twice / direct:.0f} times the direct field")
    print(f"with bends as well     {full:8.3f} ms  {full / direct:.0f} times the direct field")
    print(f"60 candidate sites     {many:8.3f} ms  {many / direct:.0f} times one map")
    return grid, direct


def limits(of: object, grid: object, direct_ms: float) -> None:
    """What a receiver costs at least on this machine, from the passes that cannot be left out."""
    storeys, ny, nx = grid.shape  # type: ignore[attr-defined]
    count = storeys * ny * nx
    out = np.zeros((storeys, ny, 5, nx), dtype=np.float32)
    order = any_order(of.pieces)  # type: ignore[attr-defined]
    ones = of.table._replace(sd_db=np.ones_like(of.table.sd_db))  # type: ignore[attr-defined]
    origin, heights = (grid.x0_m, grid.y0_m), np.array(grid.z_m)  # type: ignore[attr-defined]
    shade_grid(
        *of.pieces,
        order,
        ones.loss_db,
        ones.sd_db,
        of.source[None],
        origin,
        grid.step_m,
        heights,
        out[None],
        ADD,
    )
    crossings = float(out[:, :, 3].mean())
    gains = np.empty((3, storeys, ny, nx), dtype=np.float32)
    touch = least_ms(lambda: (out.fill(0), np.copyto(gains, 1.0)), 0.3)
    log = least_ms(lambda: np.log2(out[:, :, 0], out=out[:, :, 1], where=out[:, :, 0] > 0), 0.3)
    moved = (5 + 5 + 3 + 1) * 4 + crossings * (2 * 5 + 1) * 4
    work = 60 + crossings * 40
    print(f"a receiver meets {crossings:.2f} pieces: {moved:.0f} bytes moved, about {work:.0f} operations")
    print(f"clearing and writing the arrays alone: {touch * 1e3:.0f} us")
    print(f"one logarithm a receiver in NumPy: {log * 1e3:.0f} us")
    print(f"direct field: {direct_ms * 1e6 / count:.0f} ns a receiver")


def limits_of_reflections() -> None:
    """What one crossing and one path of a reflection cost at least, with all they need at hand."""
    count, limit = 1728, np.float32(COSINE_STEPS)
    inverse = np.linspace(0.02, 0.4, count + LANES, dtype=np.float32)
    lost, table = (
        np.zeros(count * LANES, dtype=np.float32),
        np.ones((COSINE_STEPS + 2, LANES), dtype=np.float32),
    )
    depth, growth, where = np.float32(300.0), np.float32(0.0), (inverse, lost, table)
    into, out, row = (array.ctypes.data for array in where)
    crossing = least_ms(lambda: add_run(depth, growth, into, out, count, row, LANES, limit), 0.5)
    line, square = np.full(4 * count, 50.0, dtype=np.float32), np.full(count, 50.0, dtype=np.float32)

    def path() -> None:
        line.fill(50.0)
        powers(line)
        np.sqrt(square), np.sqrt(square)
        decibels(square)
        square.fill(50.0)

    paths = least_ms(path, 0.5)
    print(f"one crossing of a reflection: {crossing * 1e6 / count:.2f} ns, 128 bytes read and 32 written")
    print(f"two square roots, a logarithm and four powers of ten: {paths * 1e6 / count:.2f} ns a path")


def growth() -> None:
    """Cost against walls and against receivers."""
    print("walls  brute ms  field ms  ratio")
    for walls in (50, 100, 200, 500, 1000, 2000):
        scene, transmitter = strewn(np.random.default_rng(1), walls), Transmitter((4.1, 5.2, 3.3))
        grid = grid_over(0, 0, 12, 9, 0.25, HEIGHTS_M)
        points = grid.points_m()
        slow = least_ms(lambda s=scene, t=transmitter, p=points: field(s, t, p, BANDS), 0.2)
        fast = least_ms(lambda s=scene, t=transmitter, g=grid: field(s, t, g, BANDS), 0.5)
        print(f"{walls:5d} {slow:9.2f} {fast:9.3f} {slow / fast:6.0f}")
    print("receivers  field ms  us per thousand")
    scene, transmitter = three_storey_house(), Transmitter((4.13, 2.71, 2.317))
    for step_m in (0.5, 0.25, 0.125, 0.0625):
        grid = grid_over(0, 0, 12, 9, step_m, HEIGHTS_M)
        count = int(np.prod(grid.shape))
        took = least_ms(lambda g=grid: field(scene, transmitter, g, BANDS), 0.5)
        print(f"{count:9d} {took:9.3f} {took * 1e6 / count:8.1f}")


if __name__ == "__main__":
    main()
