"""Mb/s at every place and in every room, through the whole chain, with the narrowest link named."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rehaul.house import Band, Job, Room
from rehaul.predict.air import (
    DEFAULT_LISTENER,
    NOTHING_DBM,
    Air,
    Listener,
    best_chance,
    through_mbps,
)
from rehaul.predict.calibration import Calibration, corrected_air
from rehaul.predict.needs import SERVED_SHARE, Asked, asked, serves
from rehaul.predict.radiators import Radiator
from rehaul.predict.receivers import OUTSIDE, Receivers, receivers_of
from rehaul.predict.results import Coverage, LinkRate, RoomRate, StoreyMap
from rehaul.predict.scene import HouseScene, scene_of
from rehaul.wlan import after_hop_mbps, narrowest

BAND_LABELS = {"2.4": "2.4 GHz", "5": "5 GHz", "6": "6 GHz"}


@dataclass(frozen=True, eq=False)
class Best:
    """At each place, the box and band that carry most through wire and air."""

    low_mbps: NDArray[np.float32]  # (storey, y, x), 90 % range
    median_mbps: NDArray[np.float32]
    high_mbps: NDArray[np.float32]
    air: NDArray[np.int16]  # index into the airs


@dataclass(frozen=True, eq=False)
class BestUp:
    """At each place, what goes towards the internet by the box and band that are best down."""

    low_mbps: NDArray[np.float32]  # (storey, y, x), 90 % range
    median_mbps: NDArray[np.float32]
    high_mbps: NDArray[np.float32]


def coverage(
    job: Job,
    radiators: Sequence[Radiator],
    *,
    scene: HouseScene | None = None,
    receivers: Receivers | None = None,
    listener: Listener = DEFAULT_LISTENER,
    calibration: Calibration | None = None,
) -> Coverage:
    """Everything predicted for one set of radiating boxes and one kind of device."""
    scene = scene or scene_of(job.house)
    receivers = receivers or receivers_of(job.house)
    airs = airs_of(job, scene, radiators, receivers, listener, calibration)
    best = best_of(airs, receivers)
    up = up_of(airs, best)
    return Coverage(
        sources=tuple(radiator.id for radiator in radiators),
        source_names=tuple(radiator.name for radiator in radiators),
        bands=tuple(Band),
        maps=_maps(job, radiators, receivers, airs, best, up),
        rooms=tuple(_rooms(job, scene, radiators, receivers, airs, best, up, calibration)),
    )


def airs_of(
    job: Job,
    scene: HouseScene,
    radiators: Sequence[Radiator],
    receivers: Receivers,
    listener: Listener,
    calibration: Calibration | None = None,
) -> tuple[Air, ...]:
    """The air of every box in every band over the receivers, corrected by readings where there are any."""
    return tuple(
        air
        for radiator in radiators
        for air in corrected_air(job, scene, radiator, receivers.grid, listener, calibration)
    )


def best_of(airs: Sequence[Air], receivers: Receivers) -> Best:
    """The best air at every place, by its median through the wires; ties go to the first."""
    shape = receivers.grid.shape
    low, median, high = (np.zeros(shape, dtype=np.float32) for _ in range(3))
    index = np.full(shape, -1, dtype=np.int16)
    for number, air in enumerate(airs):
        ranges = [through_mbps(air.radiator, part) for part in air.range_mbps()]
        better = ranges[1] > median
        index[better] = number
        for target, part in zip((low, median, high), ranges, strict=True):
            target[better] = part[better]
    return Best(low, median, high, index)


def up_of(airs: Sequence[Air], best: Best) -> BestUp:
    """What goes up at every place, on the link that the device holds: the best one down."""
    low, median, high = (np.zeros(best.air.shape, dtype=np.float32) for _ in range(3))
    for number, air in enumerate(airs):
        held = best.air == number
        if held.any():
            ranges = air.at(np.flatnonzero(held)).up_range_mbps()
            for target, part in zip((low, median, high), ranges, strict=True):
                target[held] = through_mbps(air.radiator, part, up=True)
    return BestUp(low, median, high)


def chain_at(airs: Sequence[Air], best: Best, place: tuple[int, int, int]) -> tuple[LinkRate, ...]:
    """Every link from the internet to a place (storey, y, x); empty where nothing is heard."""
    number = int(best.air[place])
    if number < 0:
        return ()
    air = airs[number].at(np.array([np.ravel_multi_index(place, best.air.shape)]))
    down, up = (
        after_hop_mbps(part[1], air.radiator.hop_mbps) for part in (air.range_mbps(), air.up_range_mbps())
    )
    link = LinkRate(
        name=f"air {BAND_LABELS[air.band]} from {air.radiator.name}",
        rate_mbps=round(float(down[0]), 1),
        up_mbps=round(float(up[0]), 1),
    )
    return (*air.radiator.wire, link)


def narrowest_name(links: Sequence[LinkRate], *, up: bool = False) -> str:
    """Name of the link that sets the rate down, or up."""
    if not links:
        return "nothing is heard"
    return narrowest([(link.name, link.rate_up_mbps if up else link.rate_mbps) for link in links]).name


def _maps(
    job: Job,
    radiators: Sequence[Radiator],
    receivers: Receivers,
    airs: Sequence[Air],
    best: Best,
    up: BestUp,
) -> tuple[StoreyMap, ...]:
    outside = receivers.room == OUTSIDE
    numbers = {radiator.id: number for number, radiator in enumerate(radiators)}
    bands = list(Band)
    source_of = np.array([numbers[air.radiator.id] for air in airs] + [-1], dtype=np.int16)
    band_of = np.array([bands.index(Band(air.band)) for air in airs] + [-1], dtype=np.int8)
    power, sd = _strongest(airs, receivers, bands)
    storeys = {storey.id: storey for storey in job.house.storeys}
    grid = receivers.grid
    return tuple(
        StoreyMap(
            storey=storeys[name],
            x0_m=grid.x0_m,
            y0_m=grid.y0_m,
            step_m=grid.step_m,
            z_m=grid.z_m[level],
            rate_mbps=_blank(best.median_mbps[level], outside[level]),
            low_mbps=_blank(best.low_mbps[level], outside[level]),
            high_mbps=_blank(best.high_mbps[level], outside[level]),
            power_dbm=power[:, level],
            power_sd_db=sd[:, level],
            source_index=source_of[best.air[level]],
            band_index=band_of[best.air[level]],
            rate_up_mbps=_blank(up.median_mbps[level], outside[level]),
            low_up_mbps=_blank(up.low_mbps[level], outside[level]),
            high_up_mbps=_blank(up.high_mbps[level], outside[level]),
        )
        for level, name in enumerate(receivers.storeys)
    )


def _blank(values: NDArray[np.float32], outside: NDArray[np.bool_]) -> NDArray[np.float32]:
    return np.where(outside, np.float32(np.nan), values)


def _strongest(
    airs: Sequence[Air], receivers: Receivers, bands: Sequence[Band]
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Strongest power of each band and its spread, (band, storey, y, x)."""
    power = np.full((len(bands), *receivers.grid.shape), NOTHING_DBM, dtype=np.float32)
    sd = np.zeros_like(power)
    for air in airs:
        band = bands.index(Band(air.band))
        stronger = air.power_dbm > power[band]
        power[band][stronger] = air.power_dbm[stronger]
        sd[band][stronger] = air.sd_db[stronger]
    return power, sd


