"""Predictions of measured sets from plans and places of transmitters alone, beside formulas on the same.

    python benchmarks/radio_truth.py

Power sent and receivers are unknown in all sets, so one offset per set and band is fitted, always on the
other transmitters; a formula with a slope is fitted in the same way. Nothing else is taken from the
readings. What each set lets one predict:

- ble-flat: all three levels, its walls standing in the gaps of the outline, 0.1 to 0.44 m thick;
- sod-syl: the same with walls from pairs of face lines; how drawing and readings lie is inferred;
- rtt-*: no plan, only whether the straight path is free: one unknown wall where it is not;
- sod-hcxy: no plan: distance alone, so every model is a fall with distance.
"""

from __future__ import annotations

import csv
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).parent))
from measured_sets import RADIO, Heard, measured_set
from paired_walls import guessed_scene, paired

from rehaul.facts.guesses import prediction_bands, wall_guess
from rehaul.radio import Band, Level, Scene, Transmitter, crossing_counts, field, kind, loss_table

SETS = ("ble-flat", "sod-syl", "rtt-apartment", "rtt-office", "sod-hcxy")
LEVELS: tuple[Level, ...] = ("direct", "reflections", "full")
Z_90 = 1.6449
LONE_OUTLINE_M, LONE_LINE_M = 1.0, 0.1  # a lone face: the outside of a flat; a partition drawn as one line
HEAVY_M = 0.1  # COST 231: walls thicker than this count as heavy

Values = list[NDArray[np.float64]]  # one array per transmitter


@dataclass(frozen=True, eq=False)
class Prediction:
    """Loss and spread to every place of every transmitter."""

    loss_db: Values
    sd_db: Values | None = None
    ms_per_thousand: float | None = None  # receivers, at scattered points
    offset_fitted: bool = False  # already, with the slope


@dataclass(frozen=True)
class Score:
    """How a prediction fares."""

    rmse_db: float
    bias_db: float  # mean over transmitters of the mean error of each
    within_db: float  # RMSE about each transmitter's own mean: without what its power sent is off by
    held_pct: float | None  # readings inside their 90 % interval


@cache
def plan_of(name: str) -> Scene:
    """Walls of a set, of unknown make; no pieces where none are given."""
    if name == "ble-flat":
        with (RADIO / name / "interior_outline.csv").open(encoding="utf-8") as file:
            ring = [(float(row["x"]), float(row["y"])) for row in csv.DictReader(file)]
        faces = [(*a, *b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True)]
        return guessed_scene(paired(np.array(faces), LONE_OUTLINE_M))
    if name == "sod-syl":
        lines = np.loadtxt(RADIO / name / "wall_face_lines.csv", delimiter=",", skiprows=1)
        return guessed_scene(paired(lines, LONE_LINE_M))
    return guessed_scene([])


@cache
def heard_in(name: str) -> dict[str, list[Heard]]:
    """Readings of a set by band."""
    heard = measured_set(name).heard
    return {band: [one for one in heard if one.band == band] for band in sorted({one.band for one in heard})}


def spectrum(band: str) -> Band:
    row = next(row for name, row in prediction_bands().items() if name == band)
    return Band(row.centre_mhz * 1e6, row.width_mhz * 1e6)


# Ours ------------------------------------------------------------------------------------------------------


def own(name: str, band: str, level: Level = "direct", *, eased: bool = True) -> Prediction:
    """Ours at one level; where there is only a flag, one unknown wall behind it."""
    heard, scene = heard_in(name)[band], plan_of(name)
    start = time.thread_time()
    found = [
        field(
            scene, Transmitter(one.position_m, 0.0), one.ways.points_m, [spectrum(band)], level, eased=eased
        )
        for one in heard
    ]
    ms = (time.thread_time() - start) * 1e6 / sum(len(one.read_dbm) for one in heard)
    loss = [-one.gain_db[0].astype(float) for one in found]
    sd = [one.sd_db[0].astype(float) for one in found]
    hidden = walls(name, band)
    if hidden is not None and not len(scene.panels_m):
        guess = wall_guess(None)
        unknown = kind(guess.wall)
        wall_db = float(loss_table(unknown.structure, spectrum(band)).loss_db[-1])
        wall_sd = np.hypot(unknown.sd_db, guess.extra_sd_db)
        loss = [a + wall_db * n.sum(axis=0) for a, n in zip(loss, hidden, strict=True)]
        sd = [np.hypot(s, wall_sd * n.sum(axis=0)) for s, n in zip(sd, hidden, strict=True)]
    return Prediction(loss, sd, ms)


# Formulas --------------------------------------------------------------------------------------------------


def walls(name: str, band: str) -> list[NDArray[np.float64]] | None:
    """Light and heavy walls on the straight way (2, place) per transmitter; None where nothing tells."""
    heard, scene = heard_in(name)[band], plan_of(name)
    if len(scene.panels_m):
        heavy = np.array([one.name != "stud-plasterboard" for one in scene.kinds])
        counts = [crossing_counts(scene, one.position_m, one.ways.points_m) for one in heard]
        return [
            np.array([count[~heavy].sum(axis=0), count[heavy].sum(axis=0)], dtype=float) for count in counts
        ]
    if name.startswith("rtt"):
        behind = [(one.ways.counts.sum(axis=0) > 0).astype(float) for one in heard]
        return [np.array([one, 0 * one]) for one in behind]
    return None


