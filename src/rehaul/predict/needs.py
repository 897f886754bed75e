"""What each room asks for, in Mb/s."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.errors import BadInput
from rehaul.facts.prediction import prediction_number
from rehaul.facts.wlan_equipment import room_needs
from rehaul.house import Job, Need
from rehaul.predict.air import DEFAULT_CLIENT

# Of a room's area that must be served before the room counts as served.
SERVED_SHARE = prediction_number("served_share")


@dataclass(frozen=True)
class Asked:
    """A need with its rate worked out."""

    room: str  # id
    down_mbps: float
    probability: float
    client: str


def asked(job: Job) -> tuple[Asked, ...]:
    """The needs of a job, in its order. Raises BadInput for a use that is not in the fact table."""
    return tuple(
        Asked(
            need.room,
            need_mbps(need, f"needs[{index}] ({need.id}).uses"),
            need.probability,
            need.client or DEFAULT_CLIENT,
        )
        for index, need in enumerate(job.needs)
    )


def need_mbps(need: Need, where: str = "uses") -> float:
    """The rate a need states, else the sum of its uses."""
    if need.down_mbps is not None:
        return need.down_mbps
    unknown = [use for use in need.uses if use not in room_needs()]
    if unknown:
        raise BadInput(
            f"there is no use {unknown[0]!r}", where=where, remedy="Use one of: " + ", ".join(room_needs())
        )
    return sum(room_needs()[use].down_mbps for use in need.uses)
