"""Ranges and chances of the rate at a place: R = F · g(P), the delivered share times the ladder.

The logarithm of F is normal and so is the power P in dB; g is the ladder of `goodput_mbps`. Quantiles and
chances over steps of median power and spread are worked out once for a link and a share, and looked up for
maps. Where the share has no spread they are exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import ArrayLike, NDArray

from rehaul.arrays import Floats
from rehaul.errors import OutOfRange
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.normal import below, quantile
from rehaul.wlan.airtime import Transport
from rehaul.wlan.delivered import WHOLE, ShareSpread
from rehaul.wlan.goodput import (
    LOWEST_DBM,
    STEPS_PER_DB,
    Direction,
    goodput_mbps,
    power_needed_dbm,
    rate_ladder,
)
from rehaul.wlan.link import RadioLink
from rehaul.wlan.lookup import look_up, look_up_own
from rehaul.wlan.signal import receiver_sd_db
from rehaul.words import say

Z_90 = 1.6449  # half width of a 90 % interval in standard deviations
LEAST_MEDIAN_DBM = -140.0  # at and below it nothing is carried whatever the spread
MOST_MEDIAN_DBM = -20.0  # beyond it the fastest mode is all but sure
POWER_STEP_DB = 1.0
SD_STEP_DB, SD_STEPS = 1.0, 22  # beyond the last, 21 dB, the last holds
AXES = LEAST_MEDIAN_DBM, 1 / POWER_STEP_DB, 1 / SD_STEP_DB  # of the tables that are looked up
CELL_DB = 0.5  # of the power that is summed over
LEAST_MBPS = 0.1  # slower than that is nothing
RATE_STEPS = 64  # at least; more where the share is known so well that its edge is sharp
MOST_RATE_STEPS = 512
MIXED_TOGETHER = 8
STEPS_PER_SD = 1.5
QUANTILES = (0.05, 0.5, 0.95)


@dataclass(frozen=True)
class Asks:
    """Rates asked of a link at once; the device hears more than the box by the link's lag."""

    down_mbps: float = 0.0
    up_mbps: float = 0.0


def goodput_range(
    power_dbm: ArrayLike,
    sd_db: ArrayLike,
    link: RadioLink,
    *,
    direction: Direction = "down",
    transport: Transport = "tcp",
    receiver_spread: bool = True,
    delivered: ShareSpread = WHOLE,
) -> tuple[Floats, Floats, Floats]:
    """Low, median and high goodput: a 90 % interval.

    Parameters
    ----------
    power_dbm : (any shape) median power [dBm]
    sd_db : (same shape or scalar) standard deviation of the power [dB], 0 or more
    link, direction, transport : see `goodput_mbps`
    receiver_spread : add the spread of real receivers, whose quality is not known
    delivered : share of it that is delivered; all of it where nothing is said

    Validity: power normal in dB, the share log-normal and independent of it, never more than the table
    allows of the link's fastest mode; looked up between steps of 1 dB of power and of spread.
    Source: as `goodput_mbps`, `receiver_sd_db` and `usual_share`; docs/wlan.md, "The delivered share".
    """
    if delivered.sd == 0:
        power, total_db = np.asarray(power_dbm, dtype=np.float32), _total_sd_db(sd_db, receiver_spread)
        share = np.float32(delivered.median)
        reach_db = np.float32(Z_90) * total_db
        low, median, high = (
            share * goodput_mbps(level, link, direction=direction, transport=transport)
            for level in (power - reach_db, power, power + reach_db)
        )
        return low, median, high
    tables = _quantiles(link, direction, transport, delivered)
    low, median, high = _looked_up(tables, power_dbm, sd_db, receiver_spread)
    return low, median, high


