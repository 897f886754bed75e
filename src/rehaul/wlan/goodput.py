"""Received power to Mb/s, over whole maps at once: a link's ladder is worked out once and looked up.

The ladder is the best mode at each level, smoothed by the swing of the power that rate control
follows; it never falls as the power grows, so ranges and probabilities are read off it directly.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.errors import OutOfRange
from rehaul.facts.wlan_numbers import frame_formats
from rehaul.normal import below
from rehaul.wlan.airtime import Mode, Transport, air_per_bit_us
from rehaul.wlan.link import RadioLink, wander_db
from rehaul.wlan.rates import phy_rate_mbps
from rehaul.wlan.signal import thresholds_dbm
from rehaul.words import say

Direction = Literal["down", "up"]
Array = NDArray[np.floating]

LOWEST_DBM, HIGHEST_DBM, STEPS_PER_DB = -110.0, 0.0, 10


@dataclass(frozen=True)
class RateLadder:
    """A link's goodput against received power."""

    power_dbm: Array  # (step,) the least power of each rung
    rung_mbps: Array  # (step,) goodput of the rung, rising
    table_mbps: NDArray[np.float32]  # (level,) smoothed, from LOWEST_DBM in tenths of a dB


@cache
def rate_ladder(link: RadioLink, direction: Direction = "down", transport: Transport = "tcp") -> RateLadder:
    """The rungs of a link and its smoothed table.

    Data go one way and answers the other, each in the best mode its own power allows; what does not
    hear the answer carries nothing. With fewer streams than chains each stream gains
    10·log10(chains/streams) dB.

    Validity: as `thresholds_dbm` and `air_per_bit_us`.
    Source: as `thresholds_dbm` and `air_per_bit_us`; smoothing by the practice value of the swing;
    docs/wlan.md, "Power to modulation step".
    """
    if direction not in ("down", "up"):
        raise OutOfRange(
            say("refused_wlan.no_direction", direction=direction),
            where="direction",
            remedy=say("refused_wlan.use_direction"),
        )
    figures_db = (link.noise_figure_down_db, link.noise_figure_up_db)
    there_db, back_db = figures_db if direction == "down" else figures_db[::-1]
    lag_db = link.up_lag_db if direction == "down" else -link.up_lag_db
    data, answers = [], []
    for mode, chains in link.modes():
        gain_db = 10 * np.log10(chains / mode.streams)
        data_us, answer_us = air_per_bit_us(mode, transport, packets_of(mode))
        levels = (
            thresholds_dbm(mode.width_mhz, link.ladder, figure)[mode.mcs] for figure in (there_db, back_db)
        )
        need_dbm, answer_need_dbm = levels
        data.append((need_dbm - gain_db, data_us))
        answers.append((answer_need_dbm - gain_db + lag_db, answer_us))
    power = np.unique([need for need, _ in data + answers])
    rate = 1 / (_least_us(power, data) + _least_us(power, answers))
    rising = np.flatnonzero(np.diff(rate, prepend=0.0) > 0)
    power, rate = power[rising], rate[rising]
    return RateLadder(power, rate, _smoothed(power, rate, wander_db()))


def goodput_mbps(
    power_dbm: ArrayLike, link: RadioLink, *, direction: Direction = "down", transport: Transport = "tcp"
) -> NDArray[np.float32]:
    """What a link carries at each power when it has the air to itself.

    Parameters
    ----------
    power_dbm : (any shape) power per receive chain at the receiving end [dBm]; NaN and -inf carry nothing
    link : what the two radios can do together
    direction : down (the device receives) or up (the access point receives)
    transport : tcp or udp

    Returns
    -------
    payload rate, same shape [Mb/s]

    Validity: -110 to 0 dBm, beyond which the ends of the table hold; one link, no interference.
    Source: as `rate_ladder`; docs/wlan.md, "Power to modulation step".

    >>> from rehaul.facts.modulation import Generation
    >>> link = RadioLink("5", Generation.HE, 80, 2)
    >>> goodput_mbps([-50.0, -70.0, -85.0], link).round().tolist()
    [914.0, 409.0, 56.0]
    """
    table = rate_ladder(link, direction, transport).table_mbps
    power = np.asarray(power_dbm, dtype=np.float32)
    level = (power - np.float32(LOWEST_DBM)) * np.float32(STEPS_PER_DB) + np.float32(0.5)
    # fmax/fmin pass NaN to the lowest level, where the rate is nil
    index = np.fmin(np.fmax(level, np.float32(0)), np.float32(len(table) - 1)).astype(np.intp)
    return np.asarray(table[index])


def packets_of(mode: Mode) -> int:
    """Packets that radios of the generation put in one frame.

    Validity, Source: the table of frame formats; docs/wlan.md, "Airtime".
    """
    return frame_formats()[mode.generation].packets_per_frame


