"""What each twisted-pair Ethernet needs of a line, and how far standards say it reaches."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal, get_args

from rehaul.facts.cables import ChannelClass, PairCableKind, cables
from rehaul.facts.table import FactRow, load

Ethernet = Literal["10BASE-T", "100BASE-TX", "1000BASE-T", "2.5GBASE-T", "5GBASE-T", "10GBASE-T"]
CHANNEL_CLASSES: tuple[ChannelClass, ...] = get_args(ChannelClass)  # each includes those before it
ETHERNETS: tuple[Ethernet, ...] = get_args(Ethernet)


class EthernetRow(FactRow):
    """One physical layer: pairs, symbol rate, level, what is cancelled, and the SNR it needs."""

    table: ClassVar[str] = "ethernet_needs"
    decides: ClassVar[str] = "the margin of a cable for each rate, and so the chance that the link comes up"
    ethernet: Ethernet
    rate_mbps: float
    pairs: int
    symbol_rate_hz: float
    needs_db: float  # SNR at the decision; for 10BASE-T the loss allowed from 5 to 10 MHz
    transmit_dbm: float  # per pair, before shaping
    shaping: float  # the transmitter sends 1 - shaping of a symbol and shaping of the one before
    echo_cancel_db: float
    next_cancel_db: float
    fext_cancel_db: float
    noise_dbm: float  # per hertz at the receiver, from outside the cable
    alien: bool  # crosstalk from other cables comes on top of that noise
    full_duplex_pairs: bool  # both directions on every pair, so that echo matters
    certified_by: ChannelClass  # the least class whose certificate settles this rate


class ReachRow(FactRow):
    """One published reach: this Ethernet on this cable or a better one, point to point, well terminated."""

    table: ClassVar[str] = "ethernet_reach"
    decides: ClassVar[str] = "which rate a cable of a known kind is promised, up to which length"
    ethernet: Ethernet
    kind: PairCableKind
    reach_m: float


@cache
def ethernet_needs() -> dict[Ethernet, EthernetRow]:
    """What each twisted-pair Ethernet needs of a line, slowest first, by name such as "1000BASE-T".

    Levels are per pair, noise per hertz, cancellation in dB. **Source**: the fact table `ethernet_needs`;
    four of its six rows rest on memory of IEEE 802.3 (docs/facts.md).

    >>> ethernet_needs()["1000BASE-T"].symbol_rate_hz
    125000000.0
    """
    return {row.ethernet: row for row in load(EthernetRow)}


@cache
def ethernet_reach() -> dict[tuple[Ethernet, PairCableKind], ReachRow]:
    """Published reaches by (Ethernet, cable kind); a pair that is not there has none.

    A better kind of cable reaches at least as far as the poorest that a row names. **Source**: the fact table
    `ethernet_reach`.
    """
    kinds = list(cables())
    found: dict[tuple[Ethernet, PairCableKind], ReachRow] = {}
    for row in sorted(load(ReachRow), key=lambda row: kinds.index(row.kind)):
        found |= dict.fromkeys(((row.ethernet, kind) for kind in kinds[kinds.index(row.kind) :]), row)
    return found
