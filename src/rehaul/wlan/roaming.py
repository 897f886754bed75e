"""Where a moving device changes its access point, and where it stays with one it should leave."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.errors import BadInput
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.words import say


@dataclass(frozen=True)
class Walk:
    """What a device does along a path."""

    serving: NDArray[np.int64]  # (step,) access point that serves; -1 with none
    handovers: tuple[int, ...]  # steps at which it changed
    stuck: NDArray[np.bool_]  # (step,) another is stronger by the gain and it does not change
    lost_db: NDArray[np.float64]  # (step,) how much weaker than the strongest the serving one is


def walk(
    power_dbm: ArrayLike,
    *,
    trigger_dbm: float | None = None,
    gain_db: float | None = None,
    floor_dbm: float | None = None,
) -> Walk:
    """Follow a device along a path: it looks for another only once its own is weak, and asks for a gain.

    Parameters
    ----------
    power_dbm : (access point, step) level along the path [dBm]
    trigger_dbm : below this it looks about; the practice value where None
    gain_db : the other must be stronger by this; the practice value where None
    floor_dbm : below this a link is lost and the strongest is joined afresh; carrier sense where None

    Validity: devices differ: the defaults are common practice.
    Source: common practice; see the table of wireless numbers; docs/wlan.md, "Roaming".

    >>> walk([[-50.0, -70.0, -80.0], [-80.0, -65.0, -50.0]]).serving.tolist()
    [0, 0, 1]
    """
    power = _levels(power_dbm, 2)
    trigger = wlan_number("roam_trigger_dbm") if trigger_dbm is None else trigger_dbm
    gain = wlan_number("roam_gain_db") if gain_db is None else gain_db
    floor = wlan_number("carrier_sense_dbm") if floor_dbm is None else floor_dbm
    strongest = power.argmax(axis=0)
    steps = power.shape[1]
    serving = np.full(steps, -1, dtype=np.int64)
    now = -1
    for step in range(steps):
        best = int(strongest[step])
        here = power[now, step] if now >= 0 else -np.inf
        if here < floor:
            now = best if power[best, step] >= floor else -1
        elif here < trigger and power[best, step] >= here + gain:
            now = best
        serving[step] = now
    level = np.where(serving >= 0, power[serving, np.arange(steps)], np.nan)
    lost = np.where(serving >= 0, power.max(axis=0) - level, 0.0)
    changed = np.flatnonzero((serving[1:] != serving[:-1]) & (serving[:-1] >= 0)) + 1
    return Walk(serving, tuple(changed.tolist()), lost >= gain, lost)


def holds(
    power_dbm: ArrayLike, *, trigger_dbm: float | None = None, gain_db: float | None = None
) -> NDArray[np.bool_]:
    """Where a device that comes from each access point would stay with it.

    Parameters
    ----------
    power_dbm : (access point, ...) level over a map [dBm]
    trigger_dbm, gain_db : see `walk`

    Returns
    -------
    same shape: True where a device served by that access point does not change

    Validity: as `walk`.
    Source: as `walk`; docs/wlan.md, "Roaming".
    """
    power = _levels(power_dbm, 1)
    trigger = wlan_number("roam_trigger_dbm") if trigger_dbm is None else trigger_dbm
    gain = wlan_number("roam_gain_db") if gain_db is None else gain_db
    floor = wlan_number("carrier_sense_dbm")
    content = (power >= trigger) | (power.max(axis=0) < power + gain)
    return np.asarray(content & (power >= floor))


def sticks(
    power_dbm: ArrayLike, *, trigger_dbm: float | None = None, gain_db: float | None = None
) -> NDArray[np.bool_]:
    """Where some device may stay with an access point although another is stronger by the gain.

    Parameters
    ----------
    power_dbm, trigger_dbm, gain_db : see `holds`

    Returns
    -------
    (...) one map

    Validity: as `walk`.
    Source: as `walk`; docs/wlan.md, "Roaming".
    """
    power = _levels(power_dbm, 1)
    gain = wlan_number("roam_gain_db") if gain_db is None else gain_db
    stays = holds(power, trigger_dbm=trigger_dbm, gain_db=gain)
    return np.asarray((stays & (power + gain <= power.max(axis=0))).any(axis=0))


def _levels(power_dbm: ArrayLike, least_axes: int) -> NDArray[np.float64]:
    power = np.asarray(power_dbm, dtype=float)
    if power.ndim < least_axes or power.shape[0] == 0:
        raise BadInput(say("refused_wlan.levels_rows"), where="power_dbm")
    return np.where(np.isnan(power), -np.inf, power)
