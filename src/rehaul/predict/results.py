"""What a prediction says: rates with a range and the narrowest link's name, never a bare number."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from rehaul.arrays import Floats
from rehaul.facts.delay import DelayGrade
from rehaul.house import Band, Model, Storey
from rehaul.words import Saying, say
from rehaul.words.fields import Words


class LinkRate(Model):
    """One link of the chain from the internet to a spot."""

    name: Words  # for people: "plan", "run C03", "switch port 4", "air 5 GHz from Playroom"
    rate_mbps: float
    up_mbps: float | None = None  # towards the internet; None: as much as down

    @property
    def rate_up_mbps(self) -> float:
        """What it carries towards the internet."""
        return self.rate_mbps if self.up_mbps is None else self.up_mbps


class Spot(Model):
    """What one place gets, and through what."""

    storey: str
    position: tuple[float, float]
    power_dbm: float
    power_sd_db: float
    low_mbps: float  # 90 % range
    median_mbps: float
    high_mbps: float
    source: str  # id of the radiating box or access point; empty where nothing is heard
    band: Band
    links: tuple[LinkRate, ...]  # from the internet inwards
    narrowest: Words  # the name of the link that sets the rate
    up_low_mbps: float  # towards the internet, 90 % range
    up_median_mbps: float
    up_high_mbps: float
    narrowest_up: Words


class Delay(Model):
    """Delay to the provider and back while the house is busy: a class and a range, no promise."""

    grade: DelayGrade  # of the high end
    low_ms: float
    high_ms: float
    at: Words  # where the longest queue stands, for people
    asked_ms: float | None = None
    verdict: Literal["", "met", "at risk", "not met"] = ""  # empty: nothing asked
    remedy: Words = ""
    remedy_free: bool = False  # nothing to buy: a setting alone

    @property
    def span(self) -> Saying:
        """The range, for people."""
        return say("predict.span_ms", low_ms=self.low_ms, high_ms=self.high_ms)


class RoomRate(Model):
    """What a room gets, against what it needs; up is towards the internet, by the same box and band."""

    room: str
    name: str
    storey: str
    need_mbps: float
    asked: float  # the probability asked for
    served_pct: float  # share of the room's area where the rate down is met with that probability
    met: bool  # both ways, on enough of the room's area at once, and not surely too late
    low_mbps: float  # at the room's middling spot, 90 % range
    median_mbps: float
    high_mbps: float
    power_dbm: float
    source: str
    source_name: str
    band: Band
    narrowest: Words
    links: tuple[LinkRate, ...] = ()
    down_met: bool = True
    up_need_mbps: float = 0.0
    up_served_pct: float = 100.0
    up_met: bool = True
    up_low_mbps: float = 0.0
    up_median_mbps: float = 0.0
    up_high_mbps: float = 0.0
    narrowest_up: Words = ""
    together_mbps: float = 0.0  # what it gets down when all that ask do so at once; 0 where it asks nothing
    delay: Delay | None = None  # None: nothing is heard

    @property
    def asks(self) -> bool:
        """Whether a rate is asked of the air here."""
        return self.need_mbps > 0 or self.up_need_mbps > 0

    @property
    def too_late(self) -> bool:
        """Whether the delay asked for is surely not met."""
        return self.delay is not None and self.delay.verdict == "not met"


@dataclass(frozen=True)
class StoreyMap:
    """Rates and power over one storey's grid of receivers."""

    storey: Storey
    x0_m: float  # centre of the first receiver
    y0_m: float
    step_m: float
    z_m: float  # height of the receivers, from elevation 0
    rate_mbps: Floats  # (y, x) median through the whole chain; NaN outside the house
    low_mbps: Floats  # (y, x) 5 % quantile
    high_mbps: Floats  # (y, x) 95 % quantile
    power_dbm: Floats  # (band, y, x) strongest source in each band
    power_sd_db: Floats  # (band, y, x)
    source_index: NDArray[np.int16]  # (y, x) index into Coverage.sources; -1 where none
    band_index: NDArray[np.int8]  # (y, x) index into Coverage.bands
    rate_up_mbps: Floats  # (y, x) median towards the internet, by the same box and band as down
    low_up_mbps: Floats  # (y, x) 5 % quantile
    high_up_mbps: Floats  # (y, x) 95 % quantile


@dataclass(frozen=True)
class Coverage:
    """Everything predicted for one set of radiating boxes."""

    sources: tuple[str, ...]  # ids
    source_names: tuple[str, ...]
    bands: tuple[Band, ...]
    maps: tuple[StoreyMap, ...]  # lowest storey first
    rooms: tuple[RoomRate, ...]
    notes: tuple[str, ...] = ()  # sentences: why ranges are wide, delay under load, where devices would cling
