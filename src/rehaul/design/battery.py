"""The battery that carries the core through a power cut."""

from __future__ import annotations

from rehaul.facts.equipment import Equipment, equipment_of
from rehaul.power import ups_minutes

LIVELY_W = 45.0  # what a small rack draws besides its access points, for the choice of a battery


def cheapest_battery(load_w: float, minutes: float) -> Equipment:
    """The cheapest battery class that lasts, aged; the largest where none does.

    Parameters: `load_w`, what hangs on it [W]; `minutes` that it has to last.

    **Validity**: minutes as `ups_minutes` gives them. Of equally cheap ones the first of the table.
    **Source**: fact table of equipment, docs/power.md.
    """
    kinds = equipment_of("battery")
    lasting = [k for k in kinds if ups_minutes(load_w, k.battery_v, k.battery_ah) >= minutes]
    return lasting[0] if lasting else max(kinds, key=lambda k: k.battery_v * k.battery_ah)
