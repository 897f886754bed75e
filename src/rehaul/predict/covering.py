"""Mb/s at every place and in every room, through the whole chain, with the narrowest link named."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from rehaul.house import Band, Job
from rehaul.predict.air import DEFAULT_LISTENER, NOTHING_DBM, Air, Listener
from rehaul.predict.best import best_of, up_of
from rehaul.predict.calibration import Calibration, corrected_air
from rehaul.predict.delay import delay_notes
from rehaul.predict.kept import KeptHouse
from rehaul.predict.learnt_words import learnt_notes
from rehaul.predict.needs import asked
from rehaul.predict.radiators import Radiator
from rehaul.predict.receivers import OUTSIDE, Receivers, receivers_of
from rehaul.predict.results import Coverage, StoreyMap
from rehaul.predict.roaming import roaming_notes
from rehaul.predict.rooms import PredictedField, rooms_of
from rehaul.predict.scene import HouseScene, scene_of
from rehaul.predict.shares import share_notes
from rehaul.predict.size import require_map_memory


def coverage(
    job: Job,
    radiators: Sequence[Radiator],
    *,
    scene: HouseScene | None = None,
    receivers: Receivers | None = None,
    listener: Listener = DEFAULT_LISTENER,
    calibration: Calibration | None = None,
    kept: KeptHouse | None = None,
) -> Coverage:
    """Everything predicted for one set of radiating boxes and one kind of device: maps, rooms, notes.

    `scene` and `receivers` are worked out where they are not given; `calibration` None leaves the readings
    out; `kept` is left the airs, and gives those that it has. Rooms that ask for another device are judged
    by that one. Raises TooMuchMemory before it begins where it would not end, and BadInput for a use or class
    that no table holds. **Source**: docs/design.md, "How a number is made".
    """
    require_map_memory(job, len(radiators))
    scene = scene or scene_of(job.house, job.country)
    receivers = receivers or receivers_of(job.house)
    airs = airs_of(job, scene, radiators, receivers, listener, calibration, kept)

    def predicted() -> tuple[PredictedField, tuple[StoreyMap, ...]]:
        best = best_of(airs, receivers)
        field = PredictedField(receivers, airs, best, up_of(airs, best))
        return field, _maps(job, radiators, field)

    heard = scene, receivers, calibration, tuple(radiators), listener, job.country, job.choices.dfs
    field, maps = kept.step("field", (*heard, job.house.storeys), predicted) if kept else predicted()
    needs = {need.room: need for need in asked(job)}
    by_client = {listener.client: airs}
    for client in sorted({need.client for need in needs.values()} - {listener.client}):
        by_client[client] = airs_of(job, scene, radiators, receivers, Listener(client), calibration, kept)
    rooms = rooms_of(job, field, needs, by_client)
    said = share_notes(airs, calibration.doubts if calibration else None)
    return Coverage(
        sources=tuple(radiator.id for radiator in radiators),
        source_names=tuple(radiator.name for radiator in radiators),
        bands=tuple(Band),
        maps=maps,
        rooms=rooms,
        notes=(*learnt_notes(job), *said, *delay_notes(rooms), *roaming_notes(job, field, rooms)),
    )


def airs_of(
    job: Job,
    scene: HouseScene,
    radiators: Sequence[Radiator],
    receivers: Receivers,
    listener: Listener,
    calibration: Calibration | None = None,
    kept: KeptHouse | None = None,
) -> tuple[Air, ...]:
    """The air of every box in every band over the receivers, corrected by readings where there are any.

    Box by box, each in its bands; a band that box and device do not share has none.
    """
    air_from = kept.air if kept else corrected_air
    return tuple(
        air
        for radiator in radiators
        for air in air_from(job, scene, radiator, receivers.grid, listener, calibration)
    )


def _maps(job: Job, radiators: Sequence[Radiator], field: PredictedField) -> tuple[StoreyMap, ...]:
    receivers, airs, best, up = field.receivers, field.airs, field.best, field.up
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
