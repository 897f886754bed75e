"""Loop resistance of a pair, and the length it tells."""

from __future__ import annotations

from rehaul.errors import require_range
from rehaul.facts.conductors import conductor, copper_property


def conductor_ohm(length_m: float, awg: int, temperature_c: float = 20.0) -> float:
    """Resistance of one conductor of solid copper, in ohm.

    Parameters: length_m from 0; awg of the tables; temperature_c from -40 to 90.

    **Validity**: solid annealed copper; copper-clad wire is far worse.
    **Source**: fact rows `conductors` (excerpt) and IEC 60028 temperature coefficient (memory).
    """
    require_range(length_m, 0.0, 1e5, name="length_m")
    require_range(temperature_c, -40.0, 90.0, name="temperature_c")
    warmer_c = temperature_c - copper_property("reference temperature")
    per_m = conductor(awg).resistance_ohm / 1000.0
    return length_m * per_m * (1.0 + copper_property("resistance per kelvin") * warmer_c)


def loop_resistance_ohm(length_m: float, awg: int, temperature_c: float = 20.0) -> float:
    """Resistance out and back of a pair shorted at its far end, in ohm.

    **Validity** and **Source**: as `conductor_ohm`.
    """
    return 2.0 * conductor_ohm(length_m, awg, temperature_c)


def length_from_resistance_m(
    resistance_ohm: float, awg: int | None, temperature_c: float = 20.0
) -> tuple[float, float, float]:
    """Length of a shorted pair from its loop resistance: (low, middle, high) in metres, 95 %.

    An unknown gauge spans 22 to 26 AWG with 24 in the middle.

    **Validity**: a hand meter with zeroed leads, solid copper, no corroded joint.
    **Source**: resistance per length as `conductor_ohm`; errors by trade judgement (fact rows).

    >>> [round(metres) for metres in length_from_resistance_m(5.05, 24)]
    [27, 30, 33]
    """
    require_range(resistance_ohm, 0.0, 1e5, name="resistance_ohm")
    thick, usual, thin = (int(copper_property(f"{size} gauge")) for size in ("thickest", "usual", "thinnest"))
    middle = resistance_ohm / loop_resistance_ohm(1.0, awg or usual, temperature_c)
    gauges = (awg,) if awg is not None else (thick, usual, thin)
    lengths = [resistance_ohm / loop_resistance_ohm(1.0, gauge, temperature_c) for gauge in gauges]
    meter_ohm, spread = copper_property("meter error"), copper_property("resistance spread")
    if resistance_ohm <= meter_ohm:
        thickest = loop_resistance_ohm(1.0, min(gauges), temperature_c)
        return 0.0, middle, (resistance_ohm + meter_ohm) / thickest
    error = ((meter_ohm / resistance_ohm) ** 2 + spread**2) ** 0.5
    low = min(lengths) / (1.0 + error)
    high = max(max(lengths) / max(1.0 - error, 0.1), middle)
    return low, middle, high