def distances_m(heard: list[Heard]) -> Values:
    return [
        np.maximum(np.linalg.norm(one.ways.points_m - np.array(one.position_m), axis=1), 0.1) for one in heard
    ]


def formulas(name: str, band: str) -> Iterator[tuple[str, Prediction]]:
    """Formulas with printed numbers; what depends on frequency alone is left to the offset."""
    ways = [np.log10(d) for d in distances_m(heard_in(name)[band])]
    yield "free space", Prediction([20 * way for way in ways])
    yield "log-distance, slope fitted", log_distance(name, band)
    yield "ITU-R P.1238, N = 28", Prediction([28 * way for way in ways])
    count = walls(name, band)
    if count is None:
        return
    ghz = spectrum(band).centre_hz / 1e9
    seen = [14.6 * way + 34.62 + 20.3 * np.log10(ghz) for way in ways]
    hidden = [24.6 * way + 29.53 + 23.8 * np.log10(ghz) for way in ways]
    parts = list(zip(seen, hidden, count, strict=True))
    yield (
        "ITU-R P.1238-11, in sight or not",
        Prediction(
            [np.where(n.sum(axis=0) == 0, a, b) for a, b, n in parts],
            [np.where(n.sum(axis=0) == 0, 3.76, 5.04) for _, _, n in parts],
        ),
    )
    walled = list(zip(ways, count, strict=True))
    yield "COST 231, 3.4 and 6.9 dB a wall", Prediction([20 * w + 3.4 * n[0] + 6.9 * n[1] for w, n in walled])
    yield "COST 231, 3.4 dB a wall", Prediction([20 * w + 3.4 * n.sum(axis=0) for w, n in walled])


def log_distance(name: str, band: str) -> Prediction:
    """Slope fitted on the other transmitters."""
    heard = heard_in(name)[band]
    ways, read = [np.log10(d) for d in distances_m(heard)], [one.read_dbm for one in heard]
    found = []
    for i, way in enumerate(ways):
        x, y = np.concatenate(ways[:i] + ways[i + 1 :]), np.concatenate(read[:i] + read[i + 1 :])
        found.append(-np.polyval(np.polyfit(x, y, 1), way))
    return Prediction(found, offset_fitted=True)


# Judging ---------------------------------------------------------------------------------------------------


def errors_db(name: str, band: str, prediction: Prediction) -> Values:
    """Read less predicted, the offset being that of the other transmitters."""
    off = [one.read_dbm + loss for one, loss in zip(heard_in(name)[band], prediction.loss_db, strict=True)]
    if prediction.offset_fitted:
        return off
    return [one - np.concatenate(off[:i] + off[i + 1 :]).mean() for i, one in enumerate(off)]


def score(name: str, band: str, prediction: Prediction) -> Score:
    """RMSE, bias and share of readings inside the 90 % interval of field and reading together."""
    errors = errors_db(name, band, prediction)
    every = np.concatenate(errors)
    held = None
    if prediction.sd_db is not None:
        reading = [one.sd_db for one in heard_in(name)[band]]
        sd = np.concatenate([np.hypot(a, b) for a, b in zip(prediction.sd_db, reading, strict=True)])
        held = float(np.mean(np.abs(every) <= Z_90 * sd) * 100)
    within = np.concatenate([one - one.mean() for one in errors])
    means = [float(one.mean()) for one in errors]
    return Score(
        float(np.sqrt(np.mean(every**2))), float(np.mean(means)), float(np.sqrt(np.mean(within**2))), held
    )


def models(name: str, band: str) -> Iterator[tuple[str, Prediction]]:
    """Ours, then the formulas."""
    levels = LEVELS if len(plan_of(name).panels_m) else LEVELS[:1]
    for level in levels:
        yield f"**{level}**", own(name, band, level)
    if len(levels) > 1:
        yield "direct, crossings not eased", own(name, band, eased=False)
        yield "full, crossings not eased", own(name, band, "full", eased=False)
    yield from formulas(name, band)


def main() -> None:
    if not RADIO.is_dir():
        print(f"outside data is absent: {RADIO}")
        return
    print("| set, GHz | model | RMSE dB | bias dB | within a transmitter dB | held by the 90 % interval |")
    print("|---|---|---|---|---|---|")
    for name in SETS:
        for band, heard in heard_in(name).items():
            print(f"| {name} {band}: {len(heard)} × {sum(len(one.read_dbm) for one in heard)} | | | | | |")
            for label, prediction in models(name, band):
                found = score(name, band, prediction)
                held = "" if found.held_pct is None else f"{found.held_pct:.0f} %"
                figures = f"{found.rmse_db:.2f} | {found.bias_db:+.2f} | {found.within_db:.2f} | {held}"
                print(f"| | {label} | {figures} |", flush=True)


if __name__ == "__main__":
    main()
