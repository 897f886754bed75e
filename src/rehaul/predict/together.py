"""What is left for each room when all ask at once: shares of the air, of the wires, and of the line."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from rehaul.arrays import Floats
from rehaul.house import Job
from rehaul.predict.air import Air
from rehaul.predict.needs import Asked
from rehaul.predict.neighbours import air_left
from rehaul.predict.radiators import Radiator
from rehaul.predict.results import LinkRate
from rehaul.wlan import Mode, after_hop_mbps, air_of_others, mode_at, shared_mbps


@dataclass(frozen=True, eq=False)
class Hanging:
    """A room's middling spot, and the box and band that it hangs on."""

    room: str  # id
    need: Asked | None
    air: Air  # at the spot alone, (1,)
    links: tuple[LinkRate, ...]  # from the internet to the spot

    @cached_property
    def mode(self) -> Mode | None:
        """How the device sends, at the middle of the spot's range."""
        return mode_at(float(self.air.up_power_dbm[0]), self.air.link, direction="up")

    @cached_property
    def air_mbps(self) -> Floats:
        """What the air alone carries to the spot, the middle of its range (1,)."""
        return self.air.range_mbps()[1]

    @property
    def radiator(self) -> Radiator:
        """The box."""
        return self.air.radiator

    @property
    def down_mbps(self) -> float:
        """What the room asks for."""
        return self.need.down_mbps if self.need else 0.0


def together_mbps(job: Job, hanging: Sequence[Hanging]) -> dict[str, float]:
    """What each room that asks gets down when all ask at once, by room [Mb/s].

    Rooms on one box and band take turns on the air that neighbours leave; all rooms of a box share its
    wires, and all of the house the line. Nobody gets more than it asks for.

    **Validity**: rooms ask at their middling spots; one device a room; boxes do not overhear each other;
    what one link cuts is not given on to others on the links before it, so that the truth is a little
    more. **Source**: `shared_mbps`.
    """
    got = {one.room: one.down_mbps for one in hanging if one.down_mbps > 0}
    asking = [one for one in hanging if one.room in got]
    for group in grouped(asking, lambda one: (one.radiator.id, one.air.band)):
        _share(got, group, *_alone(job, group))
    for group in grouped(asking, lambda one: one.radiator.id):
        own = [link.rate_mbps for link in group[0].radiator.wire[1:]]
        if own:
            _share(got, group, [min(own)] * len(group))
    _share(got, asking, [job.service.down_mbps] * len(asking))
    return got


def _alone(job: Job, group: Sequence[Hanging]) -> tuple[list[float], float]:
    """What each would get with the air to itself, and the part of the air that neighbours leave.

    Where a scan counted the neighbours, what the delivered share usually takes off for them is given back.
    """
    band, left = group[0].air.band, air_left(job, group[0].radiator, group[0].air.band)
    back = 1.0 / air_of_others(band) if any(row.band == band for row in job.heard) else 1.0
    rates = [one.air_mbps * np.float32(back) for one in group]
    return [
        float(after_hop_mbps(rate, one.radiator.hop_mbps)[0]) for rate, one in zip(rates, group, strict=True)
    ], left


def _share(
    got: dict[str, float], group: Sequence[Hanging], alone_mbps: Sequence[float], left: float = 1.0
) -> None:
    wanted = np.array([got[one.room] for one in group])
    shares = shared_mbps(np.array(alone_mbps), wanted, air_share=left)
    got.update((one.room, float(share)) for one, share in zip(group, shares, strict=True))


def grouped(hanging: Iterable[Hanging], key: Callable[[Hanging], Hashable]) -> Iterable[list[Hanging]]:
    """Rooms that share something, group by group: what `key` gives alike.

    Groups come in the order of their first room, rooms in theirs.
    """
    groups: dict[Hashable, list[Hanging]] = {}
    for one in hanging:
        groups.setdefault(key(one), []).append(one)
    return groups.values()
