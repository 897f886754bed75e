"""Accuracy and speed against an independent propagation library on the same machine, cells averaged.

    REHAUL_PEER_PYTHON=/path/to/python DRJIT_LIBLLVM_PATH=/path/to/libLLVM.so python benchmarks/radio_peer.py

The interpreter must import sionna.rt. Ten million rays take a minute or more a map. All
times are processor time, as the peer runs on all cores and other work comes and goes.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
import radio_peer as peer
from rehaul.radio import Transmitter, field

RUNS = [
    {"name": "through 1e6", "rays": 1e6, "depth": 12, "reflections": False, "repeats": 3},
    {"name": "through 1e7", "rays": 1e7, "depth": 12, "reflections": False},
    {"name": "mirrors 1e6", "rays": 1e6, "depth": 8, "reflections": True, "repeats": 2},
    {"name": "mirrors 1e7", "rays": 1e7, "depth": 8, "reflections": True},
]
WHAT = (("through", "direct", 1), ("mirrors", "reflections", 1), ("mirrors", "reflections", 2))
BANDS_HZ = (2.442e9, peer.FREQUENCY_HZ, 6.5e9)


def seconds(parts: int, level: str, bounces: int) -> float:
    """Least processor time of three bands at once."""
    scene, grid = peer.scene(), peer.grid()
    best = np.inf
    for _ in range(40 if level == "direct" else 8 if bounces == 1 else 3):
        start = time.thread_time()
        field(
            scene, Transmitter(peer.SOURCE_M), grid, BANDS_HZ, level,
            polarisation="upright", thickness_tolerance=0.0, bounces=bounces, parts=parts,
        )  # fmt: skip
        best = min(best, time.thread_time() - start)
    return float(best)


def main() -> None:
    if not peer.PEER_PYTHON:
        sys.exit("Set REHAUL_PEER_PYTHON to an interpreter that can import sionna.rt.")
    with tempfile.TemporaryDirectory() as folder:
        maps = peer.peer_maps(RUNS, Path(folder))
    print("RMSE by storey, dB; three bands at once against three runs of the peer")
    for kind, level, bounces in WHAT:
        best = maps[f"{kind} 1e7"]
        print(f"peer {kind} 1e6 against 1e7:", rounded(peer.rmse_by_storey_db(maps[f"{kind} 1e6"], best)))
        for parts in (1, 2, 4):
            rmse = rounded(peer.rmse_by_storey_db(peer.own_map_db(parts, level, bounces), best))
            own = seconds(parts, level, bounces)
            few, many = (3 * float(maps[f"{kind} {rays}_s"]) / own for rays in ("1e6", "1e7"))
            print(
                f"{level} ({bounces} bounce), {parts} x {parts} a cell: {rmse}, {own * 1e3:.2f} ms;"
                f" peer takes {few:.0f} (1e6) and {many:.0f} (1e7) times as long"
            )


def rounded(values: list[float]) -> list[float]:
    return [round(value, 2) for value in values]


if __name__ == "__main__":
    main()
