"""Rates of whole links, as documents and simulations print them, from what the program computes."""

from __future__ import annotations

from numpy.typing import ArrayLike

from rehaul.arrays import Reals
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.wlan import Asks, Mode, RadioLink, ShareSpread, chance_of_asks, turn_us
from rehaul.wlan.airtime import Transport, air_per_bit_us, largest_aggregate
from rehaul.wlan.chance import WHOLE


def alone_mbps(mode: Mode, transport: Transport = "tcp") -> float:
    """Goodput of one saturated link that has the air to itself, both sides in the same mode [Mb/s]."""
    return 1 / sum(air_per_bit_us(mode, transport))


def contending_each_mbps(
    modes: tuple[Mode, ...], *, protect: bool = False, asks_again: bool = True
) -> tuple[float, ...]:
    """Goodput of each of several saturated stations, UDP, which all have as many turns [Mb/s]."""
    own_turn_us = turn_us(modes, protect=protect, asks_again=asks_again)
    payload_bits = wlan_number("udp_payload_bytes") * 8
    ip_bytes = int(wlan_number("ip_bytes"))
    return tuple(largest_aggregate(mode, ip_bytes) * payload_bits / own_turn_us for mode in modes)


def contending_mbps(mode: Mode, stations: int, *, protect: bool = False, asks_again: bool = True) -> float:
    """Goodput of n saturated stations together, UDP, all in the same mode [Mb/s]."""
    return sum(contending_each_mbps((mode,) * stations, protect=protect, asks_again=asks_again))


def chance_of_rate(
    rate_mbps: float,
    power_dbm: ArrayLike,
    sd_db: ArrayLike,
    link: RadioLink,
    *,
    receiver_spread: bool = True,
    delivered: ShareSpread = WHOLE,
) -> Reals:
    """Chance that a link carries at least this much down, same shape as the power."""
    asks = Asks(down_mbps=rate_mbps)
    return chance_of_asks(asks, power_dbm, sd_db, link, receiver_spread=receiver_spread, delivered=delivered)
