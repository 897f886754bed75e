"""Where a shorted run is broken: the distance from each end, from loop readings taken at both."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rehaul.facts.conductors import copper_property
from rehaul.house import Run
from rehaul.power import length_from_resistance_m, loop_resistance_ohm
from rehaul.words import Saying, say

TAPE_M = 0.5  # as near as a tape along a cable in a wall comes
Range = tuple[float, float, float]  # low, middle, high


@dataclass(frozen=True)
class FaultPlace:
    """How far a fault lies from one end, and from the other where that was read too."""

    from_end: str
    distance_m: Range
    other_end: str = ""
    other_distance_m: Range | None = None
    contact_ohm: float = 0.0  # resistance of the short itself, where the length is known

    @property
    def words(self) -> Saying:
        """`7.2 m (6.4 to 8.1) from M1, 10.1 m (9.2 to 11.2) from G-02`."""
        first = _from(self.distance_m, self.from_end)
        if self.other_distance_m is None:
            return first
        return say("words.joined", parts=[first, _from(self.other_distance_m, self.other_end)])


def fault_place(run: Run) -> FaultPlace | None:
    """Place of the fault by the latest loop reading from each end; None where none was taken.

    With readings R1 and R2 from both ends and a known length L, the resistance r of the contact itself
    drops out: d1 = (L + (R1 - R2) / 2ρ) / 2 and r = (R1 + R2 - 2ρL) / 2,
    ρ per metre of one conductor. A meter that is not zeroed adds the same to both and drops out too.

    **Validity**: a short between the two conductors of one pair; solid copper.
    **Source**: Ohm's law; resistance per metre and its errors as `rehaul.power.length_from_resistance_m`.
    """
    read = {t.from_end: t.fault_ohm for t in run.tests if t.from_end and t.fault_ohm is not None}
    if not read:
        return None
    ends = [end for end in run.ends if end in read] or list(read)
    first = _distance(read[ends[0]], run)
    if len(ends) < 2:
        return FaultPlace(ends[0], first)
    second = _distance(read[ends[1]], run)
    if run.length_m is None:
        return FaultPlace(ends[0], first, ends[1], second)
    per_m = loop_resistance_ohm(1.0, run.gauge_awg or int(copper_property("usual gauge")))
    whole = run.length_m
    apart_m = (read[ends[0]] - read[ends[1]]) / per_m
    middle = min(max((whole.middle + apart_m) / 2, 0.0), whole.middle)
    spread = math.hypot((whole.high - whole.low) / 4, copper_property("resistance spread") * apart_m / 2)
    spread = max(spread, TAPE_M)
    contact = max(read[ends[0]] + read[ends[1]] - per_m * whole.middle, 0.0) / 2
    one = (max(middle - spread, 0.0), middle, min(middle + spread, whole.high))
    rest = whole.middle - middle
    other = (max(rest - spread, 0.0), rest, min(rest + spread, whole.high))
    return FaultPlace(ends[0], one, ends[1], other, contact)


def _distance(ohm: float, run: Run) -> Range:
    low, middle, high = length_from_resistance_m(ohm, run.gauge_awg)
    most = run.length_m.high if run.length_m else high
    return min(low, most), min(middle, most), min(high, most)


def _from(distance_m: Range, end: str) -> Saying:
    low, middle, high = distance_m
    return say("network.so_far_from", middle_m=middle, low_m=low, high_m=high, end=end)
