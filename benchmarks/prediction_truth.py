"""How true predictions are in buildings that were not used in making them, and how sure they say they are.

    python benchmarks/prediction_truth.py

Before readings: the program's own guess beside the best simple formula on the same points. What was learnt
from where: each number chosen on all buildings but one and judged on that one. Level: what is read against
class powers and a phone in hand, no offset fitted. After readings: error, share held by the 90 % range and
its width, beside a Gaussian process on what the best formula leaves over.

Every set was looked at in choosing the numbers of walls, floors, levels and spreads; the second table says
what that is worth.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.stats import binomtest

sys.path.insert(0, str(Path(__file__).parent))
import radio_truth
from calibration_truth import Z_90, Box, basis_of, boxes_of
from measured_sets import RADIO, measured_set

from rehaul.facts.calibration import calibration_number, measured_level_db
from rehaul.facts.wlan_equipment import access_point_radios, client_radios
from rehaul.predict.calibration import calibrate
from rehaul.predict.correction import tail
from rehaul.predict.learning import Taught, learn
from rehaul.radio import holding_loss_db

SETS = radio_truth.SETS
BOX, PHONE = "access point HE 2x2", "phone"
COUNTS = (0, 1, 3, 10, 30)
DRAWS = 12
READ_OF_A_BOX = 20
MOST_PLACES = 400  # of one transmitter, drawn
IN_SIGHT_M = 25.0  # places in sight and nearer tell the level
SLACK_DB = 0.15
APART_M = (2.0, 4.0, 6.0, 8.0, 12.0, np.inf)
FEWEST_SHARED = 10  # places at which two transmitters were both read
POWERS = (4 / 3, 1.5, 2.0, 2.5, 3.0)
WALLS_DB = (4.5, 5.5, 6.5, 7.5, 8.5)
FLOORS_DB = ((14.0, 20.0), (18.0, 26.0), (22.0, 30.0))
Floats = NDArray[np.float64]
Picks = NDArray[np.intp]


def bands_of(name: str) -> list[str]:
    return sorted({one.band for one in measured_set(name).heard})


def keys_of(names: tuple[str, ...]) -> list[tuple[str, str]]:
    return [(name, band) for name in names for band in bands_of(name)]


def rmse(errors: list[Floats]) -> float:
    return float(np.sqrt(np.mean(np.concatenate(errors) ** 2)))


def before_readings() -> None:
    print("Before readings: RMSE in dB, one offset fitted on the other transmitters")
    print("| set, GHz | ours | best formula | which | ours less best | within 0.15 |")
    print("|---|---|---|---|---|---|")
    ours = []
    for name, band in keys_of(SETS):
        own = radio_truth.score(name, band, radio_truth.own(name, band)).rmse_db
        formulas = radio_truth.formulas(name, band)
        best, label = min((radio_truth.score(name, band, one).rmse_db, label) for label, one in formulas)
        ours += [own] if name != "sod-cetc" else []
        yes = "yes" if own <= best + SLACK_DB else "no"
        print(f"| {name} {band} | {own:.2f} | {best:.2f} | {label} | {own - best:+.2f} | {yes} |", flush=True)
    print(f"Mean over the sets without sod-cetc: {np.mean(ours):.2f} dB\n")


# What was learnt from where --------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class Told:
    """What a set tells of one transmitter."""

    read: Floats
    free_db: Floats
    walls: Floats
    floors: Floats


Chosen = tuple[float, float, tuple[float, float]]  # power, wall, floor at 2.4 and 5 GHz


def told(name: str, band: str) -> list[Told]:
    heard, counts = radio_truth.heard_in(name)[band], radio_truth.walls(name, band)
    assert counts is not None
    return [
        Told(one.read_dbm, 20 * np.log10(d), n[0] + n[1], n[2])
        for one, d, n in zip(heard, radio_truth.distances_m(heard), counts, strict=True)
    ]


def constants_rmse(rows: list[Told], band: str, chosen: Chosen) -> float:
    """Of crossings that are summed with a power, every wall and every floor alike."""
    power, wall_db, floors_db = chosen
    floor_db = floors_db[0 if band == "2.4" else 1]
    sums = [row.walls * wall_db**power + row.floors * floor_db**power for row in rows]
    off = [row.read + row.free_db + total ** (1 / power) for row, total in zip(rows, sums, strict=True)]
    return rmse([one - np.concatenate(off[:i] + off[i + 1 :]).mean() for i, one in enumerate(off)])


def learnt() -> None:
    print("What was learnt from where: chosen on all other buildings, judged on this one, RMSE in dB")
    print("| building | power | wall dB | floor dB | held out | chosen on itself | the program's |")
    print("|---|---|---|---|---|---|---|")
    names = [name for name in SETS if name != "sod-hcxy"]
    rows = {(name, band): told(name, band) for name in names for band in bands_of(name)}
    tried = {
        of: {key: constants_rmse(rows[key], key[1], of) for key in rows}
        for of in product(POWERS, WALLS_DB, FLOORS_DB)
    }

    def mean(of: Chosen, names: list[str]) -> float:
        return float(np.mean([np.mean([tried[of][key] for key in rows if key[0] == name]) for name in names]))

    for name in names:
        others = [other for other in names if other != name]
        scores = {of: mean(of, others) for of in tried}
        of = min(scores, key=lambda one: scores[one])
        own = np.mean([radio_truth.score(name, b, radio_truth.own(name, b)).rmse_db for b in bands_of(name)])
        itself = min(mean(other, [name]) for other in tried)
        floors = f"{of[2][0]:g} / {of[2][1]:g}"
        cells = f"{of[0]:.2f} | {of[1]:g} | {floors} | {mean(of, [name]):.2f} | {itself:.2f} | {own:.2f}"
        print(f"| {name} | {cells} |", flush=True)
    print()


# Level -----------------------------------------------------------------------------------------------------


def class_dbm(band: str) -> float:
    """Sent and received by the classes, phone in hand, before what measured sets say [dBm]."""
    ours, theirs = access_point_radios()[BOX, band], client_radios()[PHONE, band]
    return ours.conducted_dbm + ours.antenna_dbi + theirs.antenna_dbi - holding_loss_db("hand")


def levels() -> None:
    """Sets of Wi-Fi from access points as a firm puts up; the others send from beacons or tell no power."""
    print("Level: read less predicted from class powers and a phone in hand, dB; no offset fitted")
    print("| set, GHz | in sight, less the classes | all places | by the others' level | RMSE | held |")
    print("|---|---|---|---|---|---|")
    keys = [key for key in keys_of(SETS) if key[0].startswith("sod")]
    sight = {key: in_sight_db(*key) for key in keys}
    for name, band in keys:
        errors, sds = absolute(name, band)
        others = [sight[key] for key in keys if key[1] == band and key[0] != name]
        every = np.concatenate(errors)
        bias, apart = float(every.mean()), float(np.mean(others)) - measured_level_db(band)
        held = np.mean(np.abs(every) <= Z_90 * np.concatenate(sds)) * 100
        figures = f"{sight[name, band]:+.1f} | {bias:+.1f} | {bias - apart:+.1f} | {rmse(errors):.1f}"
        print(f"| {name} {band} | {figures} | {held:.0f} % |", flush=True)
    print()


def in_sight_db(name: str, band: str) -> float:
    """Mean of what was read in sight of a box, less the classes; with no plan, all are."""
    off = []
    for one in radio_truth.heard_in(name)[band]:
        seen = (10**one.ways.decades < IN_SIGHT_M) & (one.ways.counts.sum(axis=0) == 0)
        off.append((one.read_dbm - one.predicted_dbm - class_dbm(band))[seen])
    return float(np.concatenate(off).mean())


def absolute(name: str, band: str) -> tuple[list[Floats], list[Floats]]:
    """Errors and standard deviations with nothing fitted."""
    level_sd = np.hypot(calibration_number("device_offset_sd"), calibration_number("box_offset_sd"))
    errors, sds = [], []
    for one in radio_truth.heard_in(name)[band]:
        errors.append(one.read_dbm - one.predicted_dbm - class_dbm(band) - measured_level_db(band))
        sds.append(tail(0) * np.sqrt(one.predicted_sd_db**2 + level_sd**2 + one.sd_db**2))
    return errors, sds


# After readings --------------------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class Judged:
    """After so many readings of every transmitter."""

    errors: list[Floats]
    held: Floats  # share of each transmitter
    width_db: float
    peer: list[Floats]


def after_readings() -> None:
    print("After readings at random places: RMSE dB / that of the peer / held % / standard deviation dB")
    print("| set, GHz | " + " | ".join(f"after {count}" for count in COUNTS) + " |")
    print("|---" * (len(COUNTS) + 1) + "|")
    pooled: dict[int, list[float]] = {count: [] for count in COUNTS}
    beyond: list[str] = []
    for name, band in keys_of(SETS):
        boxes, cells = boxes_of(measured_set(name), band), []
        rest = best_formula_rest(name, band)
        for count in COUNTS:
            found = judged(boxes, count, rest)
            if found is None:
                cells.append("too few places")
                continue
            share = float(found.held.mean()) * 100
            pooled[count].append(share)
            chance = clustered_p(found.held)
            beyond += [f"{name} {band} after {count} ({share:.0f} %)"] if chance < 0.01 else []
            errors = f"{rmse(found.errors):.2f} / {rmse(found.peer):.2f}"
            cells.append(f"{errors} / {share:.0f} / {found.width_db:.1f}")
        print(f"| {name} {band} | " + " | ".join(cells) + " |", flush=True)
    print(
        "Pooled: " + ", ".join(f"after {count} {np.mean(shares):.1f} %" for count, shares in pooled.items())
    )
    print(
        "Beyond a two-sided binomial test at 1 %, clustered by transmitter: " + ("; ".join(beyond) or "none")
    )
    print()


def best_formula_rest(name: str, band: str) -> dict[str, Floats]:
    """What the best simple formula leaves over at the places of each transmitter."""
    found = (one for _, one in radio_truth.formulas(name, band))
    errors = (radio_truth.errors_db(name, band, one) for one in found)
    names = [one.transmitter for one in radio_truth.heard_in(name)[band]]
    return dict(zip(names, min(errors, key=rmse), strict=True))


def judged(boxes: list[Box], count: int, formula_rest: dict[str, Floats] | None = None) -> Judged | None:
    rng = np.random.default_rng(7)
    errors, held, widths, peer = [], [], [], []
    for box in boxes:
        if count > 0.6 * len(box.off_db):
            continue
        kept, shares = rng.permutation(len(box.off_db))[:MOST_PLACES], []
        for _ in range(DRAWS if count else 1):
            order = rng.permutation(kept)
            picks, rest = order[:count], order[count:]
            found = box.calibrated(picks)
            view = found.view(basis_of(found, box.heard.ways, box.source).at(rest))
            errors.append(box.off_db[rest] + view.shift_db)
            widths.append(np.sqrt(view.sd_db**2 + found.correction.scale * box.heard.sd_db[rest] ** 2))
            shares.append(np.mean(np.abs(errors[-1]) <= Z_90 * widths[-1]))
            left = formula_rest[box.heard.transmitter] if formula_rest else box.off_db
            peer.append(left[rest] - gaussian_process(box, left, picks, rest))
        held.append(np.mean(shares))
    if not errors:
        return None
    return Judged(errors, np.array(held), float(np.mean(np.concatenate(widths))), peer)


def gaussian_process(box: Box, left_db: Floats, picks: Picks, rest: Picks) -> Floats:
    """The peer: a level and an exponential field of 5 m over what a formula leaves over."""
    if not len(picks):
        return np.zeros(len(rest))
    points = box.heard.ways.points_m

    def shared(a: Picks, b: Picks) -> Floats:
        apart = np.linalg.norm(points[a][:, None] - points[b][None], axis=2)
        return np.asarray(36.0 * np.exp(-apart / 5.0) + 20.0)

    noise = np.diag(box.heard.sd_db[picks] ** 2 + 9.0)
    return np.asarray(shared(rest, picks) @ np.linalg.solve(shared(picks, picks) + noise, left_db[picks]))


def clustered_p(held: Floats) -> float:
    """Two-sided chance of shares so far from nine tenths, with as many tries as the clusters are worth."""
    clusters, mean = len(held), float(held.mean())
    spread = float(held.var(ddof=1)) / clusters if clusters > 1 else 0.09
    tries = int(np.clip(0.09 / max(spread, 1e-9), clusters, 30 * clusters))
    return float(binomtest(round(mean * tries), tries, 0.9).pvalue)


# Between transmitters --------------------------------------------------------------------------------------


def between_transmitters() -> None:
    """How alike two transmitters' rests are at the same places, by how far apart they stand."""
    heads = [f"up to {upper:g} m" for upper in APART_M[:-1]] + ["farther"]
    print("What is left over of two transmitters at the same places: correlation (pairs), by how far apart")
    print("| set, GHz | " + " | ".join(heads) + " |")
    print("|---" * (len(heads) + 1) + "|")
    for name, band in keys_of(SETS):
        cells = []
        for lower, upper in zip((0.0, *APART_M[:-1]), APART_M, strict=True):
            met = [pair for apart_m, *pair in pairs_of(name, band) if lower <= apart_m < upper]
            sums = np.sum(met, axis=0) if met else np.zeros(3)
            share = sums[0] / np.sqrt(sums[1] * sums[2]) if met else np.nan
            cells.append(f"{share:+.2f} ({len(met)})" if met else "none")
        print(f"| {name} {band} | " + " | ".join(cells) + " |", flush=True)
    print()


