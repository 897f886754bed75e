"""Mb/s from dBm, both measured: how many of what was measured the predicted 90 % range holds.

python benchmarks/delivered_rates.py

Published pairs stand in published_rates.csv, each with where it was read. One more home, with many places, is
read from the data beside the repository where it is there. "three" is after three readings of the same
home, drawn at random, judged at its others; homes of fewer than six readings have none. Assumed, in the open:
the power where none is printed (-45 dBm), 3 dB of spread of a printed power, a device 6 dB softer at its box,
gigabit wires, the width of the many-place home (80 MHz, two streams). A range is judged by a two-sided
binomial test at 1 %; of fewer than three homes nothing is claimed.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy.stats import binomtest

from rehaul.facts.calibration import calibration_number
from rehaul.facts.modulation import Generation, guard_intervals_us
from rehaul.predict.air import Air
from rehaul.predict.correction import Correction, correct
from rehaul.predict.doubts import Doubts, doubts_of
from rehaul.predict.radiators import Radiator
from rehaul.predict.shares import delivered_of
from rehaul.wlan import (
    WHOLE,
    BandGhz,
    RadioLink,
    ShareSpread,
    ethernet_tcp_mbps,
    goodput_range,
    usual_share,
)
from rehaul.wlan.goodput import Direction

HERE = Path(__file__).parent
MANY_PLACES = HERE.parents[1] / "shared" / "data" / "wifi" / "home-24.csv"
UP_LAG_DB = 6.0
POWER_SD_DB = 3.0
WIRE_MBPS = ethernet_tcp_mbps(1000)
CEILING = calibration_number("ceiling_share") * WIRE_MBPS
DRAWS = 20
FEWEST = 6  # readings of a home from which three are drawn
LEAST_HOMES = 3
HELD = 0.9
LEVEL = 0.01
HEAD = "set | n | homes | of the radio | of the median | held, all of it | held / ln width | three | test"


@dataclass(frozen=True)
class Pair:
    """One rate measured at one power."""

    set: str
    home: str
    box: str
    device: str
    link: RadioLink
    power_dbm: float
    direction: Direction
    rate_mbps: float
    counts: bool = True  # False: printed, but not among what is judged

    def ranged(self, share: ShareSpread) -> tuple[float, float, float]:
        """Low, median and high predicted, no more than the wires carry."""
        arrives_dbm = self.power_dbm - (self.link.up_lag_db if self.direction == "up" else 0.0)
        parts = goodput_range(arrives_dbm, POWER_SD_DB, self.link, direction=self.direction, delivered=share)
        low, median, high = (min(float(part), WIRE_MBPS) for part in parts)
        return low, median, high

    def inside(self, share: ShareSpread) -> bool:
        """Whether the range holds what was measured; at the wires it has only to reach them."""
        low, _, high = self.ranged(share)
        return low <= self.rate_mbps <= high or (self.rate_mbps >= CEILING and high >= WIRE_MBPS)


def link_of(band: BandGhz, generation: str, width_mhz: int, streams: int) -> RadioLink:
    made = Generation[generation]
    return RadioLink(
        band, made, width_mhz, streams, guard_us=min(guard_intervals_us()[made]), up_lag_db=UP_LAG_DB
    )


def published() -> list[Pair]:
    found = []
    with (HERE / "published_rates.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            name = "virtual hosts, near" if row["host"] == "virtual" else row["set"]
            link = link_of(row["band"], row["generation"], int(row["width_mhz"]), int(row["streams"]))  # type: ignore[arg-type]
            device = f"{row['device']} {row['generation']}"
            power = float(row["power_dbm"])
            counts = row["power_how"] != "scale unknown"
            ways: tuple[Direction, ...] = ("down", "up")
            for way in ways:
                if row[f"{way}_mbps"]:
                    rate = float(row[f"{way}_mbps"])
                    found.append(Pair(name, row["home"], row["box"], device, link, power, way, rate, counts))
    return found


def many_places() -> list[Pair]:
    if not MANY_PLACES.exists():
        return []
    with MANY_PLACES.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    link = link_of("5", "HE", 80, 2)
    ways: tuple[Direction, ...] = ("down", "up")
    return [
        Pair(
            "many places", "home G", row["router"], row["device"], link, float(row["power_dbm"]), way,
            float(row[f"{way}_mbps"]),
        )
        for way in ways
        for row in rows
    ]  # fmt: skip


def known_after(read: Sequence[Pair]) -> tuple[Doubts, Correction]:
    """What readings say of the shares of their boxes and devices, the powers known but for their spread."""
    doubts = doubts_of((), [], [], (), [one.box for one in read], [(one.device, one.device) for one in read])
    rows, off, noise = [], [], []
    for one in read:
        low, median, high = (max(part, 0.1) for part in one.ranged(WHOLE))
        usual = usual_share(one.link.band)
        field_sd = np.log(high / low) / (2 * 1.6449)
        rows.append(doubts.share_row(one.box, one.device, one.device))
        off.append(np.log(one.rate_mbps / median) - usual.ln_mean)
        noise.append(usual.own_sd**2 + field_sd**2 + calibration_number("rate_reading_sd") ** 2)
    return doubts, correct(
        doubts.names, doubts.prior_variance(), np.array(rows), np.array(off), np.array(noise)
    )


def share_after(one: Pair, doubts: Doubts, known: Correction) -> ShareSpread:
    nowhere = np.zeros(1, dtype=np.float32)
    box = Radiator(one.box, one.box, "", (0.0, 0.0, 0.0))
    return delivered_of(doubts, known, Air(box, one.link.band, one.link, nowhere, nowhere, one.device))


def after_three(pairs: Sequence[Pair], random: np.random.Generator) -> tuple[float, float] | None:
    """Share held and width of the range at the other readings of homes after three of their own."""
    held, wide = [], []
    for home in sorted({one.home for one in pairs}):
        own = [one for one in pairs if one.home == home]
        if len(own) < FEWEST:
            continue
        for _ in range(DRAWS):
            order = random.permutation(len(own))
            doubts, known = known_after([own[i] for i in order[:3]])
            for i in order[3:]:
                share = share_after(own[i], doubts, known)
                held.append(own[i].inside(share))
                wide.append(width(own[i], share))
    return (float(np.mean(held)), float(np.mean(wide))) if held else None


def width(one: Pair, share: ShareSpread) -> float:
    """Logarithm of high over low."""
    low, _, high = one.ranged(share)
    return float(np.log(high / max(low, 0.1)))


def report(name: str, pairs: Sequence[Pair], random: np.random.Generator) -> None:
    shares = [usual_share(one.link.band) for one in pairs]
    ratio = np.array([one.rate_mbps / one.ranged(share)[1] for one, share in zip(pairs, shares, strict=True)])
    whole = np.array([one.rate_mbps / one.ranged(WHOLE)[1] for one in pairs])
    before = [one.inside(WHOLE) for one in pairs]
    held = [one.inside(share) for one, share in zip(pairs, shares, strict=True)]
    wide = float(np.mean([width(one, share) for one, share in zip(pairs, shares, strict=True)]))
    homes = len({one.home for one in pairs})
    chance = binomtest(int(np.sum(held)), len(held), HELD).pvalue
    three = after_three(pairs, random)
    then = "-" if three is None else f"{three[0] * 100:.0f} % / {three[1]:.2f}"
    verdict = (
        "nothing claimed"
        if homes < LEAST_HOMES
        else f"p {chance:.3f}: {'holds' if chance >= 0.01 else 'MISSED'}"
    )
    print(
        f"| {name} | {len(pairs)} | {homes} | {np.median(whole):.2f} | {np.median(ratio):.2f} "
        f"| {np.mean(before) * 100:.0f} % | {np.mean(held) * 100:.0f} % / {wide:.2f} | {then} | {verdict} |"
    )


def main() -> None:
    pairs = published() + many_places()
    random = np.random.default_rng(24)
    print(f"| {HEAD} |")
    print("|" + "---|" * (HEAD.count("|") + 1))
    groups: dict[str, list[Pair]] = defaultdict(list)
    for one in pairs:
        groups[f"{one.set}, {one.direction}"].append(one)
    for name, group in groups.items():
        report(name, group, random)
    counted = [one for one in pairs if one.counts]
    report("all", counted, random)
    own = [one for one in counted if not one.set.startswith("virtual")]
    report("all on hosts of their own", own, random)
    report("of these down", [one for one in own if one.direction == "down"], random)
    report("of these up", [one for one in own if one.direction == "up"], random)
    report("published alone", [one for one in own if one.set != "many places"], random)
    report("5 GHz", [one for one in own if one.link.band == "5"], random)
    report("2.4 GHz", [one for one in own if one.link.band == "2.4"], random)
    if not MANY_PLACES.exists():
        print("the home of many places is not here: left out")


if __name__ == "__main__":
    main()
