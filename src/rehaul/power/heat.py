"""How warm it gets where the equipment sits."""

from __future__ import annotations

from rehaul.errors import require_range
from rehaul.facts.enclosures import Enclosure, EnclosurePlace, enclosures, place_temperatures, standby
from rehaul.words import Saying, say


def cabinet_rise_c(load_w: float, enclosure: Enclosure, *, airflow_m3_per_h: float = 0.0) -> float:
    """How much warmer the air in an enclosure gets than the air around it, in kelvin.

    Parameters: load_w turned to heat inside; kind of enclosure; airflow_m3_per_h of a fan or vent.

    **Validity**: steady state; conductances are rough, within half as much again either way.
    **Source**: P / (UA + 0.335 · airflow); conductances by trade judgement (fact rows).

    >>> cabinet_rise_c(60.0, "flush wall can")
    24.0
    """
    require_range(load_w, 0.0, 1e4, name="load_w")
    require_range(airflow_m3_per_h, 0.0, 1e4, name="airflow_m3_per_h")
    return load_w / (enclosures()[enclosure].conductance_w + standby("air heat") * airflow_m3_per_h)


def cabinet_temperature_c(
    load_w: float, enclosure: Enclosure, place: EnclosurePlace, *, airflow_m3_per_h: float = 0.0
) -> float:
    """Air temperature inside an enclosure in a place, in °C.

    **Validity** and **Source**: as `cabinet_rise_c`.
    """
    rise_c = cabinet_rise_c(load_w, enclosure, airflow_m3_per_h=airflow_m3_per_h)
    return place_temperatures()[place].temperature_c + rise_c


def heat_advice(temperature_c: float, *, vented: bool | None = None) -> Saying:
    """One sentence on a temperature where equipment sits: fine, or what to do.

    `temperature_c` as `cabinet_temperature_c` gives it; `vented` True where air is known to pass, False
    where it is known not to, None where nobody looked. **Source**: `equipment limit` of the fact table
    `standby_power`; the edge counts as fine.

    >>> heat_advice(31.4)
    'About 31 °C, within the usual 40 °C.'
    """
    limit_c = standby("equipment limit")
    if temperature_c <= limit_c:
        return say("power.heat_fine", temperature_c=temperature_c, limit_c=limit_c)
    if vented is None:
        return say("power.heat_vent", temperature_c=temperature_c, limit_c=limit_c)
    code = "power.heat_air_passes" if vented else "power.heat_closed"
    return say(code, temperature_c=temperature_c, limit_c=limit_c)
