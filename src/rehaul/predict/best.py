"""The best box and band at every place, both ways, and the chain that leads there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rehaul.predict.air import Air, through_mbps
from rehaul.predict.receivers import Receivers
from rehaul.predict.results import LinkRate
from rehaul.wlan import after_hop_mbps, narrowest
from rehaul.words import say

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


def best_of(airs: Sequence[Air], receivers: Receivers) -> Best:
    """The best air at every receiver, by its median through the wires; ties go to the first.

    `airs` are of the receivers' grid. Where nothing carries anything rates are 0 and `air` is -1. **Source**:
    docs/decisions.md, "Placement counts each spot as served by its best single box".
    """
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
    """What goes up at every receiver, on the link that the device holds: the best one down.

    `airs` and `best` belong together. 0 where no link is held. **Validity**: a device stays with the box
    that is best down, as most do. **Source**: docs/wlan.md, "The chain".
    """
    low, median, high = (np.zeros(best.air.shape, dtype=np.float32) for _ in range(3))
    for number, air in enumerate(airs):
        held = best.air == number
        if held.any():
            ranges = air.at(np.flatnonzero(held)).up_range_mbps()
            for target, part in zip((low, median, high), ranges, strict=True):
                target[held] = through_mbps(air.radiator, part, up=True)
    return BestUp(low, median, high)


def chain_at(airs: Sequence[Air], best: Best, place: tuple[int, int, int]) -> tuple[LinkRate, ...]:
    """Every link from the internet to a receiver (storey, y, x), the air last; empty where nothing is heard.

    The air's rates are medians to 0.1 Mb/s, after the box's hop. **Source**: docs/wlan.md, "The chain".
    """
    number = int(best.air[place])
    if number < 0:
        return ()
    air = airs[number].at(np.array([np.ravel_multi_index(place, best.air.shape)]))
    down, up = (
        after_hop_mbps(part[1], air.radiator.hop_mbps) for part in (air.range_mbps(), air.up_range_mbps())
    )
    link = LinkRate(
        name=say("predict.air_from", band=BAND_LABELS[air.band], box=air.radiator.name),
        rate_mbps=round(float(down[0]), 1),
        up_mbps=round(float(up[0]), 1),
    )
    return (*air.radiator.wire, link)


def narrowest_name(links: Sequence[LinkRate], *, up: bool = False) -> str:
    """Name of the link that sets the rate down, or up; the first of equals.

    `nothing is heard` for no links.
    """
    if not links:
        return say("predict.nothing_heard")
    return narrowest([(link.name, link.rate_up_mbps if up else link.rate_mbps) for link in links]).name
