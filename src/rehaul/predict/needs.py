"""What each room asks for: Mb/s both ways, and delay under load."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats
from rehaul.errors import BadInput
from rehaul.facts.prediction import prediction_number
from rehaul.facts.wlan_equipment import room_needs
from rehaul.house import Job, Need
from rehaul.predict.air import DEFAULT_CLIENT, Air, air_wanted_mbps
from rehaul.same import hashed_once
from rehaul.wlan import Asks, RadioLink, ShareSpread, chances_of_asks
from rehaul.words import say

# Of a room's area that must be served before the room counts as served.
SERVED_SHARE = prediction_number("served_share")
Wanted: TypeAlias = tuple[tuple[float, float] | None, ...]  # down and up [Mb/s], of each need
TOGETHER = 16  # boxes looked up at once: their arrays stay near


@hashed_once
@dataclass(frozen=True)
class Asked:
    """A need with its rates worked out."""

    room: str  # id
    down_mbps: float
    probability: float
    client: str
    up_mbps: float = 0.0  # towards the internet
    delay_ms: float | None = None  # under load; None: not asked

    @property
    def rated(self) -> bool:
        """Whether it asks the air for anything."""
        return self.down_mbps > 0 or self.up_mbps > 0


def asked(job: Job) -> tuple[Asked, ...]:
    """The needs of a job with their rates worked out [Mb/s], in its order.

    Raises BadInput, which names the need and the known uses, for a use that is not in the fact table
    `room_needs`.
    """
    return tuple(
        Asked(
            need.room,
            need_mbps(need, where),
            need.probability,
            need.client or DEFAULT_CLIENT,
            need_mbps(need, where, up=True),
            need.delay_ms,
        )
        for need, where in ((need, f"needs[{i}] ({need.id}).uses") for i, need in enumerate(job.needs))
    )


def need_mbps(need: Need, where: str = "uses", *, up: bool = False) -> float:
    """The rate a need states, down or where `up` up, else the sum of its uses [Mb/s]; 0 for neither.

    `where` is what the uses are called in the refusal. Raises BadInput for a use that is not in the fact
    table `room_needs`. **Source**: sums of the fact table `room_needs`.
    """
    stated = need.up_mbps if up else need.down_mbps
    if stated is not None:
        return stated
    unknown = [use for use in need.uses if use not in room_needs()]
    if unknown:
        raise BadInput(
            say("refused_predict.no_use", use=unknown[0]),
            where=where,
            remedy=say("refused_common.use_one_of_these", known=list(room_needs())),
        )
    rows = (room_needs()[use] for use in need.uses)
    return sum(row.up_mbps if up else row.down_mbps for row in rows)


def air_asked_mbps(air: Air, need: Asked) -> tuple[float, float] | None:
    """What the air must carry down and up for a need to come through [Mb/s].

    None where wires or hop fall short. A way on which nothing is asked asks nothing of the air. **Source**:
    docs/wlan.md, "The chain".
    """
    down, up = (
        air_wanted_mbps(air.radiator, rate, up=way)
        for rate, way in ((need.down_mbps, False), (need.up_mbps, True))
    )
    return None if np.isinf(down) or np.isinf(up) else (down, up)


def chance_met(air: Air, need: Asked) -> Floats:
    """Chance that one box in one band gives what is asked, both ways at once, (*places,).

    The path is the same both ways, and so is the delivered share: the chance of both is that of the harder
    one at each power. **Source**: docs/wlan.md, "The delivered share": a chance holds both ways at once.
    """
    wanted = air_asked_mbps(air, need)
    return np.zeros_like(air.power_dbm) if wanted is None else air.chance_both(*wanted)


def serves(airs: Sequence[Air], need: Asked) -> NDArray[np.bool_]:
    """Whether one of the airs gives what is asked, both ways and as surely as asked, (*places,).

    A device is on one box in one band: the same one has to carry both ways. **Source**: docs/decisions.md, "A
    room is served when nine tenths of its area are".
    """
    found = [chance_met(air, need) >= need.probability for air in airs]
    return np.asarray(np.logical_or.reduce(found), dtype=np.bool_)


def serves_each(
    sets: Sequence[Sequence[Air]], needs: Sequence[Asked], each: NDArray[np.intp]
) -> NDArray[np.bool_]:
    """Whether one air of a set gives what each place's own need asks, as `serves`, (set, k).

    `sets` are airs at the k places, such as those of a box in all its bands; `each` says which of the needs a
    place asks for (k,). What falls short by wires or hop is asked of no air and is not given. **Source**: as
    `serves`.
    """
    found = np.zeros((len(sets), len(each)), dtype=np.bool_)
    sure = np.array([need.probability for need in needs])[each]
    alike: dict[tuple[RadioLink, ShareSpread, Wanted], list[tuple[int, Air]]] = {}
    through: dict[
        tuple[Hashable, float], Wanted
    ] = {}  # what wires and hop leave: of a few kinds for many boxes
    for number, airs in enumerate(sets):
        for air in airs:
            fed = air.radiator.wire, air.radiator.hop_mbps
            if fed not in through:
                through[fed] = wanted_of(air, needs)
            alike.setdefault((air.link, air.delivered, through[fed]), []).append((number, air))
    for (link, delivered, wanted), group in alike.items():
        asks = [Asks() if rates is None else Asks(*rates) for rates in wanted]
        can = np.array([rates is not None for rates in wanted])[each]
        for first in range(0, len(group), TOGETHER):
            some = group[first : first + TOGETHER]
            power_dbm = np.concatenate([air.power_dbm for _, air in some])
            sd_db = np.concatenate([air.sd_db for _, air in some])
            asking = np.tile(each, len(some))
            chance = chances_of_asks(asks, asking, power_dbm, sd_db, link, delivered=delivered)
            for (number, _), met in zip(some, chance.reshape(len(some), -1) >= sure, strict=True):
                found[number] |= can & met
    return found


def wanted_of(air: Air, needs: Sequence[Asked]) -> Wanted:
    """What the air of a box must carry for each need, as `air_asked_mbps`."""
    return tuple(air_asked_mbps(air, need) for need in needs)