def chance_of_asks(
    asks: Asks,
    power_dbm: ArrayLike,
    sd_db: ArrayLike,
    link: RadioLink,
    *,
    transport: Transport = "tcp",
    receiver_spread: bool = True,
    delivered: ShareSpread = WHOLE,
) -> Floats:
    """Chance that a link carries what is asked both ways at once, same shape as the power.

    Parameters
    ----------
    asks : rates down and up; 0 asks nothing
    power_dbm : (any shape) median power at the device [dBm]; the box hears it weaker by the link's lag
    sd_db, link, transport, receiver_spread, delivered : see `goodput_range`

    Validity: as `goodput_range`; one path and one share serve both ways.
    Source: as `goodput_range`; docs/wlan.md, "The delivered share".
    """
    if delivered.sd == 0:
        power, total_db = np.broadcast_arrays(
            np.asarray(power_dbm, dtype=np.float32), _total_sd_db(sd_db, receiver_spread)
        )
        need_dbm = power_for(asks, link, transport=transport, share=delivered.median)
        return _beyond(power, need_dbm, total_db)
    tables = _chances(link, asks, transport, delivered)
    return np.asarray(_looked_up(tables, power_dbm, sd_db, receiver_spread)[0])


def chances_of_asks(
    asks: Sequence[Asks],
    each: NDArray[np.intp],
    power_dbm: ArrayLike,
    sd_db: ArrayLike,
    link: RadioLink,
    *,
    delivered: ShareSpread = WHOLE,
) -> Floats:
    """Chance that a link carries what is asked where each place asks for its own, (k,).

    Parameters
    ----------
    asks : what is asked, of one place or another
    each : (k,) which of them a place asks for
    power_dbm, sd_db : (k,) as `chance_of_asks`, and so are link and delivered

    Validity, Source: as `chance_of_asks`, one look at the tables for all.
    """
    if delivered.sd == 0:
        power, total_db = np.broadcast_arrays(
            np.asarray(power_dbm, dtype=np.float32), _total_sd_db(sd_db, receiver_spread=True)
        )
        found = np.zeros(power.shape, dtype=np.float32)
        for number, ask in enumerate(asks):
            here = each == number
            found[here] = _beyond(power[here], power_for(ask, link, share=delivered.median), total_db[here])
        return found
    tables = _tables(link, tuple(asks), delivered)
    power, sd, _ = _places(power_dbm, sd_db)
    chances = np.empty(len(power), dtype=np.float32)
    which = np.require(each, dtype=np.int64, requirements=("C", "A", "W"))
    _checked(look_up_own(tables, which, power, sd, receiver_sd_db(), AXES, chances))
    return chances


def power_for(asks: Asks, link: RadioLink, *, transport: Transport = "tcp", share: float = 1.0) -> float:
    """Least power at the device at which a link carries what is asked, both ways [dBm]; infinite where never.

    Parameters
    ----------
    asks, link, transport : see `chance_of_asks`
    share : what is delivered of the rate that the radio allows

    Validity, Source: as `power_needed_dbm`; docs/wlan.md, "The delivered share".
    """
    down = power_needed_dbm(asks.down_mbps / share, link, transport=transport)
    up = power_needed_dbm(asks.up_mbps / share, link, direction="up", transport=transport)
    return max(down, up + link.up_lag_db)


@lru_cache(maxsize=512)
def ln_ease(link: RadioLink, asks: Asks, transport: Transport = "tcp") -> Floats:
    """Logarithm of how many times over the ladder carries what is asked, the harder way, by device power.

    Returns
    -------
    (level,) from `LOWEST_DBM` in steps of 1/`STEPS_PER_DB` dB; -inf where nothing is carried or where even
    the fastest mode would have to deliver more than any does

    Validity, Source: as `goodput_mbps`; docs/wlan.md, "The delivered share".
    """
    count = len(rate_ladder(link, "down", transport).table_mbps)
    level_dbm = LOWEST_DBM + np.arange(count) / STEPS_PER_DB
    least = np.full(count, np.inf)
    ways: tuple[tuple[float, Direction, float], ...] = (
        (asks.down_mbps, "down", 0.0),
        (asks.up_mbps, "up", link.up_lag_db),
    )
    with np.errstate(divide="ignore"):
        for rate_mbps, direction, lag_db in ways:
            if rate_mbps <= 0:
                continue
            carried = goodput_mbps(level_dbm - lag_db, link, direction=direction, transport=transport)
            if rate_mbps > _most_mbps(link, direction, transport):
                carried = np.zeros_like(carried)
            least = np.minimum(least, np.log(carried.astype(np.float64)) - np.log(rate_mbps))
    found = least.astype(np.float32)
    found.flags.writeable = False
    return found


