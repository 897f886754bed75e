"""Networks of neighbours heard in a scan: where they send, and what of the air they leave."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

import numpy as np

from rehaul.facts.spectrum import BandGhz, channel_grid
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.house import Heard, Job
from rehaul.predict.radiators import Radiator
from rehaul.wlan import air_share, lawful_channels

LowHigh = tuple[float, float]  # lower and upper edge [MHz]


def span_mhz(band: BandGhz, primary: int, width_mhz: int) -> LowHigh | None:
    """Edges of the channel of that width which holds a primary channel, as a scan shows it [MHz].

    None for a number that the band does not have. Where no channel of the grid holds it, as for 40 MHz at
    2.4 GHz, it is put about the primary. **Source**: the fact table `wifi_channels` (IEEE Std 802.11).

    >>> span_mhz("5", 36, 80)
    (5170.0, 5250.0)
    """
    centre = centre_mhz(band, primary)
    if centre is None:
        return None
    for grid in channel_grid():
        if grid.band == band and grid.width_mhz == width_mhz and width_mhz > 20:
            for number in range(grid.first, grid.last + 1, grid.step):
                middle = grid.base_mhz + 5 * number
                if abs(centre - middle) < width_mhz / 2:
                    return middle - width_mhz / 2, middle + width_mhz / 2
    return centre - width_mhz / 2, centre + width_mhz / 2


def centre_mhz(band: BandGhz, primary: int) -> float | None:
    """Centre of a 20 MHz channel of a band [MHz]; None for a number that the band does not have.

    **Source**: the fact table `wifi_channels` (IEEE Std 802.11).

    >>> centre_mhz("2.4", 6), centre_mhz("5", 37)
    (2437.0, None)
    """
    for grid in channel_grid():
        on_grid = grid.first <= primary <= grid.last and (primary - grid.first) % grid.step == 0
        if grid.band == band and grid.width_mhz == 20 and on_grid:
            return grid.base_mhz + 5 * primary
    return None


def left_on(heard: Iterable[Heard], band: BandGhz, own: LowHigh) -> float:
    """Part of the air that the networks heard leave on a stretch of a band, 0 to 1.

    **Validity**: they are as loud at the box as where the scan was made; one that overlaps at all holds
    the whole channel back. **Source**: `air_share`.
    """
    rows = []
    for network in heard:
        span = span_mhz(band, network.channel, network.width_mhz) if network.band == band else None
        if span is not None and span[0] < own[1] and own[0] < span[1]:
            rows.append(network)
    usual_pct = wlan_number("neighbour_busy_pct")
    busy_pct = [usual_pct if row.busy_pct is None else row.busy_pct for row in rows]
    return air_share([row.power_dbm for row in rows], busy_pct)


def air_left(job: Job, radiator: Radiator, band: BandGhz) -> float:
    """Part of the air that neighbours leave a box in a band: on its channel, else as on the band's usual one.

    Its channel is that of the plan, or of a box that stands the one it is set to.

    **Validity**, **Source**: as `left_on`; a box whose channel is not known has the mean over the 20 MHz
    channels that the country allows.
    """
    known = dict(radiator.air_left)
    if band in known:
        return known[band]
    span = _set_span(job, radiator, band)
    if span is not None:
        return left_on(job.heard, band, span)
    return _usual_left(job.heard, job.country, band, dfs=job.choices.dfs)


@lru_cache(maxsize=64)  # a map asks for each box, and for each room on it
def _usual_left(heard: tuple[Heard, ...], country: str, band: BandGhz, *, dfs: bool) -> float:
    channels = lawful_channels(country, band, 20, dfs=dfs)
    shares = [left_on(heard, band, (channel.low_mhz, channel.high_mhz)) for channel in channels]
    return float(np.mean(shares)) if shares else 1.0


def _set_span(job: Job, radiator: Radiator, band: BandGhz) -> LowHigh | None:
    """Edges of the channel that a box that stands is set to [MHz]; None where that is not read."""
    rows = (row for box in job.boxes if box.id == radiator.id for row in box.set_to)
    row = next((row for row in rows if row.band.value == band and row.channel is not None), None)
    if row is None or row.channel is None:
        return None
    return span_mhz(band, row.channel, dict(radiator.widths_mhz).get(band, 20))
