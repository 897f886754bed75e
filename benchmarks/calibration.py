"""Calibration: how fast a reading becomes a map and the next place, and how many readings choosing saves.

    python benchmarks/calibration.py

Times are processor time on one thread, least of many, with a matrix product of the same run as peer.
Chosen places are set against random ones twice: in houses drawn from the prior, by how many verdicts on
rooms are wrong; and on measured sets, by the error of the map.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
from calibration_truth import CLIENT, areas, basis_of, boxes_of, truth
from measured_sets import RADIO, measured_set

from radio_scenes import three_storey_house
from rehaul.predict.calibration import Calibration, calibrate
from rehaul.predict.doubts import Basis, Sender, Ways, ways_to
from rehaul.predict.observations import Observation
from rehaul.predict.residual import ResidualView, joint_variance
from rehaul.predict.scene import HouseScene
from rehaul.proof.reading_worth import Margin, worth
from rehaul.radio import grid_over

SCENE = HouseScene(three_storey_house(), (), ())
BOX, SENDS = (4.13, 2.71, 2.3), Sender("RT1", "5")
READING_SD_DB = 2.5
Z_90 = 1.6449
HOUSES, STEPS = 60, (0, 2, 5, 10, 20, 40)
ROOMS = 10
TURNS = 6  # needs drawn for each measured transmitter
HOW = ("random", "chosen")
MEASURED = (
    ("ble-flat", "2.4"),
    ("rtt-apartment", "2.4"),
    ("rtt-office", "2.4"),
    ("sod-syl", "2.4"),
    ("sod-syl", "5"),
    ("sod-hcxy", "2.4"),
    ("sod-cetc", "2.4"),
    ("sod-cetc", "5"),
)


def least_ms(job: Callable[[], object], repeats: int = 40) -> float:
    """Least processor time of one run [ms]."""
    job()
    best = np.inf
    for _ in range(repeats):
        start = time.process_time()
        job()
        best = min(best, time.process_time() - start)
    return best * 1e3


def readings_at(ways: Ways, places: NDArray[np.intp], off_db: NDArray[np.float64]) -> list[Observation]:
    parts = [ways.at(np.array([i])) for i in places]
    return [
        Observation(f"r{i}", SENDS, CLIENT, CLIENT, float(off), READING_SD_DB, part)
        for i, (off, part) in enumerate(zip(off_db, parts, strict=True))
    ]


def decided(
    found: Calibration, view: ResidualView, spots: NDArray[np.intp], margins: NDArray
) -> list[Margin]:
    return [
        Margin("", "", view.basis.at(np.array([s])), float(m), float(view.sd_db[s]))
        for s, m in zip(spots, margins, strict=True)
    ]


def speed() -> None:
    """Reading in, map with interval and next place out."""
    grid = grid_over(0, 0, 12, 9, 0.127, (1.0, 3.7, 6.4))
    rng = np.random.default_rng(3)
    ways = ways_to(SCENE.scene, BOX, grid)
    n = len(ways.decades)
    print(
        f"{n} places, {len(SCENE.scene.kinds)} constructions, {ROOMS} rooms to be decided; ms of one thread"
    )
    print(f"ways to all places, once per box: {least_ms(lambda: ways_to(SCENE.scene, BOX, grid), 5):.2f}")
    a = rng.normal(size=(n, 10)).astype(np.float32)
    peer = least_ms(lambda: a.T @ a)
    print(f"peer: product of a {n} x 10 matrix with itself {peer:.2f}")
    print("| readings | left-over carried | update | map | next place | all | against the peer |")
    print("|---|---|---|---|---|---|---|")
    for count in (1, 5, 20, 50):
        seen = readings_at(ways, rng.integers(n, size=count), rng.normal(0, 4, count))
        for spatial in (False, True):
            found = calibrate(SCENE, seen, spatial=spatial)
            basis = basis_of(found, ways, SENDS)
            spots = rng.integers(n, size=ROOMS)
            decisions = decided(found, found.view(basis), spots, rng.normal(0, 4, ROOMS))
            times = stages(seen, basis, decisions, spatial)
            cells = " | ".join(f"{value:.2f}" for value in times)
            yes = "yes" if spatial else "no"
            print(f"| {count} | {yes} | {cells} | {times[-1] / peer:.0f} |", flush=True)


def stages(
    seen: list[Observation], basis: Basis, decisions: list[Margin], spatial: bool
) -> tuple[float, float, float, float]:
    found = calibrate(SCENE, seen, spatial=spatial)
    view = found.view(basis)

    def mapped() -> tuple[NDArray, NDArray]:
        fresh = found.view(basis)
        return fresh.shift_db - Z_90 * fresh.sd_db, fresh.shift_db + Z_90 * fresh.sd_db

    update = least_ms(lambda: calibrate(SCENE, seen, spatial=spatial))
    drawn = least_ms(mapped)
    place = least_ms(lambda: int(np.argmax(worth(found, view, READING_SD_DB, decisions).gain_db)))
    return update, drawn, place, update + drawn + place


def walk(
    scene: HouseScene,
    ways: Ways,
    loss_db: NDArray,
    rooms: tuple[NDArray[np.intp], NDArray],
    how: str,
    seed: tuple[int, int],
) -> NDArray[np.float64]:
    """One walk through a house: wrong verdicts and mean square error of the map after each of STEPS.

    `loss_db` is the true loss beyond the prediction at every place; `rooms`, deciding places and the
    margins predicted there. Drawn noise is that of a reading; the measured sets have theirs already.
    """
    rng, n = np.random.default_rng(seed), len(loss_db)
    spots, predicted_db = rooms
    picks: list[int] = []
    rows = []
    for step in range(max(STEPS) + 1):
        found = calibrate(scene, readings_at(ways, np.array(picks, dtype=np.intp), -loss_db[picks]))
        view = found.view(basis_of(found, ways, SENDS))
        margins = predicted_db - view.shift_db[spots]
        if step in STEPS:
            wrong = np.sum((margins > 0) != (predicted_db - loss_db[spots] > 0))
            rows.append((float(wrong), float(np.mean((view.shift_db - loss_db) ** 2))))
        gain = rng.random(n)
        if how == "chosen":
            gain = worth(found, view, READING_SD_DB, decided(found, view, spots, margins)).gain_db
        gain[picks] = -1.0
        picks.append(int(np.argmax(gain)))
    return np.array(rows)


def simulated() -> None:
    """Houses drawn from the prior, places read with noise."""
    ways = ways_to(SCENE.scene, BOX, grid_over(0, 0, 12, 9, 0.9, (1.0, 3.7, 6.4)))
    n = len(ways.decades)
    prior = calibrate(SCENE, readings_at(ways, np.array([0]), np.zeros(1)))
    root = np.linalg.cholesky(joint_covariance(prior, basis_of(prior, ways, SENDS)))
    total = {how: np.zeros((len(STEPS), 2)) for how in HOW}
    for house in range(HOUSES):
        rng = np.random.default_rng(house)
        truth_db = root @ rng.normal(size=n) + rng.normal(0, READING_SD_DB, n)
        rooms = rng.choice(n, ROOMS, replace=False), rng.normal(0, 5, ROOMS)
        for how in HOW:
            total[how] += walk(SCENE, ways, truth_db, rooms, how, (house, 1))
    print(f"simulated: {HOUSES} houses of {n} places, {ROOMS} rooms")
    tell(total, HOUSES, ROOMS)


def measured_verdicts() -> None:
    """Measured sets: nine areas decided at their middle places, against needs drawn about the prediction."""
    for name, band in MEASURED:
        boxes = [box for box in boxes_of(measured_set(name), band) if len(box.off_db) > 2 * max(STEPS)]
        if not boxes:
            print(f"measured: {name} {band} GHz: too few places")
            continue
        total = {how: np.zeros((len(STEPS), 2)) for how in HOW}
        rounds = 0
        for number, box in enumerate(boxes):
            spots = middles(box.heard.ways.points_m)
            for turn in range(TURNS):
                rng = np.random.default_rng([number, turn])
                rooms = spots, rng.normal(0, 5, len(spots))
                for how in HOW:
                    total[how] += walk(box.scene, box.heard.ways, -box.off_db, rooms, how, (number, turn))
                rounds += len(spots)
        print(
            f"measured: {name} {band} GHz, {len(boxes)} transmitters, verdicts on the middles of nine areas"
        )
        tell(total, len(boxes) * TURNS, rounds / (len(boxes) * TURNS))


def middles(points_m: NDArray[np.float64]) -> NDArray[np.intp]:
    """The place nearest to the middle of each of nine areas."""
    area = areas(points_m)
    found = []
    for number in np.unique(area):
        inside = np.flatnonzero(area == number)
        away = np.linalg.norm(points_m[inside, :2] - points_m[inside, :2].mean(axis=0), axis=1)
        found.append(inside[int(np.argmin(away))])
    return np.array(found)


def tell(total: dict[str, NDArray], walks: int, rooms: float) -> None:
    print("| places | " + " | ".join(f"after {step}" for step in STEPS) + " |")
    print("|---" * (len(STEPS) + 1) + "|")
    for how, sums in total.items():
        share = sums[:, 0] / walks / rooms * 100
        print(f"| {how}, wrong verdicts % | " + " | ".join(f"{value:.1f}" for value in share) + " |")
    for how, sums in total.items():
        rmse = np.sqrt(sums[:, 1] / walks)
        print(f"| {how}, map RMSE dB | " + " | ".join(f"{value:.2f}" for value in rmse) + " |", flush=True)


def joint_covariance(prior: Calibration, basis: Basis) -> NDArray[np.float64]:
    """Of the losses at all places before any reading (n, n) [dB²]."""
    return joint_variance(prior.doubts.prior_variance(), basis, [SENDS])


def measured_maps() -> None:
    """Map error against readings on measured sets, chosen and random places."""
    counts = (3, 5, 10, 16, 24, 32)
    print("measured: map RMSE in dB at the places not read")
    print("| set | places | " + " | ".join(f"after {count}" for count in counts) + " |")
    print("|---" * (len(counts) + 2) + "|")
    for name, band in MEASURED:
        boxes = boxes_of(measured_set(name), band)
        rows = {how: [truth(boxes, how, count)[0] for count in counts] for how in ("random", "chosen")}
        for how, row in rows.items():
            print(
                f"| {name} {band} | {how} | " + " | ".join(f"{value:.2f}" for value in row) + " |", flush=True
            )
        needed = [float(np.interp(-value, [-v for v in np.minimum.accumulate(rows["chosen"])], counts))
                  for value in rows["random"]]  # fmt: skip
        print("| | chosen needed for the same | " + " | ".join(f"{value:.0f}" for value in needed) + " |")


if __name__ == "__main__":
    speed()
    simulated()
    if RADIO.is_dir():
        measured_verdicts()
        measured_maps()
    else:
        print(f"outside data is absent: {RADIO}")