def _most_mbps(link: RadioLink, direction: Direction, transport: Transport) -> float:
    """The most that is delivered in the fastest mode."""
    return float(rate_ladder(link, direction, transport).table_mbps[-1]) * wlan_number("delivered_most")


@lru_cache(maxsize=128)
def _quantiles(link: RadioLink, direction: Direction, transport: Transport, delivered: ShareSpread) -> Floats:
    """Low, median and high rate (3, median power, spread)."""
    most_mbps = _most_mbps(link, direction, transport)
    carried = goodput_mbps(_cells_dbm(), link, direction=direction, transport=transport).astype(np.float64)
    span = np.log(most_mbps / LEAST_MBPS)
    steps = min(max(RATE_STEPS, int(STEPS_PER_SD * span / delivered.sd)), MOST_RATE_STEPS)
    ln_rate = np.log(LEAST_MBPS) + span * np.linspace(0.0, 1.0, steps)
    with np.errstate(divide="ignore"):
        ln_carried = np.log(carried) + delivered.ln_mean
    slower = _chances_of(below((ln_rate[:, None] - ln_carried[None, :]) / delivered.sd))
    chance = _mixed(slower)
    found = [_crossing(chance, part, ln_rate) for part in QUANTILES]
    rates = np.array(found).reshape(len(QUANTILES), *_reached().shape[1:])
    rates = np.maximum.accumulate(np.maximum.accumulate(rates, axis=1), axis=0)  # against rounding
    rates[:, 0] = 0.0
    return np.ascontiguousarray(rates, dtype=np.float32)


def _crossing(chance: Floats, level: float, ln_rate: NDArray[np.float64]) -> NDArray[np.float64]:
    """Rate at which chances that rise with it pass a level (k,); 0 before the first, the last beyond.

    `chance` is (rate, k). Between two rates by the normal numbers of their chances, which are nearly straight
    in ln rate.
    """
    passed = np.add.reduce(chance < level, axis=0, dtype=np.int16).astype(np.intp)
    after = np.clip(passed, 1, len(ln_rate) - 1)
    left, right = (
        quantile(np.clip(chance[row, np.arange(len(after))].astype(np.float64), 1e-7, 1 - 1e-7))
        for row in (after - 1, after)
    )
    part = np.clip((quantile(level) - left) / np.maximum(right - left, 1e-12), 0.0, 1.0)
    ln = ln_rate[after - 1] + part * (ln_rate[after] - ln_rate[after - 1])
    return np.asarray(np.where(chance[0] >= level, 0.0, np.exp(ln)), dtype=np.float64)


@lru_cache(maxsize=512)
def _chances(link: RadioLink, asks: Asks, transport: Transport, delivered: ShareSpread) -> Floats:
    """Chance of what is asked (1, median power, spread)."""
    level = np.rint((_cells_dbm() - LOWEST_DBM) * STEPS_PER_DB).astype(np.intp)
    enough = _chances_of(
        below((ln_ease(link, asks, transport)[level].astype(np.float64) + delivered.ln_mean) / delivered.sd)
    )
    found = np.clip(_mixed(enough[None]), 0.0, 1.0).reshape(1, *_reached().shape[1:])  # against rounding
    if max(asks.down_mbps, asks.up_mbps) > 0:
        found[0, 0] = 0.0
    return np.asarray(found, dtype=np.float32)


def _mixed(of_cells: Floats) -> Floats:
    """Chances that hold in each cell of power (n, cell), mixed by where the power may be (n, power x spread).

    By their steps from cell to cell, each with the chance that the power is at least there: most cells step
    by nothing, the more so for few chances at a time that are alike.
    """
    reached = _reached().reshape(len(_cells_dbm()), -1)
    mixed = np.empty((len(of_cells), reached.shape[1]), dtype=np.float32)
    steps = np.diff(of_cells, axis=1, prepend=np.float32(0))
    for first in range(0, len(steps), MIXED_TOGETHER):
        some = steps[first : first + MIXED_TOGETHER]
        moving = np.flatnonzero(some.any(axis=0))
        cells = slice(moving[0], moving[-1] + 1) if len(moving) else slice(0)
        np.matmul(some[:, cells], reached[cells], out=mixed[first : first + MIXED_TOGETHER])
    return mixed


