"""Several saturated stations on one channel: backoff and collisions in closed form."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rehaul.errors import OutOfRange
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.wlan.airtime import Mode, exchange_us, frame_us, largest_aggregate
from rehaul.words import say


@dataclass(frozen=True)
class Backoff:
    """The fixed point of n saturated stations."""

    stations: int
    attempt: float  # chance that one station sends in a slot
    collision: float  # chance that what it sends collides

    @property
    def busy(self) -> float:
        """Chance that somebody sends in a slot."""
        return 1 - (1 - self.attempt) ** self.stations

    @property
    def success(self) -> float:
        """Chance that a busy slot holds just one sender."""
        alone = self.stations * self.attempt * (1 - self.attempt) ** (self.stations - 1)
        return alone / self.busy


@cache
def backoff(stations: int) -> Backoff:
    """Solve the fixed point of n saturated stations by halving.

    Parameters
    ----------
    stations : how many contend, 1 or more

    Validity: all hear each other, all always have something to send.
    Source: G. Bianchi, IEEE JSAC 18(3), 2000, equations (7) and (9); window 16, six doublings.

    >>> round(backoff(2).collision, 4)
    0.1046
    """
    if stations < 1:
        raise OutOfRange(
            say("refused_wlan.stations", stations=stations),
            where="stations",
            remedy=say("refused_common.give_1_or_more"),
        )
    low, high = 0.0, 1.0
    for _ in range(60):
        collision = (low + high) / 2
        if 1 - (1 - _attempt(collision)) ** (stations - 1) > collision:
            low = collision
        else:
            high = collision
    return Backoff(stations, _attempt(low), low if stations > 1 else 0.0)


def _attempt(collision: float) -> float:
    """Chance of sending in a slot: 2 / (1 + W + p·W·Σ (2p)^i), the sum form without a pole at p = 1/2."""
    window = wlan_number("cw_min") + 1
    stages = int(wlan_number("backoff_stages"))
    doubling = sum((2 * collision) ** stage for stage in range(stages))
    return 2 / (1 + window + collision * window * doubling)


@cache
def turn_us(modes: tuple[Mode, ...], *, protect: bool = False, asks_again: bool = True) -> float:
    """Mean time from one aggregate of a saturated station to its next, all stations having as many turns.

    Whatever the pace of each: a slow one takes most of the air (the rate anomaly). A station that misses
    the acknowledgement either sends its aggregate again or first asks again for the acknowledgement: a
    short frame with the window of a retry, after which the data follow with a fresh window. Of all attempts
    a fraction p, all but the first of each cycle, are then requests.

    Parameters
    ----------
    modes : (station,) how each sends, UDP
    protect : each aggregate is announced by a request to send and its clearance
    asks_again : a missed acknowledgement is asked for again; without meaning where `protect` is set,
        as then no data are lost

    Returns
    -------
    time [µs]: what something at the head of a station's queue waits for, its own sending included

    Validity: as `backoff`; errors by collision only. Accuracy against ns-3 3.44 is in docs/wlan.md.
    Source: G. Bianchi, IEEE JSAC 18(3), 2000, equation (13), with the request of IEEE Std 802.11-2020
    clause 10.25 as a second kind of frame.

    >>> from rehaul.facts.modulation import Generation
    >>> round(turn_us((Mode(Generation.HE, 4, 80, 2, 0.8),) * 4) / 1000, 1)
    26.6
    """
    point = backoff(len(modes))
    ip_bytes = int(wlan_number("ip_bytes"))
    mpdus = [largest_aggregate(mode, ip_bytes) for mode in modes]
    good_us = [
        exchange_us(mode, frame_us(mode, count, ip_bytes), protect=protect)
        for mode, count in zip(modes, mpdus, strict=True)
    ]
    # a station's chance of sending data, or a request for an acknowledgement, in a slot
    request = point.attempt * point.collision if asks_again and not protect else 0.0
    data = point.attempt - request
    short_us = request_to_send_us() if protect else exchange_us(modes[0], wlan_number("block_ack_request_us"))
    others_silent = (1 - point.attempt) ** (len(modes) - 1)
    idle = others_silent * (1 - point.attempt)
    slot_us = idle * wlan_number("slot_us") + data * others_silent * sum(good_us)
    rest = 1 - idle - len(modes) * data * others_silent  # collisions, and requests that pass
    for place, time_us in enumerate(sorted(good_us)):
        longer = len(modes) - 1 - place  # a collision lasts as long as its longest frame
        longest = data * ((1 - data) ** longer - others_silent)
        slot_us += longest * (short_us if protect else time_us)
        rest -= longest
    slot_us += rest * short_us
    return slot_us / (data * others_silent)


def request_to_send_us() -> float:
    """Air that a lost request to send takes [µs]: wait, request, and the clearance that does not come.

    **Source**: IEEE Std 802.11, by the fact table `wlan_numbers`.
    """
    names = ("aifs_us", "rts_us", "sifs_us", "cts_us")
    return sum(wlan_number(name) for name in names)
