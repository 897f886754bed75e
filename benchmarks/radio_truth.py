"""Predictions of measured sets from plans and places of transmitters alone, beside formulas on the same.

    python benchmarks/radio_truth.py

Power sent and receivers are unknown in all sets, so one offset per set and band is fitted, always on the
other transmitters; a formula with a slope is fitted in the same way. Nothing else is taken from the
readings. What each set lets one predict:

- ble-flat: all three levels, its walls standing in the gaps of the outline, 0.1 to 0.44 m thick;
- sod-cetc: the same over three storeys; a thickness is drawn of none of its walls;
- sod-syl: the same with walls from pairs of face lines; how drawing and readings lie is inferred;
- rtt-*: no plan, only whether the straight path is free: one unknown wall where it is not;
- sod-hcxy: no plan: distance alone, so every model is a fall with distance.
"""

from __future__ import annotations

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

from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Level, Scene, Transmitter, crossing_counts, field

SETS = ("ble-flat", "rtt-apartment", "rtt-office", "sod-syl", "sod-hcxy", "sod-cetc")
LEVELS: tuple[Level, ...] = ("direct", "reflections", "full")
Z_90 = 1.6449

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


def plan_of(name: str) -> Scene:
    """Walls of a set, of unknown make; no pieces where none are given."""
    return measured_set(name).scene.scene


@cache
def heard_in(name: str) -> dict[str, list[Heard]]:
    """Readings of a set by band."""
    heard = measured_set(name).heard
    return {band: [one for one in heard if one.band == band] for band in sorted({one.band for one in heard})}


# Ours ------------------------------------------------------------------------------------------------------


def own(name: str, band: str, level: Level = "direct", *, eased: bool = True) -> Prediction:
    """Ours at one level; where there is only a flag, one unknown wall behind it."""
    heard, scene = heard_in(name)[band], plan_of(name)
    if not len(scene.panels_m):
        return Prediction([-one.predicted_dbm for one in heard], [one.predicted_sd_db for one in heard])
    start = time.thread_time()
    found = [
        field(
            scene,
            Transmitter(one.position_m, 0.0),
            one.ways.points_m,
            [spectrum_of(band)],
            level,
            eased=eased,
        )
        for one in heard
    ]
    ms = (time.thread_time() - start) * 1e6 / sum(len(one.read_dbm) for one in heard)
    loss = [-one.gain_db[0].astype(float) for one in found]
    return Prediction(loss, [one.sd_db[0].astype(float) for one in found], ms)


# Formulas --------------------------------------------------------------------------------------------------


def walls(name: str, band: str) -> list[NDArray[np.float64]] | None:
    """Light walls, heavy walls and floors on the straight way (3, place); None where nothing tells."""
    heard, scene = heard_in(name)[band], plan_of(name)
    if len(scene.panels_m):
        heavy = np.array([not one.name.startswith(("masonry or", "door", "glass")) for one in scene.kinds])
        floor = np.isin(np.arange(len(scene.kinds)), [plate.kind for plate in scene.plates])
        counts = [crossing_counts(scene, one.position_m, one.ways.points_m) for one in heard]
        parts = (~heavy & ~floor, heavy & ~floor, floor)
        return [np.array([count[part].sum(axis=0) for part in parts], dtype=float) for count in counts]
    if name.startswith("rtt"):
        behind = [(one.ways.counts.sum(axis=0) > 0).astype(float) for one in heard]
        return [np.array([one, 0 * one, 0 * one]) for one in behind]
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
    yield "walls and floors, a constant each fitted", fitted_constants(name, band)
    ghz = spectrum_of(band).centre_hz / 1e9
    seen = [14.6 * way + 34.62 + 20.3 * np.log10(ghz) for way in ways]
    hidden = [24.6 * way + 29.53 + 23.8 * np.log10(ghz) for way in ways]
    parts = list(zip(seen, hidden, count, strict=True))
    if not any(n[2].any() for n in count):
        yield (
            "ITU-R P.1238-11, in sight or not",
            Prediction(
                [np.where(n.sum(axis=0) == 0, a, b) for a, b, n in parts],
                [np.where(n.sum(axis=0) == 0, 3.76, 5.04) for _, _, n in parts],
            ),
        )
    walled = list(zip(ways, count, strict=True))
    floors = [18.3 * k ** ((k + 2) / (k + 1) - 0.46) for k in (n[2] for n in count)]
    for label, light, heavy in (("3.4 and 6.9 dB a wall", 3.4, 6.9), ("3.4 dB a wall", 3.4, 3.4)):
        loss = [20 * w + light * n[0] + heavy * n[1] + f for (w, n), f in zip(walled, floors, strict=True)]
        yield f"COST 231, {label}", Prediction(loss)


def fitted_constants(name: str, band: str) -> Prediction:
    """Free space and a constant for every wall and every floor, fitted on the other transmitters."""
    heard, counts = heard_in(name)[band], walls(name, band)
    assert counts is not None
    free = [20 * np.log10(d) for d in distances_m(heard)]
    rows = [np.array([np.ones(n.shape[1]), -(n[0] + n[1]), -n[2]]).T for n in counts]
    rest = [one.read_dbm + loss for one, loss in zip(heard, free, strict=True)]
    found = []
    for i, loss in enumerate(free):
        x, y = np.concatenate(rows[:i] + rows[i + 1 :]), np.concatenate(rest[:i] + rest[i + 1 :])
        found.append(loss - rows[i] @ np.linalg.lstsq(x, y, rcond=None)[0])
    return Prediction(found, offset_fitted=True)


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
