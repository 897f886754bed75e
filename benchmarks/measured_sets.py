"""Measured sets of signal strength as houses with readings, for judging predictions against.

The data lie outside the repository (`shared/data/radio`). Each set that has a plan is a house as a person
would enter it: walls with their thickness where it is drawn, doors where they are drawn, nothing said of
what walls and floors are made of; what they are taken for is the program's own guess, for a country where
walls are of masonry, as all of these are. What the sets do not say is assumed here, in the open: heights of
transmitters and receivers where none are given, and how storeys lie. Where only a flag says whether a
transmitter is in sight, a place out of sight is taken to be behind one wall of unknown make. Where
nothing is known, power falls by the 28 dB per decade of ITU-R P.1238 for homes.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from paired_walls import Wall as Stretch
from paired_walls import paired

from rehaul.house import House, Opening, Slab, Storey, Wall
from rehaul.predict.doubts import Ways, straight_db, ways_to
from rehaul.predict.kinds import guessed_kind
from rehaul.predict.observations import power_sd_db
from rehaul.predict.scene import HouseScene, scene_of
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Level, Scene, Transmitter, eased_counts, field, loss_table

RADIO = Path(__file__).parents[2] / "shared" / "data" / "radio"
BUILT_AS, BUILT = "DE", 1990  # masonry; the offices are new, and no year of the flat's matters to its walls
CEILING_M, POCKET_M = 2.5, 1.2  # assumed of transmitters and receivers where no height is given
CETC_STOREY_M, CETC_SLAB_M, CETC_POCKET_M = 3.6, 0.2, 1.16  # as the set's description assumes
FEWEST = 20  # a transmitter heard at fewer places is left out
OFF_THE_REST = {"sod-hcxy": 24.0}  # a transmitter this far from the others is screened out [dB]
HOMES_PER_DECADE_DB = 28.0  # ITU-R P.1238, residential
LONE_OUTLINE_M, LONE_LINE_M = 1.0, 0.1  # a lone face: the outside of a flat; a partition drawn as one line


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
    predicted_sd_db: NDArray[np.float64]  # (n,) of the map, box and device left out


@dataclass(frozen=True, eq=False)
class MeasuredSet:
    """One place, its walls where they are known, and all that was read there."""

    name: str
    scene: HouseScene
    heard: tuple[Heard, ...]
    walls_known: bool


@cache
def measured_set(name: str, level: Level = "direct") -> MeasuredSet:
    """One set by the name of its folder; 0 dBm is taken as sent, since the real power is not known."""
    house = house_of(name)
    scene = scene_of(house, BUILT_AS) if house else _one_wall()
    heard = [_heard(name, level, scene, house is None, *one) for one in _readings(name)]
    return MeasuredSet(name, scene, tuple(_screened(heard, OFF_THE_REST.get(name))), house is not None)


Rows = list[dict[str, str]]


def _readings(name: str) -> Iterator[tuple[str, str, dict[str, str], Rows]]:
    """(transmitter, band, its row, its readings)."""
    stations_file = "transmitters.csv" if name == "ble-flat" else "access_points.csv"
    stations = {row["ap"]: row for row in _rows(RADIO / name / stations_file)}
    readings: dict[tuple[str, str], Rows] = defaultdict(list)
    for row in _rows(RADIO / name / "readings.csv"):
        readings[row["ap"], f"{float(row.get('band_ghz') or 2.4):g}"].append(row)
    for (ap, band), rows in readings.items():
        if len(rows) >= FEWEST:
            yield ap, band, stations[ap], rows


def _heard(
    name: str,
    level: Level,
    scene: HouseScene,
    no_plan: bool,
    ap: str,
    band: str,
    at: dict[str, str],
    rows: Rows,
) -> Heard:
    pocket_m = {"ble-flat": 1.3, "sod-cetc": CETC_POCKET_M}.get(name, POCKET_M)
    position = (float(at["x_m"]), float(at["y_m"]), float(at.get("z_m") or CEILING_M) + _lift_m(name, at))
    places = np.array([(float(r["x_m"]), float(r["y_m"]), pocket_m + _lift_m(name, r)) for r in rows])
    read = np.array([float(row["rssi_dbm"]) for row in rows])
    found = field(scene.scene, Transmitter(position, 0.0), places, [spectrum_of(band)], level)
    power, sd = found.power_dbm[0].astype(float), found.sd_db[0].astype(float)
    ways = ways_to(scene.scene, position, places)
    if no_plan:
        ways, power, sd = _without_plan(scene.scene, band, ways, power, sd, rows)
    wander = np.array([power_sd_db(int(row["n"])) for row in rows])
    return Heard(ap, band, position, ways, read, wander, power, sd)


def _lift_m(name: str, row: dict[str, str]) -> float:
    """Height of the storey of a row."""
    return (int(row["storey"]) - 1) * CETC_STOREY_M if name == "sod-cetc" else 0.0


Floats = NDArray[np.float64]


def _without_plan(
    scene: Scene, band: str, ways: Ways, power: Floats, sd: Floats, rows: Rows
) -> tuple[Ways, Floats, Floats]:
    """One wall where a flag says so, else the fall with distance that homes have."""
    if "line_of_sight" not in rows[0]:
        return ways, power - (HOMES_PER_DECADE_DB - 20) * ways.decades, sd
    (unknown,) = scene.kinds
    behind = np.array([[0.0 if row["line_of_sight"] == "True" else 1.0 for row in rows]], dtype=np.float32)
    ways = replace(
        ways, counts=behind, felt=eased_counts(behind, straight_db(scene.kinds), np.zeros(1, dtype=np.bool_))
    )
    table = loss_table(unknown.structure, spectrum_of(band))
    return ways, power - behind[0] * float(table.loss_db[-1]), np.hypot(sd, behind[0] * unknown.sd_db)


def house_of(name: str) -> House | None:
    """The plan of a set as a house; None where there is none."""
    if name == "ble-flat":
        ring = [(float(row["x"]), float(row["y"])) for row in _rows(RADIO / name / "interior_outline.csv")]
        faces = [(*a, *b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True)]
        return _one_storey(paired(np.array(faces), LONE_OUTLINE_M))
    if name == "sod-syl":
        keys = ("x1_m", "y1_m", "x2_m", "y2_m")
        lines = [[float(row[key]) for key in keys] for row in _rows(RADIO / name / "wall_face_lines.csv")]
        return _one_storey(paired(np.array(lines), LONE_LINE_M))
    if name == "sod-cetc":
        return _three_storeys(_rows(RADIO / name / "walls.csv"), _rows(RADIO / name / "openings.csv"))
    return None


def _one_storey(stretches: list[Stretch]) -> House:
    walls = []
    for number, one in enumerate(stretches):
        x0, y0, x1, y1 = one.ends_m()
        thick = round(one.thickness_m, 3)
        walls.append(Wall(id=f"W{number}", storey="S1", start=(x0, y0), end=(x1, y1), thickness_m=thick))
    storey = Storey(id="S1", name="Floor", elevation_m=0, height_m=2.6)
    return House(built_year=BUILT, storeys=(storey,), walls=tuple(walls))


def _three_storeys(walls: Rows, openings: Rows) -> House:
    storeys = tuple(
        Storey(
            id=f"S{n + 1}",
            name=f"Storey {n + 1}",
            elevation_m=n * CETC_STOREY_M,
            height_m=CETC_STOREY_M - CETC_SLAB_M,
            floor=Slab(thickness_m=CETC_SLAB_M),
        )
        for n in range(3)
    )
    ends = {
        r["wall"]: ((float(r["x1_m"]), float(r["y1_m"])), (float(r["x2_m"]), float(r["y2_m"]))) for r in walls
    }
    return House(
        built_year=BUILT,
        storeys=storeys,
        walls=tuple(
            Wall(
                id=r["wall"].upper(),
                storey=f"S{r['storey']}",
                start=ends[r["wall"]][0],
                end=ends[r["wall"]][1],
            )
            for r in walls
            if np.hypot(*np.subtract(*ends[r["wall"]])) > 0.01
        ),
        openings=tuple(
            Opening(
                id=f"D{number}",
                wall=r["wall"].upper(),
                kind=r["kind"],
                offset_m=float(r["offset_m"]),
                width_m=float(r["width_m"]),
            )
            for number, r in enumerate(openings)
        ),
    )


def _one_wall() -> HouseScene:
    """No plan: nothing stands, and one kind of wall is known of."""
    unknown = guessed_kind("wall", BUILT_AS, BUILT, None)
    return HouseScene(Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), (unknown,)), (), ())


def _screened(heard: list[Heard], most_db: float | None) -> Iterator[Heard]:
    middle = np.median([np.median(one.read_dbm - one.predicted_dbm) for one in heard])
    for one in heard:
        if most_db is None or abs(np.median(one.read_dbm - one.predicted_dbm) - middle) < most_db - 4:
            yield one


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
