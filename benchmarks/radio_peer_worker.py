"""Runs inside the peer's own interpreter: a radio map by an independent propagation library (sionna-rt).

Reads a scene as JSON from the file named first, writes maps and times to the .npz named second.
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path

import mitsuba as mi
import numpy as np
import sionna.rt as rt


def scene_xml(job: dict) -> str:
    """The scene in the library's own format: one flat rectangle per piece, its material with a thickness."""
    parts = ['<scene version="2.1.0">']
    for name, (permittivity, conductivity, thickness_m) in job["materials"].items():
        parts.append(
            f'<bsdf type="radio-material" id="piece-of-{name}">'
            f'<float name="relative_permittivity" value="{permittivity}"/>'
            f'<float name="conductivity" value="{conductivity}"/>'
            f'<float name="thickness" value="{thickness_m}"/></bsdf>'
        )
    for number, (name, corner, u, v) in enumerate(job["rectangles"]):
        corner, u, v = np.array(corner), np.array(u) / 2, np.array(v) / 2
        middle, normal = corner + u + v, np.cross(u, v)
        matrix = np.eye(4)
        matrix[:3] = np.column_stack([u, v, normal / np.linalg.norm(normal), middle])
        values = " ".join(f"{value:.9g}" for value in matrix.ravel())
        parts.append(
            f'<shape type="rectangle" id="piece-{number}"><transform name="to_world">'
            f'<matrix value="{values}"/></transform><ref id="piece-of-{name}" name="bsdf"/></shape>'
        )
    return "\n".join([*parts, "</scene>"])


def main() -> None:
    job = json.loads(Path(sys.argv[1]).read_text())
    scene = rt.load_scene_from_string(scene_xml(job))
    scene.frequency = job["frequency_hz"]
    scene.tx_array = rt.PlanarArray(
        num_rows=1, num_cols=1, pattern=job.get("pattern", "iso"), polarization="V"
    )
    scene.add(rt.Transmitter("tx", position=mi.Point3f(job["source_m"]), orientation=[0, 0, 0]))
    solver = rt.RadioMapSolver()
    grid = job["grid"]
    found: dict[str, np.ndarray] = {}
    for run in job["runs"]:
        maps, best, least = [], float("inf"), float("inf")
        for repeat in range(run.get("repeats", 1)):
            start, spent = time.perf_counter(), time.process_time()
            maps = []
            for z in grid["z_m"]:
                result = solver(
                    scene,
                    center=mi.Point3f(
                        grid["x0_m"] + grid["wide_m"] / 2, grid["y0_m"] + grid["deep_m"] / 2, z
                    ),
                    orientation=mi.Point3f(0, 0, 0),
                    size=mi.Point2f(grid["wide_m"], grid["deep_m"]),
                    cell_size=mi.Point2f(grid["step_m"], grid["step_m"]),
                    samples_per_tx=int(run["rays"]),
                    max_depth=run["depth"],
                    specular_reflection=run["reflections"],
                    refraction=True,
                    seed=run.get("seed", 42) + repeat,
                )
                maps.append(np.array(result.path_gain)[0])
            best = min(best, time.perf_counter() - start)
            least = min(least, time.process_time() - spent)
        found[run["name"]] = np.array(maps)
        found[run["name"] + "_s"] = np.array(least)
        print(run["name"], f"{best:.2f} s by the clock, {least:.2f} s of processor", flush=True)
        np.savez(sys.argv[2], **found)  # after every run, so that a long one can be broken off


if __name__ == "__main__":
    main()
