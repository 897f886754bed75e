"""The map while something is dragged: what did not move since the last frame is not computed again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.errors import BadInput
from rehaul.house import Band, House, Job
from rehaul.house.geometry import house_bounds, storey_of
from rehaul.predict.air import DEFAULT_LISTENER, NOTHING_DBM, Air, Listener
from rehaul.predict.best import Best, best_of, chain_at, narrowest_name, up_of
from rehaul.predict.kept import KeptHouse
from rehaul.predict.radiators import Radiator
from rehaul.predict.receivers import HEIGHT_M, OUTSIDE, Receivers
from rehaul.predict.results import Spot
from rehaul.predict.rooms import middling
from rehaul.radio import Grid
from rehaul.wlan import after_hop_mbps
from rehaul.words import say

MOST_FRAME_BYTES = 16_000_000  # of frames
FINEST_STEP_M, COARSEST_STEP_M = 0.1, 2.0
MOST_CELLS = 250_000


class RoomNow(NamedTuple):
    """What a room gets at its middling spot: a 90 % range one way, and what the air alone would carry."""

    room: str
    low_mbps: float
    median_mbps: float
    high_mbps: float
    air_mbps: float


@dataclass(frozen=True, eq=False)
class StoreyNow:
    """One storey as it would be now; every raster is (y, x), NaN outside the house."""

    grid: Grid
    airs: tuple[Air, ...]
    best: Best
    outside: NDArray[np.bool_]  # (1, y, x)
    rooms: tuple[tuple[str, NDArray[np.intp]], ...]  # ids, and which places are theirs (k,), k > 0

    def by_room(self, *, up: bool = False) -> tuple[RoomNow, ...]:
        """What each room of the storey gets, down or up, in the order of the house.

        To 0.1 Mb/s, at the same spot and by the same air as the row of the room in a plan.
        """
        best = self.best
        rates = up_of(self.airs, best) if up else best
        found = []
        for room, here in self.rooms:
            spot = middling(best, here)
            parts = (float(part[spot]) for part in (rates.low_mbps, rates.median_mbps, rates.high_mbps))
            found.append(RoomNow(room, *(round(part, 1) for part in (*parts, self._air_mbps(spot, up)))))
        return tuple(found)

    def _air_mbps(self, spot: tuple[int, int, int], up: bool) -> float:
        number = int(self.best.air[spot])
        if number < 0:
            return 0.0
        air = self.airs[number].at(np.array([np.ravel_multi_index(spot, self.best.air.shape)]))
        median = (air.up_range_mbps() if up else air.range_mbps())[1]
        return float(after_hop_mbps(median, air.radiator.hop_mbps)[0])

    def air_mbps(self) -> NDArray[np.float32]:
        """What the air alone would carry down from whichever box carries most [Mb/s], (y, x).

        Whatever is paid for and whatever its cable holds: where those set every rate, this shows what is left
        of the air. NaN outside the house, 0 where nothing is heard.
        """
        most = np.zeros(self.grid.shape, dtype=np.float32)
        for air in self.airs:
            np.maximum(most, after_hop_mbps(air.range_mbps()[1], air.radiator.hop_mbps), out=most)
        return self._on_paper(most)

    def rate_mbps(self, which: str = "median", *, up: bool = False) -> NDArray[np.float32]:
        """Rate through the whole chain, down or up [Mb/s], (y, x): `low`, `median` or `high` of a 90 % range.

        NaN outside the house, 0 where nothing is heard. Raises KeyError for another word.
        """
        best = self.best if not up else up_of(self.airs, self.best)
        values = {"low": best.low_mbps, "median": best.median_mbps, "high": best.high_mbps}[which]
        return self._on_paper(values)

    def power_dbm(self, band: Band | None = None) -> NDArray[np.float32]:
        """Strongest median power in a band, or in any [dBm], (y, x).

        NaN outside the house, -200 where no box sends in that band.
        """
        return self._on_paper(self._strongest(band)[0])

    def power_sd_db(self, band: Band | None = None) -> NDArray[np.float32]:
        """Standard deviation of the strongest power in a band, or in any [dB], (y, x).

        That of the air that is strongest by its median; NaN outside the house.
        """
        return self._on_paper(self._strongest(band)[1])

    def _strongest(self, band: Band | None) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
        power = np.full(self.grid.shape, NOTHING_DBM, dtype=np.float32)
        sd = np.zeros_like(power)
        for air in self.airs:
            if band is None or air.band == band:
                stronger = air.power_dbm > power
                power[stronger] = air.power_dbm[stronger]
                sd[stronger] = air.sd_db[stronger]
        return power, sd

    def _on_paper(self, values: NDArray[np.float32]) -> NDArray[np.float32]:
        return np.asarray(np.where(self.outside, np.float32(np.nan), values)[0], dtype=np.float32)


class Moving:
    """Frames and spots of one job, with what was computed for the frames before.

    Not for several threads at once.
    """

    def __init__(self, listener: Listener = DEFAULT_LISTENER) -> None:
        self._listener = listener
        self._kept = KeptHouse(MOST_FRAME_BYTES)

    def frame(
        self,
        job: Job,
        radiators: Sequence[Radiator],
        storey: str,
        step_m: float,
        measured: Job | None = None,
    ) -> StoreyNow:
        """One storey's frame.

        Parameters: `job`, with what is only tried; `radiators`, the boxes that would stand; `step_m`,
        the grid's step [m]; `measured`, the job as it is, in which the readings were taken.
        Raises BadInput for a storey that does not stand, or a step that is too fine for the house.
        """
        _require_storey(job.house, storey)
        _require_step(job.house, step_m)
        receivers = self._kept.receivers(job.house, step_m)
        level = receivers.storeys.index(storey)
        one = Receivers(
            replace(receivers.grid, z_m=(receivers.grid.z_m[level],)),
            (storey,),
            receivers.room[level : level + 1],
        )
        airs = self._airs_at(job, measured or job, radiators, one.grid)
        rooms = _rooms_on(job.house, receivers, level)
        return StoreyNow(one.grid, airs, best_of(airs, one), one.room == OUTSIDE, rooms)

    def spot(
        self,
        job: Job,
        radiators: Sequence[Radiator],
        storey: str,
        position: tuple[float, float],
        measured: Job | None = None,
    ) -> Spot:
        """What one place gets, and through what, at the height where devices are held.

        `position` is x, y on the sheet [m]; job, radiators and `measured` as in `frame`. Where nothing is
        heard the rates are 0 and no links are named. Raises BadInput for a storey that does not stand.
        """
        _require_storey(job.house, storey)
        z_m = storey_of(job.house, storey).elevation_m + HEIGHT_M
        grid = Grid(position[0], position[1], 1.0, 1, 1, (z_m,))
        airs = self._airs_at(job, measured or job, radiators, grid)
        here = (0, 0, 0)
        best = best_of(airs, Receivers(grid, (storey,), np.zeros(grid.shape, dtype=np.int32)))
        up = up_of(airs, best)
        links = chain_at(airs, best, here)
        air = airs[int(best.air[here])] if links else None
        return Spot(
            storey=storey,
            position=position,
            power_dbm=round(float(air.power_dbm[here]), 1) if air else NOTHING_DBM,
            power_sd_db=round(float(air.sd_db[here]), 1) if air else 0.0,
            low_mbps=round(float(best.low_mbps[here]), 1),
            median_mbps=round(float(best.median_mbps[here]), 1),
            high_mbps=round(float(best.high_mbps[here]), 1),
            source=air.radiator.id if air else "",
            band=Band(air.band) if air else Band.GHZ_2_4,
            links=links,
            narrowest=narrowest_name(links),
            up_low_mbps=round(float(up.low_mbps[here]), 1),
            up_median_mbps=round(float(up.median_mbps[here]), 1),
            up_high_mbps=round(float(up.high_mbps[here]), 1),
            narrowest_up=narrowest_name(links, up=True),
        )

    def _airs_at(self, job: Job, measured: Job, radiators: Sequence[Radiator], grid: Grid) -> tuple[Air, ...]:
        """The air of every box at every place, corrected by the readings, as in a plan.

        They were taken in the house as it is; only where the change brings in a construction that
        house does not have are they looked at anew in the changed one.
        """
        scene, was = self._kept.scene(job), self._kept.scene(measured)
        read = measured if scene.scene.kinds == was.scene.kinds else job
        calibration = self._kept.calibration(read, self._kept.scene(read))
        return tuple(
            air
            for radiator in radiators
            for air in self._kept.air(job, scene, radiator, grid, self._listener, calibration)
        )


def _rooms_on(house: House, receivers: Receivers, level: int) -> tuple[tuple[str, NDArray[np.intp]], ...]:
    """The rooms of a storey that have a place of the grid, and which of the storey's places are theirs."""
    before = level * receivers.grid.ny * receivers.grid.nx
    here = (
        (room.id, receivers.of_room(index) - before)
        for index, room in enumerate(house.rooms)
        if room.storey == receivers.storeys[level]
    )
    return tuple((room, places) for room, places in here if len(places))


def _require_storey(house: House, storey: str) -> None:
    if all(row.id != storey for row in house.storeys):
        raise BadInput(
            say("refused_predict.no_storey", storey=storey[:32]),
            where="storey",
            remedy=say("refused_predict.name_storey"),
        )


def _require_step(house: House, step_m: float) -> None:
    """Between the finest step and the coarsest, and not too many cells for this house."""
    bounds = house_bounds(house)
    x0, y0, x1, y1 = bounds if bounds is not None else (0.0, 0.0, 0.0, 0.0)
    finest_m = max(FINEST_STEP_M, math.sqrt((x1 - x0) * (y1 - y0) / MOST_CELLS))
    if not finest_m <= step_m <= COARSEST_STEP_M:
        raise BadInput(
            say("refused_common.a_step", step_m=step_m),
            where="step_m",
            remedy=say("refused_predict.step_between", finest_m=finest_m, coarsest_m=COARSEST_STEP_M),
        )
