"""The three-storey house for an independent propagation library that lives in its own interpreter."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from radio_scenes import three_storey_house
from rehaul.facts.materials import material
from rehaul.radio import Grid, LayeredKind, Scene, SlabLayer, Stack, Transmitter, field, grid_over

WORKER = Path(__file__).parents[1] / "benchmarks" / "radio_peer_worker.py"
PEER_PYTHON = os.environ.get("REHAUL_PEER_PYTHON", "")  # an interpreter that can import sionna.rt
FREQUENCY_HZ = 5.5e9
SOURCE_M = (4.13, 2.71, 5.017)
WIDE_M, DEEP_M, STEP_M, HEIGHTS_M = 12.0, 9.0, 0.25, (1.0, 3.7, 6.4)
VOID_M = (6.2, 3.2, 8.8, 4.2)
SLABS = (  # one layer each, as the peer knows single slabs only
    ("brick", 0.215),
    ("plasterboard", 0.025),
    ("brick", 0.1025),
    ("chipboard", 0.018),
    ("glass", 0.006),
    ("wood", 0.04),
    ("concrete", 0.15),
)


def scene() -> Scene:
    """The house with every kind a single slab."""
    house = three_storey_house()
    kinds = tuple(
        LayeredKind(f"slab-{i}", Stack((SlabLayer(name, d),)), 3.0) for i, (name, d) in enumerate(SLABS)
    )
    return Scene(house.panels_m, house.panel_kind, house.plates, kinds)


def job(runs: list[dict[str, object]]) -> dict[str, object]:
    """The same house as flat rectangles, for the worker."""
    house = scene()
    pieces = []
    for panel, kind in zip(house.panels_m, house.panel_kind, strict=True):
        x0, y0, x1, y1, z0, z1 = map(float, panel)
        pieces.append((f"slab-{kind}", (x0, y0, z0), (x1 - x0, y1 - y0, 0.0), (0.0, 0.0, z1 - z0)))
    for plate in house.plates:
        a, b, c, d = VOID_M
        whole = [(0.0, 0.0, WIDE_M, DEEP_M)]
        around = [(0, 0, WIDE_M, b), (0, d, WIDE_M, DEEP_M), (0, b, a, d), (c, b, WIDE_M, d)]
        for x0, y0, x1, y1 in around if plate.holes_m else whole:
            pieces.append((f"slab-{plate.kind}", (x0, y0, plate.z_m), (x1 - x0, 0, 0), (0, y1 - y0, 0)))
    materials = {}
    for i, (name, thickness_m) in enumerate(SLABS):
        row = material(name)
        conductivity = row.conductivity_at_1_ghz * (FREQUENCY_HZ / 1e9) ** row.conductivity_exponent
        materials[f"slab-{i}"] = (row.permittivity, conductivity, thickness_m)
    area = {"x0_m": 0, "y0_m": 0, "wide_m": WIDE_M, "deep_m": DEEP_M, "step_m": STEP_M, "z_m": HEIGHTS_M}
    return {
        "materials": materials,
        "rectangles": pieces,
        "frequency_hz": FREQUENCY_HZ,
        "source_m": SOURCE_M,
        "grid": area,
        "runs": runs,
    }


def peer_maps(runs: list[dict[str, object]], folder: Path) -> dict[str, NDArray[np.float64]]:
    """Maps (storey, ny, nx) [dB] and seconds of every run, by name; takes minutes."""
    question, answer = folder / "job.json", folder / "maps.npz"
    question.write_text(json.dumps(job(runs)))
    subprocess.run([PEER_PYTHON, str(WORKER), str(question), str(answer)], check=True)
    with np.load(answer) as found, np.errstate(divide="ignore"):
        return {name: v if name.endswith("_s") else 10 * np.log10(v) for name, v in found.items()}


def grid() -> Grid:
    """The peer's cells."""
    return grid_over(0, 0, WIDE_M, DEEP_M, STEP_M, HEIGHTS_M)


def own_map_db(parts: int, level: str = "direct", bounces: int = 1) -> NDArray[np.float64]:
    """Our cell means of the same house (storey, ny, nx) [dB]."""
    found = field(
        scene(),
        Transmitter(SOURCE_M, 0.0),
        grid(),
        (FREQUENCY_HZ,),
        level,  # type: ignore[arg-type]
        polarisation="upright",
        thickness_tolerance=0.0,
        bounces=bounces,
        parts=parts,
    )
    return found.gain_db[0].astype(np.float64)


def rmse_by_storey_db(a: NDArray[np.float64], b: NDArray[np.float64]) -> list[float]:
    """Root mean square difference of every storey, over cells both reach."""
    return [float(np.sqrt(np.mean((x - y)[np.isfinite(x - y)] ** 2))) for x, y in zip(a, b, strict=True)]
