"""What each room gets against what it asks: rates both ways, all at once, and delay under load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from rehaul.house import Band, Job, Room
from rehaul.predict.air import NOTHING_DBM, Air
from rehaul.predict.best import Best, BestUp, chain_at, narrowest_name
from rehaul.predict.delay import delays
from rehaul.predict.needs import SERVED_SHARE, Asked, serves_each
from rehaul.predict.receivers import Receivers
from rehaul.predict.results import Delay, LinkRate, RoomRate
from rehaul.predict.together import Hanging, together_mbps

CellIndex = tuple[int, int, int]  # storey, y, x
ServedPct = tuple[float, float, float]  # share of a room's places where it is met down, up, both at once [%]
ALL_SERVED = (100.0, 100.0, 100.0)  # of a room that asks the air for nothing


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
    served = _served_pct(job, over, fresh, by_client)
    for index, (room, need) in looked_at.items():
        if (room, need) not in over.seen:
            here = over.receivers.of_room(index)
            if not len(here):
                continue
            spot = middling(over.best, here)
            own = _room(room, need, spot, over, served.get(room.id, ALL_SERVED))
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


def _served_pct(
    job: Job, over: PredictedField, needs: Sequence[Asked], by_client: dict[str, tuple[Air, ...]]
) -> dict[str, ServedPct]:
    """Share of each room's places where what it asks of the air is met, by room: one pass for all rooms."""
    found: dict[str, ServedPct] = {}
    rooms = [room.id for room in job.house.rooms]
    for client, airs in by_client.items():
        mine = [need for need in needs if need.client == client and need.rated]
        if not airs:
            found |= {need.room: _unheard(need) for need in mine}
            continue
        at = {need.room: over.receivers.of_room(rooms.index(need.room)) for need in mine}
        mine = [need for need in mine if len(at[need.room])]
        both = _met(airs, mine, at)
        short = [need for need in mine if not both[need.room].all()]  # else each way is met as well
        down = both | _met(airs, [replace(need, up_mbps=0.0) for need in short], at)
        up = both | _met(airs, [replace(need, down_mbps=0.0) for need in short], at)
        for room in both:
            found[room] = tuple(float(np.mean(met[room]) * 100) for met in (down, up, both))  # type: ignore[assignment]
    return found


def _met(
    airs: Sequence[Air], needs: Sequence[Asked], at: dict[str, NDArray[np.intp]]
) -> dict[str, NDArray[np.bool_]]:
    """Where each need is met, at the places of its room, by room."""
    if not needs:
        return {}
    sizes = [len(at[need.room]) for need in needs]
    places = np.concatenate([at[need.room] for need in needs])
    met = serves_each([[air.at(places) for air in airs]], needs, np.repeat(np.arange(len(needs)), sizes))[0]
    parts = np.split(met, np.cumsum(sizes)[:-1])
    return {need.room: part for need, part in zip(needs, parts, strict=True)}


def _unheard(need: Asked) -> ServedPct:
    """Where nothing is heard, what asks nothing is met."""
    return 0.0 if need.down_mbps > 0 else 100.0, 0.0 if need.up_mbps > 0 else 100.0, 0.0


def _with(row: RoomRate, share_mbps: float, delay: Delay | None) -> RoomRate:
    """The row with what it gets when all ask at once, and met only where it is not too late either."""
    found = row.model_copy(update={"together_mbps": round(share_mbps, 1), "delay": delay})
    return found.model_copy(update={"met": found.met and not found.too_late})


def middling(best: Best, here: NDArray[np.intp]) -> CellIndex:
    """The place of the middle rate among those of a room.

    Parameters: `here`, (k,), k > 0, which count through all places of `best`. Returns storey, y, x of it; of
    places that get the same the first ones come first. What a room is said to get is what this place gets.
    """
    median = best.median_mbps.ravel()[here]
    middle = here[np.argsort(median, kind="stable")[len(here) // 2]]
    storey, y, x = np.unravel_index(middle, best.median_mbps.shape)
    return int(storey), int(y), int(x)


def _room(
    room: Room, need: Asked | None, spot: CellIndex, over: PredictedField, served: ServedPct
) -> RoomRate:
    airs, best, up = over.airs, over.best, over.up
    served_pct, up_served_pct, both_pct = served
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
