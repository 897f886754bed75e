"""The chance of a rate one way, by the best of some airs: a need that asks nothing the other way."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rehaul.arrays import Floats
from rehaul.predict import Air, Asked, chance_met


def best_chance(airs: Sequence[Air], rate_mbps: float, *, up: bool = False) -> Floats:
    """Of the best air at every place, (*places,)."""
    need = Asked("room", *((0.0, 0.9, "phone", rate_mbps) if up else (rate_mbps, 0.9, "phone")))
    return np.asarray(np.max([chance_met(air, need) for air in airs], axis=0), dtype=np.float32)
