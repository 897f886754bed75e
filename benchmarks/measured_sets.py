"""Measured sets of signal strength as scenes with readings, for judging predictions against.

The data lie outside the repository (`shared/data/radio`). What they do not say is assumed here, in
the open: heights of transmitters and receivers where none are given, and what walls are made of.
Walls are given by their faces, so each face stands for half a wall. Where only a flag says whether a
transmitter is in sight, a place out of sight is taken to be behind one wall of unknown make. Where
nothing is known, power falls by the 28 dB per decade of ITU-R P.1238 for homes.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from rehaul.facts.guesses import prediction_bands
from rehaul.predict.observations import power_sd_db
from rehaul.predict.terms import Ways, ways_to
from rehaul.radio import Band, Kind, Layer, Scene, Stack, Transmitter, field
from rehaul.radio.losstable import loss_table

RADIO = Path(__file__).parents[2] / "shared" / "data" / "radio"
CEILING_M, POCKET_M = 2.5, 1.2  # assumed of transmitters and receivers where no height is given
FEWEST = 20  # a transmitter heard at fewer places is left out
OFF_THE_REST = {"sod-hcxy": 24.0}  # a transmitter this far from the others is screened out [dB]
HOMES_PER_DECADE_DB = 28.0  # ITU-R P.1238, residential
HALF_WALL = Stack((Layer("plaster", 0.013), Layer("brick", 0.05125)))  # half of half a brick, plastered
HALF_WALL_SD_DB = 2.5  # half of the spread of a medium wall of unknown make (5 dB)


@dataclass(frozen=True, eq=False)
class Heard:
    """What was read of one transmitter in one band."""

    transmitter: str
    band: str
    position_m: tuple[float, float, float]
    ways: Ways  # to its places
    read_dbm: NDArray[np.float64]  # (n,)
    sd_db: NDArray[np.float64]  # (n,) of each mean, by the number of its samples
    predicted_dbm: NDArray[np.float64]  # (n,) for 0 dBm of an isotropic antenna


@dataclass(frozen=True, eq=False)
class MeasuredSet:
    """One place, its walls where they are known, and all that was read there."""

    name: str
    scene: Scene
    heard: tuple[Heard, ...]
    walls_known: bool


def measured_set(name: str) -> MeasuredSet:
    """One set by the name of its folder; 0 dBm is taken as sent, since the real power is not known."""
    folder = RADIO / name
    scene = _scene(folder)
    heights = name == "ble-flat"
    stations = {
        row["ap"]: row for row in _rows(folder / ("transmitters.csv" if heights else "access_points.csv"))
    }
    readings: dict[tuple[str, str], list[dict[str, str]]] = defaultdict(list)
    for row in _rows(folder / "readings.csv"):
        readings[row["ap"], f"{float(row.get('band_ghz') or 2.4):g}"].append(row)
    heard = []
    for (ap, band), rows in readings.items():
        if len(rows) >= FEWEST:
            at = stations[ap]
            position = (float(at["x_m"]), float(at["y_m"]), float(at.get("z_m") or CEILING_M))
            places = np.array(
                [(float(row["x_m"]), float(row["y_m"]), 1.3 if heights else POCKET_M) for row in rows]
            )
            read = np.array([float(row["rssi_dbm"]) for row in rows])
            found = field(scene, Transmitter(position, 0.0), places, [_spectrum(band)]).power_dbm[0]
            ways = ways_to(scene, position, places)
            if not len(scene.panels_m):
                ways, found = _without_plan(ways, found, rows)
            sd_db = np.array([power_sd_db(int(row["n"])) for row in rows])
            heard.append(Heard(ap, band, position, ways, read, sd_db, found.astype(float)))
    return MeasuredSet(name, scene, tuple(_screened(heard, OFF_THE_REST.get(name))), len(scene.panels_m) > 0)


def _without_plan(
    ways: Ways, free_dbm: NDArray[np.float32], rows: list[dict[str, str]]
) -> tuple[Ways, NDArray[np.float32]]:
    """One wall where a flag says so, else the fall with distance that homes have."""
    if "line_of_sight" not in rows[0]:
        return ways, free_dbm - (HOMES_PER_DECADE_DB - 20) * ways.decades
    faces = np.array([0.0 if row["line_of_sight"] == "True" else 2.0 for row in rows], dtype=np.float32)
    table = loss_table(HALF_WALL, _spectrum("2.4"))
    return replace(ways, counts=faces[None]), free_dbm - faces * np.float32(table.loss_db[-1])


def _spectrum(band: str) -> Band:
    row = next(row for name, row in prediction_bands().items() if name == band)
    return Band(row.centre_mhz * 1e6, row.width_mhz * 1e6)


def _scene(folder: Path) -> Scene:
    """Every face of a wall as a panel of half a wall; nothing where no walls are given."""
    faces: list[tuple[float, float, float, float]] = []
    if (folder / "interior_outline.csv").exists():
        ring = [(float(row["x"]), float(row["y"])) for row in _rows(folder / "interior_outline.csv")]
        faces = [(*a, *b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True)]
    if (folder / "wall_face_lines.csv").exists():
        keys = ("x1_m", "y1_m", "x2_m", "y2_m")
        lines = [[float(row[key]) for key in keys] for row in _rows(folder / "wall_face_lines.csv")]
        faces = [(line[0], line[1], line[2], line[3]) for line in lines]
    panels = [(*face, -0.1, 3.0) for face in faces if np.hypot(face[2] - face[0], face[3] - face[1]) > 0.01]
    kind = Kind("face of a wall", HALF_WALL, HALF_WALL_SD_DB)
    return Scene(np.array(panels).reshape(-1, 6), np.zeros(len(panels), dtype=np.int32), (), (kind,))


def _screened(heard: list[Heard], most_db: float | None) -> Iterator[Heard]:
    middle = np.median([np.median(one.read_dbm - one.predicted_dbm) for one in heard])
    for one in heard:
        if most_db is None or abs(np.median(one.read_dbm - one.predicted_dbm) - middle) < most_db - 4:
            yield one


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
