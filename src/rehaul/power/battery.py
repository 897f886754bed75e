"""How long a battery carries a load."""

from __future__ import annotations

from rehaul.errors import require_range
from rehaul.facts.enclosures import standby


def ups_minutes(load_w: float, battery_v: float, battery_ah: float, *, aged: bool = True) -> float:
    """Minutes a standby supply lasts, at the battery's rated capacity.

    Parameters: load_w above 0; battery_v and battery_ah as printed on it; aged for end of life.

    **Validity**: loads near the capacity's rated hours; heavy loads get less, see `ups_minutes_range`.
    **Source**: energy over power; efficiency and ageing by common practice (fact rows).

    >>> round(ups_minutes(76.0, 12.0, 9.0)), round(ups_minutes(35.0, 12.0, 9.0))
    (58, 126)
    """
    require_range(load_w, 0.1, 1e5, name="load_w")
    require_range(battery_v, 1.0, 1000.0, name="battery_v")
    require_range(battery_ah, 0.1, 1e4, name="battery_ah")
    usable = standby("aged capacity") if aged else 1.0
    return battery_v * battery_ah * usable * standby("inverter efficiency") / load_w * 60.0


def ups_minutes_range(load_w: float, battery_v: float, battery_ah: float) -> tuple[float, float]:
    """Minutes to count on and minutes at best: aged lead-acid at this load, and new at its rating.

    **Validity**: lead-acid; lithium stays near the upper figure.
    **Source**: Peukert's law with the exponent of the fact row.
    """
    best = ups_minutes(load_w, battery_v, battery_ah, aged=False)
    aged = ups_minutes(load_w, battery_v, battery_ah)
    drawn_a = load_w / standby("inverter efficiency") / battery_v
    rated_a = battery_ah / standby("rated hours")
    slower = min((rated_a / drawn_a) ** (standby("peukert exponent") - 1.0), 1.0)
    return aged * slower, best
