"""Power on thin wires: PoE, bundles, switch budgets, batteries, heat, bells and separation checks."""

from rehaul.power.battery import ups_minutes, ups_minutes_range
from rehaul.power.bundle import bundle_advice, bundle_rise_c
from rehaul.power.checks import CodeCheck, code_checks
from rehaul.power.doorbell import BellResult, bell
from rehaul.power.heat import cabinet_rise_c, cabinet_temperature_c, heat_advice
from rehaul.power.load import LoadPower, deliver
from rehaul.power.powered_run import PoeResult, PoweredRun, pairset_ohm, poe
from rehaul.power.resistance import conductor_ohm, length_from_resistance_m, loop_resistance_ohm
from rehaul.power.switch import SwitchBudget, switch_budget

__all__ = [
    "BellResult",
    "CodeCheck",
    "LoadPower",
    "PoeResult",
    "PoweredRun",
    "SwitchBudget",
    "bell",
    "bundle_advice",
    "bundle_rise_c",
    "cabinet_rise_c",
    "cabinet_temperature_c",
    "code_checks",
    "conductor_ohm",
    "deliver",
    "heat_advice",
    "length_from_resistance_m",
    "loop_resistance_ohm",
    "pairset_ohm",
    "poe",
    "switch_budget",
    "ups_minutes",
    "ups_minutes_range",
]
