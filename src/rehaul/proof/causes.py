"""What each cause would make every test read: many drawn houses for each, through the physics of the links.

A cause does not fix what is read: plans deliver a little more or less, power is off by some decibels,
channels are more or less busy. So each cause is a set of drawn states, and each state says what every
test would read but for the noise of the reading itself. Readings of one state hang together, which a
table of independent likelihoods would lose.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Reals
from rehaul.facts.causes import Cause, causes, diagnosis_number
from rehaul.facts.delivered import OTHER_NETWORKS, Whose
from rehaul.facts.ethernet import Ethernet, ethernet_needs
from rehaul.wlan import RadioLink, ethernet_tcp_mbps, goodput_mbps, link_rate_mbps, part_sd, usual_share

STATES = 2000  # drawn for each cause
WHOSE: tuple[Whose, ...] = ("box", "device", "device")  # the access point, the slow device, the good one
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
    "room link",
    "device near down",
    "other device down",
    "channel busy",
    "right radio",
    "fed by cable",
    "run delay",
    "device near link",
    "other device link",
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
    near_link: RadioLink  # of a good device beside the access point, on its fastest band
    test_link: RadioLink  # of a good device in the room
    device_link: RadioLink  # of the device that is slow, as its class says
    old_links: tuple[RadioLink, ...]  # what the device may be instead
    slow_band_link: RadioLink | None = None  # the same device on the band it should not be on


@dataclass(frozen=True, eq=False)
class States:
    """Drawn states of one cause, and what each test reads in each.

    Only states in which the cause is felt are kept: a fault that takes nothing from the room is not why
    the room is slow.
    """

    cause: Cause
    reads: dict[Test, Reals]  # (state,)
    share: float  # of what was drawn

    def where(self, keep: NDArray[np.bool_]) -> States:
        """Some of the states, with their share of what was drawn.

        Parameters: `keep` (state,). The share is 0 where there are no states. **Source**: docs/proof.md, "Why
        a room is slow".
        """
        found = {test: values[keep] for test, values in self.reads.items()}
        return States(self.cause, found, self.share * float(np.mean(keep)) if keep.size else 0.0)

    def __len__(self) -> int:
        return len(self.reads["modem down"])


@lru_cache(maxsize=32)
def states_of(case: Case, seed: int = 0) -> tuple[States, ...]:
    """States of every cause, in the order of the fact table; the same seed gives the same states.

    **Validity**: one cause at a time; down traffic of one device. **Source**: rates as `goodput_mbps`,
    `usual_share`, `ethernet_tcp_mbps`; ranges of the fact table.
    """
    return tuple(
        _felt(case, cause, np.random.default_rng([seed, number])) for number, cause in enumerate(causes())
    )


def _felt(case: Case, cause: Cause, rng: np.random.Generator) -> States:
    """States of a cause in which the room gets clearly less, down or up, than without it."""
    sound = _sound(case, rng)
    reads = _answers(case, _with_fault(case, cause, sound, rng))
    states = States(cause, reads, 1.0)
    if cause == "plan":
        return states
    was = _answers(case, sound)
    left = np.minimum(reads["room down"] / was["room down"], reads["room up"] / was["room up"])
    return states.where(left < diagnosis_number("felt"))


@dataclass(frozen=True, eq=False)
class _Drawn:
    """What differs from house to house (STATES,)."""

    arrives: Reals  # share of the plan
    link_mbps: float
    down_share: Reals  # what the link leaves of each direction
    up_share: Reals
    busy_pct: Reals
    hop_mbps: Reals
    run_delay_ms: Reals  # beyond the delay at the modem
    receiver_db: Reals
    near_dbm: Reals
    room_dbm: Reals
    clinging_db: Reals  # how much weaker the wrong radio is heard
    device_share: Reals  # delivered of the ladder's rate to the slow device, in the room
    other_share: Reals  # likewise to another device there
    near_share: Reals  # and to it beside the access point
    device_near_share: Reals  # and to the slow device there
    links: tuple[RadioLink, ...]  # what the device may be
    near_links: tuple[RadioLink, ...]  # and what it uses where it connects anew beside the access point
    right_radio: bool = True
    fed_by_cable: Reals | float = 1.0  # as a look at the access point says


def _sound(case: Case, rng: np.random.Generator) -> _Drawn:
    more = rng.spawn(1)[0]  # leaves the other draws as they are
    whole = np.ones(STATES)
    device, other, near, device_near = _shares(case, rng)
    return _Drawn(
        arrives=rng.normal(1.0, diagnosis_number("plan_sd"), STATES),
        link_mbps=case.link_mbps,
        down_share=whole,
        up_share=whole,
        busy_pct=_between(rng, "quiet_busy", "pct"),
        hop_mbps=np.full(STATES, np.inf),
        run_delay_ms=_evenly_in_logs(more, "cable_delay"),
        receiver_db=rng.normal(0.0, diagnosis_number("receiver_sd"), STATES),
        near_dbm=case.near_dbm + rng.normal(0.0, diagnosis_number("near_sd"), STATES),
        # its spread is itself a guess, as that of a reading
        room_dbm=case.room_dbm + case.room_sd_db * rng.standard_t(diagnosis_number("spread_freedom"), STATES),
        clinging_db=np.zeros(STATES),
        device_share=device,
        other_share=other,
        near_share=near,
        device_near_share=device_near,
        links=(case.device_link,),
        near_links=(case.device_link,),
    )


def _shares(case: Case, rng: np.random.Generator) -> tuple[Reals, Reals, Reals, Reals]:
    """The delivered share of each device at its place (STATES,).

    The box is one and the same for all; each device has its own part, each place and hour too. The air of
    others is drawn by itself.
    """
    band = case.device_link.band
    usual = usual_share(band, frozenset({OTHER_NETWORKS}))
    box, slow, good = (part_sd(band, (whose,)) * rng.standard_normal(STATES) for whose in WHOSE)
    room, near = usual.own_sd * rng.standard_normal((2, STATES))
    sums = (box + slow + room, box + good + room, box + good + near, box + slow + near)
    device, other, beside, device_beside = (np.exp(usual.ln_mean + part) for part in sums)
    return device, other, beside, device_beside


def _with_fault(case: Case, cause: Cause, sound: _Drawn, rng: np.random.Generator) -> _Drawn:
    """The same houses with the fault in them."""
    if cause == "modem":
        return replace(sound, arrives=_between(rng, "modem"))
    if cause in ("pair open", "half duplex"):
        fallen = replace(sound, link_mbps=float(ethernet_needs()[FALLEN_BACK].rate_mbps))
        if cause == "pair open":
            return fallen
        down = rng.random(STATES) < 0.5
        left = _between(rng, "duplex")
        return replace(fallen, down_share=np.where(down, left, 1.0), up_share=np.where(down, 1.0, left))
    if cause == "wireless hop":
        between = usual_share(case.near_link.band, frozenset({OTHER_NETWORKS, "device"}))
        share = np.exp(rng.normal(between.ln_mean, between.sd, STATES))
        hop = goodput_mbps(_between(rng, "hop", "dbm"), case.near_link)
        hidden = rng.random(STATES) < diagnosis_number("hop_hidden")
        carries = hop * share * (1.0 - sound.busy_pct / 100.0)
        delay_ms = sound.run_delay_ms + _evenly_in_logs(rng, "hop_delay")
        looks = np.where(hidden, 1.0, 0.0)
        return replace(sound, hop_mbps=carries, run_delay_ms=delay_ms, fed_by_cable=looks)
    if cause == "old device":
        links = case.old_links or sound.links
        return replace(sound, links=links, near_links=links)
    if cause == "neighbour":
        return replace(sound, busy_pct=_between(rng, "crowded_busy", "pct"))
    if cause == "wrong access point":
        slow = (case.slow_band_link,) if case.slow_band_link is not None else ()
        far = _between(rng, "clinging", "db")
        return replace(sound, clinging_db=far, links=(*sound.links, *slow), right_radio=False)
    if cause == "walls":
        return replace(sound, room_dbm=sound.room_dbm - _between(rng, "walls", "db"))
    return sound


def _answers(case: Case, drawn: _Drawn) -> dict[Test, Reals]:
    """What every test would read but for noise."""
    free = 1.0 - drawn.busy_pct / 100.0
    room_dbm = drawn.room_dbm - drawn.clinging_db
    device = _device_rates(drawn.links, room_dbm + drawn.receiver_db) * drawn.device_share
    device_near = (
        _device_rates(drawn.near_links, drawn.near_dbm + drawn.receiver_db) * drawn.device_near_share
    )
    other = goodput_mbps(drawn.room_dbm + drawn.receiver_db, case.test_link) * drawn.other_share
    near = goodput_mbps(drawn.near_dbm + drawn.receiver_db, case.near_link) * drawn.near_share
    plan_down, plan_up = case.plan_down_mbps * drawn.arrives, case.plan_up_mbps * drawn.arrives
    run = ethernet_tcp_mbps(drawn.link_mbps)
    wire_down = np.minimum(plan_down, run * drawn.down_share)
    wire_up = np.minimum(plan_up, run * drawn.up_share)
    hop = drawn.hop_mbps
    return {
        "modem down": plan_down,
        "modem up": plan_up,
        "run link": np.full(STATES, drawn.link_mbps),
        "run down": np.minimum(wire_down, hop),
        "run up": np.minimum(wire_up, hop),
        "near power": drawn.near_dbm,
        "near down": np.minimum(wire_down, _one_air(near * free, hop)),
        "room power": room_dbm,
        "room down": np.minimum(wire_down, _one_air(device * free, hop)),
        "room up": np.minimum(wire_up, _one_air(device * free, hop)),
        "room link": _device_rates(drawn.links, room_dbm + drawn.receiver_db, link_rate_mbps),
        "device near down": np.minimum(wire_down, _one_air(device_near * free, hop)),
        "other device down": np.minimum(wire_down, _one_air(other * free, hop)),
        "channel busy": drawn.busy_pct,
        "right radio": np.full(STATES, float(drawn.right_radio)),
        "fed by cable": np.full(STATES, drawn.fed_by_cable),
        "run delay": drawn.run_delay_ms,
        "device near link": _device_rates(
            drawn.near_links, drawn.near_dbm + drawn.receiver_db, link_rate_mbps
        ),
        "other device link": np.asarray(
            link_rate_mbps(drawn.room_dbm + drawn.receiver_db, case.test_link), dtype=np.float64
        ),
    }


def _between(rng: np.random.Generator, name: str, unit: str = "") -> Reals:
    """Drawn evenly between the low and the high of the fact table (STATES,)."""
    low, high = (diagnosis_number("_".join(filter(None, (name, end, unit)))) for end in ("low", "high"))
    return rng.uniform(low, high, STATES)


def _evenly_in_logs(rng: np.random.Generator, name: str) -> Reals:
    """Drawn evenly in logarithms between the low and the high of the fact table [ms] (STATES,)."""
    low, high = (diagnosis_number(f"{name}_{end}_ms") for end in ("low", "high"))
    return np.exp(rng.uniform(np.log(low), np.log(high), STATES))


def _device_rates(
    links: tuple[RadioLink, ...],
    power_dbm: Reals,
    rate_mbps: Callable[..., NDArray[np.float32]] = goodput_mbps,
) -> Reals:
    """What the air carries to the device in question [Mb/s], with the air to itself; its links in turn."""
    rates = np.array([rate_mbps(power_dbm, link) for link in links])
    every = np.arange(STATES)
    return np.asarray(rates[every % len(links), every], dtype=np.float64)


def _one_air(air: Reals, hop: Reals) -> Reals:
    """Air and hop on one channel take turns."""
    with np.errstate(divide="ignore"):
        return 1.0 / (1.0 / np.maximum(air, 1e-3) + 1.0 / hop)