def pairs_of(name: str, band: str) -> Iterator[tuple[float, float, float, float]]:
    """(how far apart [m], product and squares of the rests, summed [dB²]) of two transmitters of one band."""
    heard = [one for one in measured_set(name).heard if one.band == band]
    rests = []
    for one in heard:
        off = one.read_dbm - one.predicted_dbm
        rests.append(
            dict(zip(map(tuple, one.ways.points_m.round(1).tolist()), off - off.mean(), strict=True))
        )
    for i, j in combinations(range(len(heard)), 2):
        both = sorted(rests[i].keys() & rests[j].keys())
        if len(both) >= FEWEST_SHARED:
            a, b = (np.array([rests[k][place] for place in both]) for k in (i, j))
            apart_m = float(np.linalg.norm(np.subtract(heard[i].position_m, heard[j].position_m)))
            yield apart_m, float(a @ b), float(a @ a), float(b @ b)


# Learnt from other houses --------------------------------------------------------------------------------


def from_other_houses() -> None:
    """Every building but one teaches the walls, floors and the fall with distance of the one that is left."""
    print("Learnt from all other buildings, before any reading of this one: RMSE dB without and with")
    print("| set, GHz | without | with |")
    print("|---|---|---|")
    houses = {
        name: [taught(box) for band in bands_of(name) for box in boxes_of(measured_set(name), band)]
        for name in SETS
    }
    for name, band in keys_of(SETS):
        learnt = learn([house for other in SETS if other != name for house in houses[other]])
        boxes = boxes_of(measured_set(name), band)
        plain = rmse([box.off_db for box in boxes])
        told = []
        for box in boxes:
            found = calibrate(box.scene, [], learnt=learnt)
            told.append(box.off_db + found.view(basis_of(found, box.heard.ways, box.source)).shift_db)
        level = np.mean(np.concatenate(told))  # the offset is fitted in both
        print(f"| {name} {band} | {plain:.2f} | {rmse([one - level for one in told]):.2f} |", flush=True)
    print()


