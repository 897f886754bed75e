"""The channel for the low-power mesh of sensors and switches (802.15.4), beside our Wi-Fi channels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from rehaul.errors import require_range
from rehaul.facts.wlan_numbers import transmit_mask, wlan_number
from rehaul.wlan.channels import BandChannel

FIRST_CHANNEL, LAST_CHANNEL = 11, 26


@dataclass(frozen=True)
class MeshChannel:
    """One 802.15.4 channel beside the Wi-Fi channels in use."""

    number: int
    centre_mhz: float
    leak_db: float  # strongest Wi-Fi power in its width, against that channel's whole power
    overlaps: tuple[int, ...]  # Wi-Fi channels whose own width it lies in


def mesh_centre_mhz(number: int) -> float:
    """Centre of an 802.15.4 channel at 2.4 GHz: 2405 + 5·(k - 11) [MHz].

    Validity: channels 11 to 26.
    Source: IEEE Std 802.15.4-2020.
    """
    require_range(number, FIRST_CHANNEL, LAST_CHANNEL, name="number", source="IEEE Std 802.15.4")
    first, step = wlan_number("personal_area_first_mhz"), wlan_number("personal_area_step_mhz")
    return first + step * (number - FIRST_CHANNEL)


def rank_mesh_channels(wifi: Sequence[BandChannel]) -> tuple[MeshChannel, ...]:
    """802.15.4 channels beside the Wi-Fi channels in use, quietest first: the first is the one to use.

    Parameters
    ----------
    wifi : channels in use in the house and heard from neighbours; other bands are passed over

    Returns
    -------
    all sixteen; of equals the higher number first, as it lies further from the usual Wi-Fi channels

    Validity: a transmitter that just meets the mask (most do better); equal levels of all Wi-Fi.
    Source: IEEE Std 802.11-2020 transmit spectrum mask; IEEE Std 802.15.4-2020 channel centres.

    >>> [mesh.number for mesh in rank_mesh_channels([BandChannel("2.4", 20, 11, 2462.0)])[:2]]
    [16, 15]
    """
    ours = [channel for channel in wifi if channel.band == "2.4"]
    ranked = [_mesh_channel(number, ours) for number in range(FIRST_CHANNEL, LAST_CHANNEL + 1)]
    return tuple(sorted(ranked, key=lambda mesh: (round(mesh.leak_db, 6), -mesh.number)))


def _mesh_channel(number: int, wifi: Sequence[BandChannel]) -> MeshChannel:
    centre = mesh_centre_mhz(number)
    half = wlan_number("personal_area_width_mhz") / 2
    leaks = [_leak_db(centre - channel.centre_mhz, half) for channel in wifi]
    inside = [c.number for c in wifi if c.low_mhz < centre + half and centre - half < c.high_mhz]
    return MeshChannel(number, centre, max(leaks, default=-np.inf), tuple(sorted(set(inside))))


@lru_cache(maxsize=512)
def _leak_db(offset_mhz: float, half_width_mhz: float) -> float:
    """Part of a 20 MHz channel's power that its mask lets into a band about the offset [dB]."""
    corners = transmit_mask()
    offsets, levels = [c.offset_mhz for c in corners], [c.level_db for c in corners]

    def power(low_mhz: float, high_mhz: float) -> float:
        at = np.linspace(low_mhz, high_mhz, 201)
        density = 10 ** (np.interp(np.abs(at), offsets, levels) / 10)
        return float(np.trapezoid(density, at))

    whole = power(-offsets[-1], offsets[-1])
    return float(10 * np.log10(power(offset_mhz - half_width_mhz, offset_mhz + half_width_mhz) / whole))