def mode_at(power_dbm: float, link: RadioLink, *, direction: Direction = "down") -> Mode | None:
    """The mode in which a link carries most at a power; None where it carries nothing.

    Parameters
    ----------
    power_dbm : power per receive chain at the receiving end [dBm]
    link, direction : see `goodput_mbps`

    Validity, Source: as `rate_ladder`, without the swing of the power; docs/wlan.md, "Power to modulation
    step".

    >>> from rehaul.facts.modulation import Generation
    >>> mode_at(-70.0, RadioLink("5", Generation.HE, 80, 2)).mcs
    4
    """
    modes, gain_db, needed_dbm, air_us = _modes_of(link, direction)
    allowed = power_dbm + gain_db >= needed_dbm
    return modes[int(np.argmin(np.where(allowed, air_us, np.inf)))] if allowed.any() else None


@lru_cache(maxsize=256)
def _modes_of(
    link: RadioLink, direction: Direction
) -> tuple[list[Mode], NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """The modes of a link with what receive chains add, the power that each needs and its time for a bit."""
    figure_db = link.noise_figure_down_db if direction == "down" else link.noise_figure_up_db
    modes = [mode for mode, _ in link.modes()]
    gain_db = np.array([10 * np.log10(chains / mode.streams) for mode, chains in link.modes()])
    needed = [thresholds_dbm(mode.width_mhz, link.ladder, figure_db)[mode.mcs] for mode in modes]
    air_us = [air_per_bit_us(mode, "udp", packets_of(mode))[0] for mode in modes]
    return modes, gain_db, np.array(needed), np.array(air_us)


def link_rate_mbps(
    power_dbm: ArrayLike, link: RadioLink, *, direction: Direction = "down"
) -> NDArray[np.float32]:
    """Rate of the physical layer in the mode that carries most at each power, as a device shows it.

    Parameters: as `goodput_mbps`.

    Validity: while data flows; an idle device shows a slow mode. Rate control wanders by a mode or two.
    Source: `mode_at`, `phy_rate_mbps`; docs/wlan.md, "Power to modulation step".

    >>> from rehaul.facts.modulation import Generation
    >>> link_rate_mbps([-50.0, -70.0], RadioLink("5", Generation.HE, 80, 2)).round().tolist()
    [1201.0, 432.0]
    """
    levels, rates = _shown(link, direction)
    return np.asarray(np.interp(np.asarray(power_dbm), levels, rates), dtype=np.float32)


def power_needed_dbm(
    rate_mbps: float, link: RadioLink, *, direction: Direction = "down", transport: Transport = "tcp"
) -> float:
    """Least power at which a link carries `rate_mbps` [dBm]; infinite where it never does.

    Validity: to a tenth of a dB.
    Source: as `goodput_mbps`; docs/wlan.md, "Power to modulation step".
    """
    table = rate_ladder(link, direction, transport).table_mbps
    if rate_mbps <= 0:
        return -np.inf
    level = int(np.searchsorted(table, rate_mbps, side="left"))
    return np.inf if level == len(table) else LOWEST_DBM + level / STEPS_PER_DB


@cache
def _shown(link: RadioLink, direction: Direction) -> tuple[Array, Array]:
    levels = np.arange(LOWEST_DBM, HIGHEST_DBM)
    modes = [mode_at(float(level), link, direction=direction) for level in levels]
    rates = [
        phy_rate_mbps(m.generation, m.mcs, m.width_mhz, m.streams, m.guard_us) if m else 0.0 for m in modes
    ]
    return levels, np.array(rates)


def _least_us(power: Array, offers: list[tuple[float, float]]) -> Array:
    """Least air per bit among the offers that each power allows; infinite where it allows none."""
    need, air_us = np.array(offers).T
    allowed = power[:, None] >= need[None, :]
    return np.asarray(np.where(allowed, air_us[None, :], np.inf).min(axis=1))


def _smoothed(power: Array, rate: Array, wander: float) -> NDArray[np.float32]:
    """The stairs averaged over a normal swing of the power; nothing at the lowest level."""
    count = int((HIGHEST_DBM - LOWEST_DBM) * STEPS_PER_DB) + 1
    level_dbm = LOWEST_DBM + np.arange(count) / STEPS_PER_DB
    margin = level_dbm[:, None] - power[None, :]
    share = below(margin / wander) if wander > 0 else (margin >= 0).astype(float)
    table: Array = share @ np.diff(rate, prepend=0.0)
    table[level_dbm < power[0] - 3 * wander] = 0.0  # no link at all, rather than a vanishing one
    return table.astype(np.float32)
