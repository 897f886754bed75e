"""Simulated houses with one planted fault each, drawn apart from the model that diagnoses them.

Faults are drawn from other distributions than the model's, readings are noisier than it thinks, and
some are plainly wrong. A fault counts as planted where it is felt: the room gets less than three
quarters of what the same house would give without it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from rehaul.facts.causes import Cause, causes
from rehaul.proof.causes import Case, Test
from rehaul.wlan import RadioLink, ethernet_tcp_mbps, goodput_mbps, link_between, mode_at, phy_rate_mbps

ACCESS_POINT = "access point HE 2x2"
FELT = 0.75
NOISE = 1.3  # times what the model takes readings to wander
WRONG_READING = 0.02
CROWDED = 0.3  # of the link rate is lost where the channel is never free
BUSY_LINE = 10.0  # times the delay while somebody loads something
PING_MS = 0.4  # by which the difference of two delays wanders
IDLE_MBPS = 24.0  # link rate of a device that sleeps, where it is read wrongly
HOP_HIDDEN = 0.3  # of the hops lie behind a cable
LATER: tuple[Test, ...] = ("room link", "device near down", "fed by cable")  # read with dice of their own
NEWEST: tuple[Test, ...] = ("run delay", "device near link", "other device link")  # likewise
STAYS = 0.3  # of the wrong readings are wrong in the same way when read again
PLANS_MBPS = (50.0, 1000.0)  # any rate between, each doubling as likely as the next


@dataclass(frozen=True)
class House:
    """A case and what every test truly reads there, noise included."""

    cause: Cause
    case: Case
    reads: dict[Test, float]
    again: dict[Test, float]  # the same tests, read once more


@dataclass(frozen=True)
class Truth:
    arrives: float = 1.0
    link: float = 1000.0
    down_share: float = 1.0
    up_share: float = 1.0
    busy: float = 0.08
    hop_mbps: float = np.inf
    near_dbm: float = -45.0
    room_dbm: float = -60.0
    device: RadioLink | None = None
    right_radio: bool = True
    lost_db: float = 0.0
    slow_share: float = 1.0  # delivered of what the radio allows: to the slow device in the room
    good_share: float = 1.0  # to a good device there
    near_share: float = 1.0  # to it beside the access point
    slow_near_share: float = 1.0  # to the slow device there
    hop_seen: bool = False  # no cable leads to the access point
    delay_ms: float = 0.5  # there and back between the modem and the access point's cable


def link(client: str, band: str = "5") -> RadioLink:
    found = link_between(ACCESS_POINT, client, band)  # type: ignore[arg-type]
    assert found is not None
    return found


def part(rng: np.random.Generator) -> float:
    """What a box or a device delivers of what the radio allows: most of it, a bad one a third."""
    return float(rng.triangular(0.35, 1.05, 1.15))


def place(rng: np.random.Generator) -> float:
    """What a place and an hour leave of it."""
    return float(rng.triangular(0.25, 1.0, 1.3))


def one_air(air: float, hop: float) -> float:
    return 0.0 if air <= 0 else 1 / (1 / air + 1 / hop)


def shown(power_dbm: float, of: RadioLink, busy: float) -> float:
    """The link rate a device shows: of the best mode, and less where many send at once."""
    mode = mode_at(power_dbm, of)
    if mode is None:
        return 0.0
    rate = phy_rate_mbps(mode.generation, mode.mcs, mode.width_mhz, mode.streams, mode.guard_us)
    return rate * (1 - CROWDED * busy)


def answers(case: Case, truth: Truth) -> dict[Test, float]:
    """What every test reads without noise."""

    def air(power_dbm: float, of: RadioLink, share: float) -> float:
        return one_air(float(goodput_mbps(power_dbm, of)) * share * (1 - truth.busy), truth.hop_mbps)

    down, up = case.plan_down_mbps * truth.arrives, case.plan_up_mbps * truth.arrives
    run = ethernet_tcp_mbps(truth.link)
    wire_down, wire_up = min(down, run * truth.down_share), min(up, run * truth.up_share)
    of = truth.device or case.device_link
    beside = of if truth.right_radio else case.device_link  # there it connects anew
    device = air(truth.room_dbm - truth.lost_db, of, truth.slow_share)
    return {
        "modem down": down,
        "modem up": up,
        "run link": truth.link,
        "run down": min(wire_down, truth.hop_mbps),
        "run up": min(wire_up, truth.hop_mbps),
        "near power": truth.near_dbm,
        "near down": min(wire_down, air(truth.near_dbm, case.near_link, truth.near_share)),
        "room power": truth.room_dbm - truth.lost_db,
        "room down": min(wire_down, device),
        "room up": min(wire_up, device),
        "room link": shown(truth.room_dbm - truth.lost_db, of, truth.busy),
        "device near down": min(wire_down, air(truth.near_dbm, beside, truth.slow_near_share)),
        "other device down": min(wire_down, air(truth.room_dbm, case.test_link, truth.good_share)),
        "channel busy": truth.busy * 100,
        "right radio": float(truth.right_radio),
        "fed by cable": float(not truth.hop_seen),
        "run delay": truth.delay_ms,
        "device near link": shown(truth.near_dbm, beside, truth.busy),
        "other device link": shown(truth.room_dbm, case.test_link, truth.busy),
    }


def planted(cause: Cause, case: Case, sound: Truth, rng: np.random.Generator) -> Truth:
    """The house with the fault in it."""
    if cause == "modem":
        return replace(sound, arrives=rng.beta(2, 3))
    if cause == "pair open":
        return replace(sound, link=100.0)
    if cause == "half duplex":
        share = float(np.clip(rng.lognormal(np.log(0.12), 0.6), 0.02, 0.5))
        bad = {"down_share": share} if rng.random() < 0.5 else {"up_share": share}
        return replace(sound, link=100.0, **bad)
    if cause == "wireless hop":
        return replace(
            sound,
            hop_mbps=float(goodput_mbps(rng.triangular(-75, -65, -52), link("laptop")))
            * part(rng)
            * place(rng)
            * (1 - sound.busy),
        )
    if cause == "old device":
        return replace(sound, device=case.old_links[int(rng.integers(len(case.old_links)))])
    if cause == "neighbour":
        return replace(sound, busy=rng.triangular(0.35, 0.7, 0.95))
    if cause == "wrong access point":
        slow = case.slow_band_link if rng.random() < 0.5 else None
        return replace(sound, lost_db=rng.triangular(6, 18, 32), device=slow, right_radio=False)
    if cause == "walls":
        return replace(sound, room_dbm=sound.room_dbm - rng.triangular(7, 15, 28))
    return sound


def read(
    reads: dict[Test, float], rng: np.random.Generator, slipped: set[Test] | None = None
) -> dict[Test, float]:
    """The same, as read: noisy, and now and then plainly wrong; `slipped` learns which, for reading again."""
    found: dict[Test, float] = {}
    for test, value in reads.items():
        slip = rng.random() < WRONG_READING
        if slip and slipped is not None:
            slipped.add(test)
        found[test] = read_once(test, value, slip, rng)
    return found


def read_once(test: Test, value: float, slip: bool, rng: np.random.Generator) -> float:
    if test == "run link":
        return 1000.0 if slip else value
    if test == "right radio":
        return 1.0 if slip else value
    if test == "fed by cable":
        return 1.0 - value if slip else value
    if test.endswith("link"):
        return IDLE_MBPS if slip else value * float(np.exp(0.2 * NOISE * rng.normal()))
    if test in ("near power", "room power"):
        return value + 3 * NOISE * rng.normal() - (15 if slip else 0)
    if test == "channel busy":
        return float(np.clip(value + 10 * NOISE * rng.normal(), 0, 100))
    if test == "run delay":
        return max(0.0, value * (BUSY_LINE if slip else 1.0) + PING_MS * NOISE * rng.normal())
    sd = 0.04 if test.startswith(("modem", "run")) else 0.18
    return value * float(np.exp(sd * NOISE * rng.normal())) * (0.4 if slip else 1.0)


def read_again(
    truths: dict[Test, float], first: dict[Test, float], slipped: set[Test], rng: np.random.Generator
) -> dict[Test, float]:
    """Every test once more: what was wrong may be wrong in the same way again."""
    found: dict[Test, float] = {}
    for test in first:
        stays, new = rng.random() < STAYS, rng.random() < WRONG_READING
        slip = stays if test in slipped else new
        found[test] = read_once(test, truths[test], slip, rng)
    return found


def drawn_case(rng: np.random.Generator) -> Case:
    """A house as it is known before anything is read."""
    plan = float(np.exp(rng.uniform(*np.log(PLANS_MBPS))))
    return Case(
        plan_down_mbps=plan,
        plan_up_mbps=plan * float(rng.choice([0.1, 0.2, 0.5, 1.0])),
        link_mbps=1000.0,
        near_dbm=rng.uniform(-48, -38),
        room_dbm=rng.uniform(-72, -48),
        room_sd_db=5.0,
        near_link=link("laptop"),
        test_link=link("laptop"),
        device_link=link(str(rng.choice(["phone", "laptop"]))),
        old_links=(link("old laptop"), link("television"), link("small device", "2.4")),
        slow_band_link=link("phone", "2.4"),
    )


def houses(
    count: int, seed: int, names: tuple[Cause, ...] = tuple(causes()), far: bool = False
) -> Iterator[House]:
    """Houses with every cause in turn; what was added later leaves the dice of the rest as they fell.

    Sound houses (the plan) are those that the plan limits; with `far` those whose room is merely far.
    """
    rng, later, newest = (np.random.default_rng(key) for key in (seed, [seed, 1], [seed, 2]))
    made = 0
    while made < count:
        cause = names[made % len(names)]
        case = drawn_case(rng)
        box, room = part(rng), place(rng)
        sound = Truth(
            slow_share=box * room * (slow := part(rng)),
            good_share=box * room * (good := part(rng)),
            near_share=box * good * (near := place(rng)),
            slow_near_share=box * slow * near,
            arrives=rng.normal(1.0, 0.05),
            busy=rng.triangular(0.0, 0.08, 0.3),
            near_dbm=case.near_dbm + 4 * rng.normal(),
            room_dbm=case.room_dbm + 5 * float(np.clip(rng.standard_t(6), -3, 3)),
        )
        with_fault = planted(cause, case, sound, rng)
        seen = cause == "wireless hop" and later.random() >= HOP_HIDDEN
        delay = float(np.exp(np.log(0.4) + 0.5 * newest.normal()))
        if cause == "wireless hop":
            delay += float(newest.triangular(0.8, 3.0, 12.0))
        with_fault = replace(with_fault, hop_seen=seen, delay_ms=delay)
        was, now = answers(case, sound), answers(case, with_fault)
        worst = min(now[test] / was[test] for test in ("room down", "room up"))  # type: ignore[index]
        limited = was["room down"] >= 0.97 * was["modem down"]
        if (cause == "plan" and limited != far) or (cause != "plan" and worst < FELT):
            made += 1
            slipped: set[Test] = set()
            first = read({t: value for t, value in now.items() if t not in LATER + NEWEST}, rng, slipped)
            more = read({t: now[t] for t in LATER}, later, slipped)
            reads = first | more | read({t: now[t] for t in NEWEST}, newest, slipped)
            yield House(cause, case, reads, read_again(now, reads, slipped, newest))
