"""Seconds to read each building model, against the library triangulating all of it in the same run.

python benchmarks/read_houses.py FOLDER_WITH_IFC_FILES
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

import ifcopenshell
import ifcopenshell.geom

from rehaul.errors import BadInput
from rehaul.house.readers import read_house


def triangulate_everything(path: Path) -> None:
    """What a viewer does before it can show the model."""
    model = ifcopenshell.open(str(path))
    iterator = ifcopenshell.geom.iterator(ifcopenshell.geom.settings(), model, os.cpu_count() or 1)
    more = iterator.initialize()
    while more:
        more = iterator.next()


def seconds(action, path: Path) -> float:  # type: ignore[no-untyped-def]
    start = time.perf_counter()
    action(path)
    return time.perf_counter() - start


def main(folder: Path) -> None:
    print(f"{'model':34} {'read s':>8} {'peer s':>8} {'ratio':>6}")
    for path in sorted(folder.glob("*.ifc")):
        try:
            own_s = seconds(read_house, path)
        except BadInput as refusal:
            print(f"{path.name:34} refused: {refusal.problem}")
            continue
        peer_s = seconds(triangulate_everything, path)
        print(f"{path.name:34} {own_s:8.2f} {peer_s:8.2f} {own_s / peer_s:6.2f}")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
