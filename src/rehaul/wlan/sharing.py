"""Who gets what of the air: clients with their demands, neighbours on the channel, wireless hops."""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.errors import OutOfRange
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.words import say

Fairness = Literal["turns", "airtime"]


def shared_mbps(
    alone_mbps: ArrayLike,
    demand_mbps: ArrayLike | None = None,
    *,
    fairness: Fairness = "turns",
    air_share: float = 1.0,
) -> NDArray[np.float64]:
    """What each client of one access point gets when all ask at once.

    Turns: everyone sends as much per turn, so one slow client holds all the others to its pace (the
    rate anomaly). Airtime: everyone gets the same time. Either way nobody gets more than asked for,
    and what one leaves is shared among the rest.

    Parameters
    ----------
    alone_mbps : (client,) goodput with the air to itself [Mb/s]; 0 gets nothing and takes nothing
    demand_mbps : (client,) what each asks for [Mb/s]; everything where None
    fairness : turns or airtime
    air_share : part of the air the channel's neighbours leave, 0 to 1

    Returns
    -------
    (client,) goodput [Mb/s]

    Validity: long-run averages; collisions are not counted twice for down traffic of one sender.
    Source: M. Heusse et al., IEEE INFOCOM 2003 (rate anomaly); max-min sharing.

    >>> shared_mbps([640.0, 10.0]).round(1).tolist()
    [9.8, 9.8]
    """
    alone = np.asarray(alone_mbps, dtype=float)
    asked = alone if demand_mbps is None else np.asarray(demand_mbps, dtype=float)
    if np.any(~(alone >= 0)) or np.any(~(asked >= 0)) or not 0 <= air_share <= 1:
        raise OutOfRange(say("refused_wlan.not_negative"), where="shared_mbps")
    cost = np.divide(1.0, alone, out=np.zeros_like(alone), where=alone > 0)  # air per Mb/s
    weight = cost if fairness == "turns" else (alone > 0).astype(float)  # air taken per unit of level
    want = asked * cost
    given: NDArray[np.float64] = np.zeros_like(alone)
    open_, left = alone > 0, air_share
    while open_.any():
        level = left / weight[open_].sum()
        content = open_ & (want <= level * weight * (1 + 1e-12))
        if not content.any():
            given[open_] = level * weight[open_]
            break
        given[content] = want[content]
        left = max(left - want[content].sum(), 0.0)
        open_ &= ~content
    return np.asarray(given * alone)


def air_share(
    heard_dbm: ArrayLike, busy_pct: ArrayLike | None = None, *, hears_dbm: float | None = None
) -> float:
    """Part of the air that networks heard on the same channel leave us, 0 to 1.

    Those at or above the level of carrier sense hold us back for as long as they are busy; when all
    are busy we still get an equal turn.

    Parameters
    ----------
    heard_dbm : (network,) level in the scan [dBm]
    busy_pct : (network,) airtime each uses [%], as its beacon or a scan says; the practice value where None
    hears_dbm : level of carrier sense [dBm]; the standard's where None

    Validity: same primary channel; hidden senders are not modelled.
    Source: IEEE Std 802.11-2020 clear channel assessment; equal turns of saturated senders.

    >>> round(air_share([-60.0, -90.0], [30.0, 50.0]), 2)
    0.7
    """
    heard = np.atleast_1d(np.asarray(heard_dbm, dtype=float))
    usual = wlan_number("neighbour_busy_pct")
    busy = np.broadcast_to(usual if busy_pct is None else np.asarray(busy_pct, dtype=float), heard.shape)
    if np.any(~((busy >= 0) & (busy <= 100))):
        raise OutOfRange(say("refused_wlan.airtime"), where="busy_pct", remedy=say("refused_wlan.give_share"))
    level = wlan_number("carrier_sense_dbm") if hears_dbm is None else hears_dbm
    counted = busy[heard >= level] / 100
    return float(max(1 - counted.sum(), 1 / (1 + np.count_nonzero(counted))))


def after_hop_mbps(air_mbps: ArrayLike, hop_mbps: float) -> NDArray[np.float32]:
    """What a device gets of an access point that is fed by a wireless hop on its own channel.

    Parameters
    ----------
    air_mbps : (any shape) goodput from the access point to the device with the air to itself [Mb/s]
    hop_mbps : goodput of the hop with the air to itself [Mb/s]; 0 where there is no hop

    Returns
    -------
    1/(1/hop + 1/air), same shape [Mb/s]; the air's own without a hop

    Validity: both hear each other, as in a house, and take their turns; a chain of hops by one after the
    other. Against ns-3 at MCS 3: 233.8, 112.1, 74.5 Mb/s for 1, 2, 3 hops.
    Source: airtime conservation; docs/wlan.md, "Airtime".

    >>> after_hop_mbps([300.0, 0.0], 300.0).tolist()
    [150.0, 0.0]
    """
    air = np.asarray(air_mbps, dtype=np.float32)
    if np.any(air < 0) or not hop_mbps >= 0:
        raise OutOfRange(say("refused_wlan.rate_not_negative"), where="hop_mbps")
    if hop_mbps == 0:
        return air
    return np.asarray(air * (np.float32(hop_mbps) / (air + np.float32(hop_mbps))), dtype=np.float32)


def before_hop_mbps(rate_mbps: float, hop_mbps: float) -> float:
    """What the air to the device must carry for a rate to be left beside the hop [Mb/s].

    Parameters, Validity, Source: the reverse of `after_hop_mbps`; infinite where the hop carries no more;
    docs/wlan.md, "Airtime".

    >>> round(before_hop_mbps(150.0, 300.0))
    300
    """
    if hop_mbps <= 0 or rate_mbps <= 0:
        return rate_mbps
    return float("inf") if rate_mbps >= hop_mbps else 1 / (1 / rate_mbps - 1 / hop_mbps)
