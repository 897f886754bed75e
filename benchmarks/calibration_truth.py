"""How far off predictions are on measured sets before any reading, after 3, 10 and 30, and their intervals.

    python benchmarks/calibration_truth.py

One transmitter at a time is judged as the one box of a house. Before calibration only one offset is
fitted, on the other transmitters of its set: transmit power and receiver are unknown in all of them.
Readings are then taken of the box at random places, at places chosen one after another by what they
are worth, or at random places outside one of nine areas that alone is judged.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).parent))
from measured_sets import RADIO, Heard, MeasuredSet, measured_set

from rehaul.predict.calibration import Calibration, calibrate
from rehaul.predict.doubts import Basis, Sender, Ways
from rehaul.predict.observations import Observation
from rehaul.predict.scene import HouseScene
from rehaul.proof.reading_worth import Margin, worth

SETS = ("ble-flat", "rtt-apartment", "rtt-office", "sod-syl", "sod-hcxy", "sod-cetc")
MOST_TRANSMITTERS = 8  # of one set and band, evenly picked
COUNTS = (1, 3, 10, 30)
CLIENT = "phone"  # what the readings are taken to be of; its level is what the offset is fitted to
DRAWS = 20
Z_90 = 1.6449
SPOTS = 40  # places at which a map is to be decided
OPEN_SHARE = 0.6  # of the places may be stood at in one draw of chosen ones
Picks = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Box:
    """One transmitter with what the others of its set say of the offset."""

    scene: HouseScene
    heard: Heard
    off_db: NDArray[np.float64]  # (n,) read less predicted, offset taken out

    @property
    def source(self) -> Sender:
        return Sender(self.heard.transmitter, self.heard.band)

    def seen(self, picks: Picks) -> list[Observation]:
        """Readings at some places."""
        ways, sd_db, offs = self.heard.ways, self.heard.sd_db, self.off_db
        return [
            Observation(
                str(i), self.source, CLIENT, CLIENT, float(offs[i]), float(sd_db[i]), ways.at(np.array([i]))
            )
            for i in picks
        ]

    def calibrated(self, picks: Picks, *, spatial: bool = True) -> Calibration:
        return calibrate(self.scene, self.seen(picks), spatial=spatial)

    def judged(self, picks: Picks, rest: Picks, *, spatial: bool = True) -> tuple[NDArray, NDArray]:
        """Errors at the rest (k,) and whether the 90 % interval of a reading holds them."""
        found = self.calibrated(picks, spatial=spatial)
        view = found.view(basis_of(found, self.heard.ways, self.source).at(rest))
        errors = self.off_db[rest] + view.shift_db
        sd = np.sqrt(view.sd_db**2 + found.correction.scale * self.heard.sd_db[rest] ** 2)
        return errors, np.abs(errors) <= Z_90 * sd


def basis_of(found: Calibration, ways: Ways, source: Sender) -> Basis:
    """Places as the one device would read them, whose level the fitted offset holds already."""
    return replace(found.doubts.basis(ways, source, CLIENT), device_variance=0.0)


def boxes_of(measured: MeasuredSet, band: str) -> list[Box]:
    """Transmitters of a set in a band, each with the offset of the others."""
    heard = [one for one in measured.heard if one.band == band]
    offs = [one.read_dbm - one.predicted_dbm for one in heard]
    scene = measured.scene
    found = []
    step = max(1, -(-len(heard) // MOST_TRANSMITTERS))
    for i in range(0, len(heard), step):
        others = np.concatenate([off for j, off in enumerate(offs) if j != i])
        found.append(Box(scene, heard[i], offs[i] - others.mean()))
    return found


def areas(points_m: NDArray[np.float64]) -> NDArray[np.intp]:
    """Nine areas of a plan, three by three (n,)."""
    low, high = points_m[:, :2].min(axis=0), points_m[:, :2].max(axis=0)
    cell = np.minimum(((points_m[:, :2] - low) / (high - low + 1e-9) * 3).astype(int), 2)
    return cell[:, 0] * 3 + cell[:, 1]


def chosen(box: Box, count: int, open_places: Picks) -> Picks:
    """Places one after another, each worth most for a map that is to be decided everywhere.

    Only `open_places` may be stood at, so that the choice can be drawn again and again.
    """
    n = len(box.off_db)
    picks: list[int] = []
    spots = np.unique(np.linspace(0, n - 1, SPOTS).astype(np.intp))
    shut = np.setdiff1d(np.arange(n), open_places)
    for _ in range(count):
        found = box.calibrated(np.array(picks, dtype=np.intp))
        view = found.view(basis_of(found, box.heard.ways, box.source))
        decisions = [
            Margin("", "", view.basis.at(np.array([spot])), 0.0, float(view.sd_db[spot])) for spot in spots
        ]
        gain = worth(found, view, float(np.median(box.heard.sd_db)), decisions).gain_db
        gain[shut] = gain[picks] = -1.0
        picks.append(int(np.argmax(gain)))
    return np.array(picks, dtype=np.intp)


def draws(box: Box, how: str, count: int, rng: np.random.Generator) -> Iterator[tuple[Picks, Picks]]:
    """(places read, places judged) again and again."""
    n = len(box.off_db)
    every = np.arange(n)
    area = areas(box.heard.ways.points_m)
    for turn in range(DRAWS):
        if how == "random":
            picks = rng.permutation(n)[:count]
            yield picks, np.setdiff1d(every, picks)
        elif how == "chosen":
            picks = chosen(box, count, rng.permutation(n)[: max(count, int(OPEN_SHARE * n))])
            yield picks, np.setdiff1d(every, picks)
        else:
            kept_out = np.unique(area)[turn % len(np.unique(area))]
            yield rng.permutation(every[area != kept_out])[:count], every[area == kept_out]


def truth(boxes: list[Box], how: str, count: int, *, spatial: bool = True) -> tuple[float, float]:
    """RMSE [dB] and share of readings inside their 90 % interval [%]."""
    rng = np.random.default_rng(7)
    parts: dict[str, list[NDArray]] = defaultdict(list)
    for box in boxes:
        if count > 0.6 * len(box.off_db):
            continue
        for picks, rest in draws(box, how, count, rng):
            errors, held = box.judged(picks, rest, spatial=spatial)
            parts["errors"].append(errors)
            parts["held"].append(held)
    if not parts:
        return np.nan, np.nan
    errors, held = np.concatenate(parts["errors"]), np.concatenate(parts["held"])
    return float(np.sqrt(np.mean(errors**2))), float(np.mean(held) * 100)


def before(boxes: list[Box]) -> tuple[float, float]:
    """RMSE and coverage without a reading."""
    errors, held = zip(
        *(box.judged(np.empty(0, np.intp), np.arange(len(box.off_db))) for box in boxes), strict=True
    )
    return float(np.sqrt(np.mean(np.concatenate(errors) ** 2))), float(np.mean(np.concatenate(held)) * 100)


def main() -> None:
    if not RADIO.is_dir():
        print(f"outside data is absent: {RADIO}")
        return
    print("RMSE in dB / share of readings inside their 90 % interval")
    print("| set | readings held out | before | after 1 | after 3 | after 10 | after 30 |")
    print("|---|---|---|---|---|---|---|")
    for name in SETS:
        measured = measured_set(name)
        for band in sorted({one.band for one in measured.heard}):
            boxes = boxes_of(measured, band)
            first = before(boxes)
            for how in ("random", "chosen", "by area"):
                cells = [first, *(truth(boxes, how, count) for count in COUNTS)]
                row = " | ".join(f"{rmse:.2f} / {share:.0f} %" for rmse, share in cells)
                print(f"| {name} {band} GHz | {how} | {row} |", flush=True)
            cells = [first, *(truth(boxes, "random", count, spatial=False) for count in COUNTS)]
            row = " | ".join(f"{rmse:.2f} / {share:.0f} %" for rmse, share in cells)
            print(f"| {name} {band} GHz | random, doubts alone | {row} |", flush=True)


if __name__ == "__main__":
    main()
