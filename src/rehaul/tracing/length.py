"""Cable length from the resistance of a loop, with the range it can really have."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rehaul.errors import require_range
from rehaul.facts.conductors import conductor, copper_property
from rehaul.facts.trace_numbers import trace_number


@dataclass(frozen=True)
class LengthEstimate:
    """A length and the range that holds it 95 times in 100, if the gauge is right."""

    length_m: float
    low_m: float
    high_m: float
    gauge_awg: int


def length_from_loop(loop_ohm: float, gauge_awg: int, *, temperature_c: float = 20.0) -> LengthEstimate:
    """Length of a cable whose two conductors, tied at the far end, measure `loop_ohm`.

    Parameters
    ----------
    loop_ohm : resistance of the loop, leads zeroed [ohm]
    gauge_awg : conductor size, 16 to 28
    temperature_c : where the cable lies [deg C]

    Returns
    -------
    the middle and the 95 % range [m]

    Raises: BadInput for a gauge the table does not hold; OutOfRange for a loop below 0 or above 1 kohm.

    **Validity**: loop 0 to 1000 ohm. The range does not hold a wrong gauge: 22 for 24 AWG is 1.59 times.
    **Source**: R = 2 rho L (1 + lay)(1 + alpha (T - 20)); spreads of meter, contacts, gauge, lay and
    temperature combined in quadrature, the relative ones on a logarithmic scale.
    """
    require_range(loop_ohm, 0.0, 1000.0, name="loop_ohm")
    alpha = copper_property("resistance per kelvin")
    reference_c = copper_property("reference temperature")
    ohm_per_m = 2.0 * conductor(gauge_awg).resistance_ohm / 1000.0
    ohm_per_m *= (1.0 + trace_number("lay")) * (1.0 + alpha * (temperature_c - reference_c))
    middle_m = loop_ohm / ohm_per_m
    relative = math.hypot(
        trace_number("meter scale"),
        trace_number("gauge spread"),
        trace_number("lay spread"),
        alpha * trace_number("temperature spread"),
    )
    absolute_m = math.hypot(trace_number("meter offset"), trace_number("splice spread")) / ohm_per_m
    below = math.hypot(absolute_m, middle_m * (1.0 - math.exp(-relative)))
    above = math.hypot(absolute_m, middle_m * (math.exp(relative) - 1.0))
    return LengthEstimate(middle_m, max(0.0, middle_m - below), middle_m + above, gauge_awg)
