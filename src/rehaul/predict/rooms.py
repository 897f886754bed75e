"""What each room gets against what it asks: rates both ways, all at once, and delay under load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Bools
from rehaul.house import Band, Job, Room
from rehaul.predict.air import NOTHING_DBM, Air, best_chance
from rehaul.predict.best import Best, BestUp, chain_at, narrowest_name
from rehaul.predict.delay import delays
from rehaul.predict.needs import SERVED_SHARE, Asked, serves_each
from rehaul.predict.receivers import Receivers
from rehaul.predict.results import Delay, LinkRate, RoomRate
from rehaul.predict.together import Hanging, together_mbps

CellIndex = tuple[int, int, int]  # storey, y, x


@dataclass(frozen=True, eq=False)
class PredictedField:
    """What is predicted over the receivers, before it is looked at by room."""

    receivers: Receivers
    airs: tuple[Air, ...]
    best: Best
    up: BestUp
    seen: dict[tuple[Room, Asked | None], tuple[RoomRate, Hanging | None]] = field(default_factory=dict)


def rooms_of(
    job: Job, over: PredictedField, needs: dict[str, Asked], by_client: dict[str, tuple[Air, ...]]
) -> tuple[RoomRate, ...]:
    """A row for every room that counts or asks for something, in the order of the house.

    Parameters: `over`, the prediction, which is left what was seen of each room; `by_client`, the airs of the
    devices that needs name, over the same receivers. **Source**:
    docs/decisions.md, "A room is served when nine tenths of its area are"; docs/wlan.md, "Delay under load".
    """
    rows: list[RoomRate] = []
    hanging: list[Hanging] = []
    looked_at = {
        index: (room, needs.get(room.id))
        for index, room in enumerate(job.house.rooms)
        if room.counts or room.id in needs
    }
    fresh = [need for room, need in looked_at.values() if need and (room, need) not in over.seen]
    surely = _served_both(job, over, fresh, by_client)
    for index, (room, need) in looked_at.items():
        if (room, need) not in over.seen:
            cells = np.argwhere(over.receivers.room == index)
            if not len(cells):
                continue
            client_airs = by_client[need.client] if need else over.airs
            spot = _middling(over.best, cells)
            own = _room(room, need, cells, spot, over, client_airs, surely.get(room.id))
            over.seen[room, need] = own, _hanging(over, room, need, spot, own.links)
        row, hangs = over.seen[room, need]
        rows.append(row)
        hanging += [hangs] if hangs else []
    shares, late = together_mbps(job, hanging), delays(job, hanging)
    return tuple(_with(row, shares.get(row.room, 0.0), late.get(row.room)) for row in rows)


def _hanging(
    over: PredictedField, room: Room, need: Asked | None, spot: CellIndex, links: tuple[LinkRate, ...]
) -> Hanging | None:
    """The box and band that a spot hangs on; None where nothing is heard there."""
    number = int(over.best.air[spot])
    if number < 0:
        return None
    here = np.array([np.ravel_multi_index(spot, over.best.air.shape)])
    return Hanging(room.id, need, over.airs[number].at(here), links)


def _served_both(
    job: Job, over: PredictedField, needs: Sequence[Asked], by_client: dict[str, tuple[Air, ...]]
) -> dict[str, Bools]:
    """Where each room that asks the air for anything gets it both ways at once, by room: one pass for all."""
    found: dict[str, Bools] = {}
    rooms = [room.id for room in job.house.rooms]
    for client, airs in by_client.items():
        mine = [need for need in needs if need.client == client and need.rated]
        at = [np.flatnonzero(over.receivers.room == rooms.index(need.room)) for need in mine]
        sizes = [len(places) for places in at]
        if airs and sum(sizes):
            here = [air.at(np.concatenate(at)) for air in airs]
            met = serves_each([here], mine, np.repeat(np.arange(len(mine)), sizes))[0]
            parts = np.split(met, np.cumsum(sizes)[:-1])
            found |= {need.room: part for need, part in zip(mine, parts, strict=True)}
    return found


def _with(row: RoomRate, share_mbps: float, delay: Delay | None) -> RoomRate:
    """The row with what it gets when all ask at once, and met only where it is not too late either."""
    found = row.model_copy(update={"together_mbps": round(share_mbps, 1), "delay": delay})
    return found.model_copy(update={"met": found.met and not found.too_late})


def _middling(best: Best, cells: NDArray[np.intp]) -> CellIndex:
    """The place of the middle rate among those of a room."""
    median = best.median_mbps[tuple(cells.T)]
    middle = cells[np.argsort(median, kind="stable")[len(cells) // 2]]
    return int(middle[0]), int(middle[1]), int(middle[2])


def _room(
    room: Room,
    need: Asked | None,
    cells: NDArray[np.intp],
    spot: CellIndex,
    over: PredictedField,
    client_airs: Sequence[Air],
    both: Bools | None,
) -> RoomRate:
    airs, best, up = over.airs, over.best, over.up
    served_pct, up_served_pct, both_pct = _served_pct(need, client_airs, tuple(cells.T), both)
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
        down_met=served_pct >= SERVED_SHARE * 100,
        up_met=up_served_pct >= SERVED_SHARE * 100,
        up_low_mbps=round(float(up.low_mbps[spot]), 1),
        up_median_mbps=round(float(up.median_mbps[spot]), 1),
        up_high_mbps=round(float(up.high_mbps[spot]), 1),
        narrowest_up=narrowest_name(links, up=True),
    )


def _served_pct(
    need: Asked | None, airs: Sequence[Air], places: tuple[NDArray[np.intp], ...], both: Bools | None
) -> tuple[float, float, float]:
    """Share of a room's places where the need is met down, up, and both ways at once [%]."""
    if need is None or not need.rated:
        return 100.0, 100.0, 100.0
    if both is None:
        return 0.0 if need.down_mbps > 0 else 100.0, 0.0 if need.up_mbps > 0 else 100.0, 0.0
    if both.all():  # what comes through both ways comes through each
        return 100.0, 100.0, 100.0
    here = [air.at(np.ravel_multi_index(places, air.power_dbm.shape)) for air in airs]
    down = best_chance(here, need.down_mbps) >= need.probability
    up = best_chance(here, need.up_mbps, up=True) >= need.probability
    down_pct, up_pct, both_pct = (float(np.mean(part) * 100) for part in (down, up, both))
    return down_pct, up_pct, both_pct