def taught(box: Box) -> Taught:
    """What a firm would have read of one box."""
    picks = np.random.default_rng(5).permutation(len(box.off_db))[:READ_OF_A_BOX]
    return Taught(box.scene, box.seen(picks))


# With one phone, nothing fitted ----------------------------------------------------------------------------


def with_one_phone() -> None:
    print("With one phone and nothing fitted: mean error of its maps, dB")
    print("| set, GHz | before | after 1 | after 3 | after 10 |")
    print("|---|---|---|---|---|")
    for name, band in (key for key in keys_of(SETS) if key[0].startswith("sod")):
        boxes = boxes_of(measured_set(name), band)
        cells = [f"{bias_db(boxes, band, count):+.1f}" for count in (0, 1, 3, 10)]
        print(f"| {name} {band} | " + " | ".join(cells) + " |", flush=True)
    print()


def bias_db(boxes: list[Box], band: str, count: int) -> float:
    """Mean error over the maps of all transmitters and draws."""
    rng = np.random.default_rng(3)
    found = []
    for box in boxes:
        raw = box.heard.read_dbm - box.heard.predicted_dbm - class_dbm(band) - measured_level_db(band)
        own = Box(box.scene, box.heard, raw)
        for _ in range(DRAWS if count else 1):
            order = rng.permutation(len(raw))[:MOST_PLACES]
            picks, rest = order[:count], order[count:]
            fitted = own.calibrated(picks)
            view = fitted.view(basis_of(fitted, box.heard.ways, box.source).at(rest))
            found.append(float(np.mean(raw[rest] + view.shift_db)))
    return float(np.mean(found))


def main() -> None:
    if not RADIO.is_dir():
        print(f"outside data is absent: {RADIO}")
        return
    before_readings()
    learnt()
    levels()
    after_readings()
    between_transmitters()
    from_other_houses()
    with_one_phone()


if __name__ == "__main__":
    main()
