"""What each cause would make every test read: many drawn houses for each, through the physics of the links.

A cause does not fix what is read: plans deliver a little more or less, power is off by some decibels,
channels are more or less busy. So each cause is a set of drawn states, and each state says what every
test would read but for the noise of the reading itself. Readings of one state hang together, which a
table of independent likelihoods would lose.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from rehaul.facts.causes import Cause, causes, diagnosis_number
from rehaul.facts.ethernet import Ethernet, ethernet_needs
from rehaul.wlan import Link, ethernet_tcp_mbps, goodput_mbps

Array = NDArray[np.float64]

STATES = 2000  # drawn for each cause
FALLEN_BACK: Ethernet = "100BASE-TX"  # what two pairs still carry

Test = Literal[
    "modem down",
    "modem up",
    "run link",
    "run down",
    "run up",
    "near power",
    "near down",
    "room power",
    "room down",
    "room up",
    "other device down",
    "channel busy",
    "right radio",
]


@dataclass(frozen=True)
class Case:
    """What is known of a house before anything is read: its plan and what the air should be like."""

    plan_down_mbps: float
    plan_up_mbps: float
    link_mbps: float  # what the run to the access point should negotiate
    near_dbm: float  # beside the access point, predicted, at the test device
    room_dbm: float  # in the room in question
    room_sd_db: float
    near_link: Link  # of a good device beside the access point, on its fastest band
    test_link: Link  # of a good device in the room
    device_link: Link  # of the device that is slow, as its class says
    old_links: tuple[Link, ...]  # what the device may be instead
    slow_band_link: Link | None = None  # the same device on the band it should not be on


@dataclass(frozen=True, eq=False)
class States:
    """Drawn states of one cause, and what each test reads in each."""

    cause: Cause
    reads: dict[Test, Array]  # (STATES,)


@lru_cache(maxsize=32)
def states_of(case: Case, seed: int = 0) -> tuple[States, ...]:
    """States of every cause, in the order of the fact table; the same seed gives the same states.

    **Validity**: one cause at a time; down traffic of one device. **Source**: rates as `goodput_mbps`,
    `ethernet_tcp_mbps`; ranges of the fact table.
    """
    return tuple(
        States(cause, _reads(case, cause, np.random.default_rng([seed, number])))
        for number, cause in enumerate(causes())
    )


def _reads(case: Case, cause: Cause, rng: np.random.Generator) -> dict[Test, Array]:
    arrives = rng.normal(1.0, diagnosis_number("plan_sd"), STATES)
    if cause == "modem":
        arrives = _between(rng, "modem")
    run_down = run_up = np.full(STATES, ethernet_tcp_mbps(case.link_mbps))
    link = np.full(STATES, case.link_mbps)
    if cause in ("pair open", "half duplex"):
        link = np.full(STATES, ethernet_needs()[FALLEN_BACK].rate_mbps)
        run_down = run_up = np.full(STATES, ethernet_tcp_mbps(float(link[0])))
    if cause == "half duplex":
        bad_way = rng.random(STATES) < 0.5
        run_down = np.where(bad_way, run_down * _between(rng, "duplex"), run_down)
        run_up = np.where(bad_way, run_up, run_up * _between(rng, "duplex"))
    busy_pct = _between(rng, "crowded_busy" if cause == "neighbour" else "quiet_busy", "pct")
    free = 1.0 - busy_pct / 100.0
    receiver_db = rng.normal(0.0, diagnosis_number("receiver_sd"), STATES)
    near_dbm = case.near_dbm + rng.normal(0.0, 3.0, STATES)
    room_dbm = case.room_dbm + rng.normal(0.0, case.room_sd_db, STATES)
    if cause == "walls":
        room_dbm = case.room_dbm - _between(rng, "walls", "db")
    other_dbm = room_dbm
    if cause == "wrong access point":
        room_dbm = room_dbm - _between(rng, "clinging", "db")
    device = _device_rates(case, cause, room_dbm + receiver_db, rng)
    other = goodput_mbps(other_dbm + receiver_db, case.test_link) * free
    near = goodput_mbps(near_dbm + receiver_db, case.near_link) * free
    hop = np.full(STATES, np.inf)
    if cause == "wireless hop":
        hop = goodput_mbps(_between(rng, "hop", "dbm"), case.near_link) * free
    plan_down, plan_up = case.plan_down_mbps * arrives, case.plan_up_mbps * arrives
    wire_down, wire_up = np.minimum(plan_down, run_down), np.minimum(plan_up, run_up)
    return {
        "modem down": plan_down,
        "modem up": plan_up,
        "run link": link,
        "run down": np.minimum(wire_down, hop),
        "run up": np.minimum(wire_up, hop),
        "near power": near_dbm,
        "near down": np.minimum(wire_down, _one_air(near, hop)),
        "room power": room_dbm,
        "room down": np.minimum(wire_down, _one_air(device * free, hop)),
        "room up": np.minimum(wire_up, _one_air(device * free, hop)),
        "other device down": np.minimum(wire_down, _one_air(other, hop)),
        "channel busy": busy_pct,
        "right radio": np.full(STATES, float(cause != "wrong access point")),
    }


def _between(rng: np.random.Generator, name: str, unit: str = "") -> Array:
    """Drawn evenly between the low and the high of the fact table (STATES,)."""
    low, high = (diagnosis_number("_".join(filter(None, (name, end, unit)))) for end in ("low", "high"))
    return rng.uniform(low, high, STATES)


def _device_rates(case: Case, cause: Cause, power_dbm: Array, rng: np.random.Generator) -> Array:
    """What the air carries to the device in question [Mb/s], with the air to itself."""
    links: tuple[Link, ...] = (case.device_link,)
    if cause == "old device":
        links = case.old_links or links
    if cause == "wrong access point" and case.slow_band_link is not None:
        links = (case.device_link, case.slow_band_link)
    which = rng.integers(len(links), size=STATES)
    rates = np.array([goodput_mbps(power_dbm, link) for link in links])
    return np.asarray(rates[which, np.arange(STATES)], dtype=np.float64)


def _one_air(air: Array, hop: Array) -> Array:
    """Air and hop on one channel take turns."""
    with np.errstate(divide="ignore"):
        return 1.0 / (1.0 / np.maximum(air, 1e-3) + 1.0 / hop)