@lru_cache(maxsize=128)
def _tables(link: RadioLink, asks: tuple[Asks, ...], delivered: ShareSpread) -> Floats:
    """Chances of what is asked, one table beside the other (asks, median power, spread)."""
    return np.concatenate([_chances(link, each, "tcp", delivered) for each in asks])


@cache
def _cells_dbm() -> NDArray[np.float64]:
    """Middles of the cells of power that are summed over; the first and the last stand for all beyond."""
    cells = int((MOST_MEDIAN_DBM - LOWEST_DBM) / CELL_DB) + 1
    return np.asarray(LOWEST_DBM + CELL_DB * np.arange(cells), dtype=np.float64)


@cache
def _reached() -> Floats:
    """Chance that the power is in a cell or beyond it (cell, median power, spread)."""
    steps = round((MOST_MEDIAN_DBM - LEAST_MEDIAN_DBM) / POWER_STEP_DB) + 1
    cells, each = len(_cells_dbm()), round(POWER_STEP_DB / CELL_DB)
    first = (LOWEST_DBM - MOST_MEDIAN_DBM) / CELL_DB - 0.5  # lowest edge as seen from the highest median
    apart_db = CELL_DB * (first + np.arange(cells + each * (steps - 1)))
    sd_db = np.maximum(SD_STEP_DB * np.arange(SD_STEPS), 1e-6)
    beyond = below(-apart_db[None, :] / sd_db[:, None])  # (spread, lower edge)
    edges = sliding_window_view(beyond, cells, axis=1)[:, ::each][:, ::-1].copy()  # from the lowest median
    edges[..., 0] = 1.0
    return np.ascontiguousarray(_chances_of(edges.transpose(2, 1, 0)))


def _chances_of(values: NDArray[np.float64]) -> Floats:
    """Chances as short floats; what only a subnormal one can hold, which processors are slow at, is none."""
    found = values.astype(np.float32)
    found[found < np.finfo(np.float32).tiny] = 0.0
    return found


def _looked_up(tables: Floats, power_dbm: ArrayLike, sd_db: ArrayLike, receiver_spread: bool) -> Floats:
    """Between the steps of tables (n, median power, spread): (n, *places)."""
    power, sd, shape = _places(power_dbm, sd_db)
    found = np.empty((len(tables), len(power)), dtype=np.float32)
    more_db = receiver_sd_db() if receiver_spread else 0.0
    _checked(look_up(tables, power, sd, more_db, AXES, found))
    return found.reshape(len(tables), *shape)


def _places(power_dbm: ArrayLike, sd_db: ArrayLike) -> tuple[Floats, Floats, tuple[int, ...]]:
    """Powers and spreads one after the other (k,), as compiled loops take them, and the shape they had."""
    power, sd = np.broadcast_arrays(
        np.asarray(power_dbm, dtype=np.float32), np.asarray(sd_db, dtype=np.float32)
    )
    flat, flat_sd = (np.require(part, requirements=("C", "A", "W")).reshape(-1) for part in (power, sd))
    return flat, flat_sd, power.shape


def _beyond(power: Floats, need_dbm: float, spread: Floats) -> Floats:
    """Chance that a normal power is no less than what is needed."""
    if need_dbm == -np.inf:
        return np.ones_like(power)
    margin = power - np.float32(need_dbm)
    if spread.all():
        chance = below(margin / spread)
    else:
        with np.errstate(divide="ignore", invalid="ignore"):
            chance = np.where(spread > 0, below(margin / spread), margin >= 0)
    return np.asarray(np.nan_to_num(chance, nan=0.0), dtype=np.float32)


def _total_sd_db(sd_db: ArrayLike, receiver_spread: bool) -> Floats:
    sd = np.asarray(sd_db, dtype=np.float32)
    _checked(int(np.count_nonzero(~(sd >= 0))))
    return np.asarray(np.hypot(sd, np.float32(receiver_sd_db() if receiver_spread else 0.0)))


def _checked(wrong: int) -> None:
    """Raise OutOfRange where there are spreads that are none."""
    if wrong:
        raise OutOfRange(
            say("refused_wlan.no_deviation"), where="sd_db", remedy=say("refused_common.give_0_or_more")
        )