def _rooms(
    job: Job,
    scene: HouseScene,
    radiators: Sequence[Radiator],
    receivers: Receivers,
    airs: Sequence[Air],
    best: Best,
    up: BestUp,
    calibration: Calibration | None,
) -> list[RoomRate]:
    needs = {need.room: need for need in asked(job)}
    by_client = {
        need.client: airs for need in needs.values() if airs and need.client == DEFAULT_LISTENER.client
    }
    for client in sorted({need.client for need in needs.values()} - set(by_client)):
        by_client[client] = airs_of(job, scene, radiators, receivers, Listener(client), calibration)
    rows = []
    for index, room in enumerate(job.house.rooms):
        cells = np.argwhere(receivers.room == index)
        if len(cells) and (room.counts or room.id in needs):
            need = needs.get(room.id)
            client_airs = by_client[need.client] if need else airs
            rows.append(_room(room, need, cells, airs, client_airs, best, up))
    return rows


def _room(
    room: Room,
    need: Asked | None,
    cells: NDArray[np.intp],
    airs: Sequence[Air],
    client_airs: Sequence[Air],
    best: Best,
    up: BestUp,
) -> RoomRate:
    places = tuple(cells.T)
    median = best.median_mbps[places]
    middling = cells[np.argsort(median, kind="stable")[len(cells) // 2]]
    spot = (int(middling[0]), int(middling[1]), int(middling[2]))
    served_pct, up_served_pct, both_pct = _served_pct(need, client_airs, places)
    links = chain_at(airs, best, spot)
    air = airs[int(best.air[spot])] if links else None
    return RoomRate(
        room=room.id,
        name=room.name,
        storey=room.storey,
        need_mbps=need.down_mbps if need else 0.0,
        asked=need.probability if need else 0.0,
        served_pct=round(served_pct, 1),
        met=both_pct >= SERVED_SHARE * 100,
        low_mbps=round(float(best.low_mbps[spot]), 1),
        median_mbps=round(float(best.median_mbps[spot]), 1),
        high_mbps=round(float(best.high_mbps[spot]), 1),
        power_dbm=round(float(air.power_dbm[spot]), 1) if air else NOTHING_DBM,
        source=air.radiator.id if air else "",
        source_name=air.radiator.name if air else "",
        band=Band(air.band) if air else Band.GHZ_2_4,
        narrowest=narrowest_name(links),
        links=links,
        up_need_mbps=need.up_mbps if need else 0.0,
        up_served_pct=round(up_served_pct, 1),
        up_met=up_served_pct >= SERVED_SHARE * 100,
        up_low_mbps=round(float(up.low_mbps[spot]), 1),
        up_median_mbps=round(float(up.median_mbps[spot]), 1),
        up_high_mbps=round(float(up.high_mbps[spot]), 1),
        narrowest_up=narrowest_name(links, up=True),
    )


def _served_pct(
    need: Asked | None, airs: Sequence[Air], places: tuple[NDArray[np.intp], ...]
) -> tuple[float, float, float]:
    """Share of a room's places where the need is met down, up, and both ways at once [%]."""
    if need is None or not need.rated:
        return 100.0, 100.0, 100.0
    if not airs:
        return 0.0 if need.down_mbps > 0 else 100.0, 0.0 if need.up_mbps > 0 else 100.0, 0.0
    here = [air.at(np.ravel_multi_index(places, air.power_dbm.shape)) for air in airs]
    down = best_chance(here, need.down_mbps) >= need.probability
    up = best_chance(here, need.up_mbps, up=True) >= need.probability
    down_pct, up_pct, both_pct = (float(np.mean(part) * 100) for part in (down, up, serves(here, need)))
    return down_pct, up_pct, both_pct
