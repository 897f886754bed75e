"""Channels and widths for all access points of a house at once, exactly.

The cost of a plan is compared in this order: overlap between our own access points that hear each
other; then, in doublings of the rate, width given up, air lost to neighbours and power the channel
does not allow, with the little overlap of those that hardly hear each other; then fewer radar
channels; then lower numbers. Branch and bound finds the least and proves it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.errors import BadInput
from rehaul.facts.spectrum import BandGhz
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.wlan.channels import BandChannel, lawful_channels
from rehaul.wlan.search import least_cost
from rehaul.wlan.signal import noise_dbm
from rehaul.words import say

UNIT = 1_000_000  # costs are whole millionths, so that equal is equal
OVERLAP_UNIT = UNIT * UNIT  # any overlap outweighs all widths
TOO_WIDE = UNIT * OVERLAP_UNIT // 100  # outweighs even the overlap of all with all
DFS_COST = 100  # in millionths of a doubling
CUSTOMARY_24_GHZ = ((1, 6, 11), (1, 5, 9, 13))


@dataclass(frozen=True)
class Neighbour:
    """A network of somebody else heard in a scan."""

    low_mhz: float
    high_mhz: float
    heard_dbm: tuple[float, ...]  # (access point,) level at each of ours
    busy_pct: float | None = None  # airtime it uses; the practice value where not known


@dataclass(frozen=True)
class Assignment:
    """The channel of each access point, and the proof that none is better."""

    channels: tuple[BandChannel, ...]  # in the order of the access points
    overlap: float  # Σ coupling × overlapping share over our own pairs that hear each other
    doublings_lost: float  # Σ of width, neighbours and power, in halvings of the rate
    overlapping_pairs: tuple[tuple[int, int], ...]
    proved: bool  # the search ended: this is the least possible
    bound_overlap: float  # no plan has less overlap than this
    nodes: int  # partial plans looked at


def coupling(heard_dbm: ArrayLike) -> NDArray[np.float64]:
    """How much two access points on one channel hold each other back, from the level heard.

    1 from carrier sense up; falls in a straight line to 0 at the noise. Symmetric: the stronger
    direction counts. The diagonal is 0.

    Parameters
    ----------
    heard_dbm : (access point, access point) level of each at each other [dBm]

    Validity: 20 MHz noise; a ranking, not a rate.
    Source: carrier sense of IEEE Std 802.11-2020; the ramp is common practice.
    """
    heard = np.array(heard_dbm, dtype=float)
    if heard.ndim != 2 or heard.shape[0] != heard.shape[1] or np.isnan(heard).any():
        raise BadInput(say("refused_wlan.levels_square"), where="heard_dbm")
    sense = wlan_number("carrier_sense_dbm")
    floor = noise_dbm(20, wlan_number("noise_figure_db"))
    weight: NDArray[np.float64] = np.clip((np.maximum(heard, heard.T) - floor) / (sense - floor), 0.0, 1.0)
    np.fill_diagonal(weight, 0.0)
    return weight


def allowed_channels(
    country: str, band: BandGhz, widths_mhz: Sequence[int] = (), *, dfs: bool = True
) -> tuple[BandChannel, ...]:
    """Channels to choose from: the country's, of the widths wanted, without radar channels if so wished.

    At 2.4 GHz 20 MHz alone, on 1, 6, 11, or 1, 5, 9, 13 where 13 is lawful: `assign_channels` takes
    the better of the two sets, never a mixture.

    Validity: as `lawful_channels`.
    Source: as `lawful_channels`; the customary sets are common practice; docs/wlan.md, "Channels".
    """
    every = lawful_channels(country, band, dfs=dfs)
    if band == "2.4":
        numbers = {number for combination in CUSTOMARY_24_GHZ for number in combination}
        return tuple(channel for channel in every if channel.number in numbers)
    return tuple(channel for channel in every if not widths_mhz or channel.width_mhz in widths_mhz)


def assign_channels(
    heard_dbm: ArrayLike,
    allowed: Sequence[BandChannel],
    *,
    neighbours: Sequence[Neighbour] = (),
    power_dbm: ArrayLike | None = None,
    widest_mhz: ArrayLike | None = None,
    node_limit: int = 30_000,
) -> Assignment:
    """The best channel and width for each access point of one band.

    Parameters
    ----------
    heard_dbm : (access point, access point) level of each at each other [dBm]
    allowed : channels to choose from (`allowed_channels`)
    neighbours : networks heard in a scan
    power_dbm : (access point,) or one for all: EIRP they can give; a channel that allows less costs.
        None: no matter
    widest_mhz : (access point,) or one for all: the widest channel each can use; None: any
    node_limit : partial plans to look at before giving up the proof

    Returns
    -------
    the plan; `proved` says whether the search ended

    Raises
    ------
    BadInput where there is no channel to choose or the tables do not fit.

    Validity: one band at a time; access points hear each other alike on all its channels.
    Source: exact search; the order of the costs is in the module's first lines; docs/wlan.md, "Channels".

    >>> heard_dbm = np.full((3, 3), -60.0)
    >>> plan = assign_channels(heard_dbm, allowed_channels("US", "2.4"))
    >>> sorted(channel.number for channel in plan.channels), plan.proved
    ([1, 6, 11], True)
    """
    weight = coupling(heard_dbm)
    count = len(weight)
    if not allowed:
        raise BadInput(
            say("refused_wlan.no_channel_left"), where="allowed", remedy=say("refused_wlan.allow_channels")
        )
    if any(len(other.heard_dbm) != count for other in neighbours):
        raise BadInput(say("refused_wlan.neighbour_levels"), where="neighbours")
    power = np.broadcast_to(-np.inf if power_dbm is None else np.asarray(power_dbm, dtype=float), count)
    widest = np.broadcast_to(np.inf if widest_mhz is None else np.asarray(widest_mhz, dtype=float), count)
    if count and widest.min() < min(channel.width_mhz for channel in allowed):
        raise BadInput(say("refused_wlan.no_usable_channel"), where="widest_mhz")
    plans = [
        _assign(weight, channels, neighbours, power, widest, node_limit)
        for channels in _combinations(allowed)
    ]
    return min(plans, key=lambda plan: (round(plan.overlap * UNIT), round(plan.doublings_lost * UNIT)))


def _combinations(allowed: Sequence[BandChannel]) -> list[tuple[BandChannel, ...]]:
    """At 2.4 GHz the customary sets that are wholly allowed; elsewhere all at once."""
    ordered = tuple(sorted(set(allowed)))
    if ordered[0].band != "2.4":
        return [ordered]
    numbers = {channel.number for channel in ordered}
    whole = [combination for combination in CUSTOMARY_24_GHZ if set(combination) <= numbers]
    if not whole:
        return [ordered]
    return [tuple(c for c in ordered if c.number in combination) for combination in whole]


def _assign(
    weight: NDArray[np.float64],
    channels: tuple[BandChannel, ...],
    neighbours: Sequence[Neighbour],
    power_dbm: NDArray[np.float64],
    widest_mhz: NDArray[np.float64],
    node_limit: int,
) -> Assignment:
    count = len(weight)
    share = _shares(channels)
    strong = np.where(weight >= 1.0, weight, 0.0)
    pair_cost = np.rint(strong * OVERLAP_UNIT + (weight - strong) * UNIT).astype(np.int64)
    lost = [
        [_doublings_lost(channel, channels, neighbours, ap, power_dbm[ap]) for channel in channels]
        for ap in range(count)
    ]
    alone = np.rint(np.array(lost).reshape(count, len(channels)) * UNIT).astype(np.int64)
    widths = np.array([channel.width_mhz for channel in channels])
    alone[widths[None, :] > widest_mhz[:, None]] = TOO_WIDE
    order = np.array([DFS_COST * channel.dfs for channel in channels])
    choice = least_cost(alone + order, pair_cost, share, node_limit=node_limit)
    chosen = tuple(channels[index] for index in choice.options)
    pairs = tuple(
        (i, j)
        for i in range(count)
        for j in range(i + 1, count)
        if weight[i, j] > 0 and chosen[i].overlap_mhz(chosen[j]) > 0
    )
    overlap = sum(strong[i, j] * _share(chosen[i], chosen[j]) for i, j in pairs)
    given_up = sum(lost[ap][index] for ap, index in enumerate(choice.options))
    given_up += sum((weight - strong)[i, j] * _share(chosen[i], chosen[j]) for i, j in pairs)
    return Assignment(
        channels=chosen,
        overlap=float(overlap),
        doublings_lost=float(given_up),
        overlapping_pairs=pairs,
        proved=choice.proved,
        bound_overlap=float(overlap) if choice.proved else choice.bound / OVERLAP_UNIT,
        nodes=choice.nodes,
    )


@lru_cache(maxsize=64)
def _shares(channels: tuple[BandChannel, ...]) -> NDArray[np.float64]:
    """`_share` of each with each, (channel, channel); those of a country are asked for with every plan."""
    share = np.array([[_share(one, other) for other in channels] for one in channels])
    share.flags.writeable = False
    return share


def _share(one: BandChannel, other: BandChannel) -> float:
    """Part of the narrower channel that both use."""
    return one.overlap_mhz(other) / min(one.width_mhz, other.width_mhz)


def _doublings_lost(
    channel: BandChannel,
    channels: Sequence[BandChannel],
    neighbours: Sequence[Neighbour],
    ap: int,
    power_dbm: float,
) -> float:
    """Width given up, air the neighbours take, and power not allowed, as halvings of the rate."""
    widest = max(other.width_mhz for other in channels)
    lost = math.log2(widest / channel.width_mhz)
    usual, busy, heard = wlan_number("neighbour_busy_pct"), 0.0, 0
    for other in neighbours:
        touches = other.low_mhz < channel.high_mhz and channel.low_mhz < other.high_mhz
        if touches and other.heard_dbm[ap] >= wlan_number("carrier_sense_dbm"):
            busy += (usual if other.busy_pct is None else other.busy_pct) / 100
            heard += 1
    lost -= math.log2(max(1 - busy, 1 / (1 + heard)))
    return lost + max(0.0, power_dbm - channel.power_dbm) / wlan_number("power_halving_db")
