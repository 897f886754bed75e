"""What a wireless hop between two boxes carries: the field of one at the place of the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from rehaul.house import Job
from rehaul.network.core import gateway
from rehaul.predict.air import Listener, air_of
from rehaul.predict.radiators import Radiator
from rehaul.predict.scene import HouseScene
from rehaul.wlan import usual_share

SLOWEST_HOP_MBPS = 0.1  # a hop that carries nothing still stands in the chain
HOP_LISTENER = Listener(client="laptop", holding="free")


def hop_rates_mbps(job: Job, scene: HouseScene, parent: Radiator, boxes: Sequence[Radiator]) -> list[float]:
    """Payload that the hop from one box to each of the others carries, on the band that carries most [Mb/s].

    The low end of the 90 % range is what a plan may count on. Of the delivered share the part of a device
    (its driver, its host, its sleep) is left out: a box has none of them.

    **Validity**: no source tells the share between boxes apart. A box is taken to hear as a device with two
    streams does; both ends use one channel, so that what hangs on the far one shares the air with the hop.
    **Source**: docs/wlan.md, "The delivered share": a hop has it without the rows of a device.
    """
    if not boxes:
        return []
    points = np.array([box.position_m for box in boxes], dtype=np.float64)
    airs = air_of(scene, parent, points, job.country, HOP_LISTENER, dfs=job.choices.dfs)
    if not airs:
        return [0.0] * len(boxes)
    between = [replace(air, delivered=usual_share(air.band, frozenset({"device"}))) for air in airs]
    low = np.max([air.range_mbps()[0] for air in between], axis=0)
    return [round(float(rate), 1) for rate in low]


def hop_fed(job: Job, scene: HouseScene, radiators: Sequence[Radiator]) -> tuple[Radiator, ...]:
    """Standing boxes, those that are fed by radio with what their hop from the router carries [Mb/s].

    In their order; the rest, and all where no router radiates, as they were. A hop that carries nothing is
    put at 0.1 Mb/s, so that it still stands in the chain. **Source**: docs/wlan.md, "Airtime".
    """
    router = gateway(job)
    parent = next((box for box in radiators if router is not None and box.id == router.id), None)
    fed = {box.id for box in job.boxes if box.fed_by == "wireless"}
    hanging = [box for box in radiators if box.id in fed and box is not parent]
    if parent is None or not hanging:
        return tuple(radiators)
    rates = dict(zip((box.id for box in hanging), hop_rates_mbps(job, scene, parent, hanging), strict=True))
    return tuple(
        replace(box, hop_mbps=max(rates[box.id], SLOWEST_HOP_MBPS)) if box.id in rates else box
        for box in radiators
    )
