"""Voltage that reaches a doorbell over its wire."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.errors import require_range
from rehaul.power.load import deliver
from rehaul.power.resistance import loop_resistance_ohm


@dataclass(frozen=True)
class BellResult:
    """What arrives at the door under load."""

    feasible: bool
    voltage_v: float  # 0 where the wire cannot carry the load
    current_a: float
    reason: str


def bell(
    source_v: float,
    load_va: float,
    length_m: float,
    awg: int,
    *,
    needs_v: float = 0.0,
    temperature_c: float = 20.0,
) -> BellResult:
    """What a bell transformer delivers at the door under load.

    Parameters: source_v of the transformer under load; load_va drawn at the door; one-way length_m;
    awg of the wire; needs_v of the device.

    **Validity**: resistive load, stiff transformer: a small transformer sags more.
    **Source**: constant power at the end of a loop, handbook.
    """
    require_range(source_v, 1.0, 60.0, name="source_v")
    require_range(load_va, 0.0, 200.0, name="load_va")
    got = deliver(source_v, loop_resistance_ohm(length_m, awg, temperature_c), load_va)
    if got is None:
        reason = f"{length_m:.0f} m of {awg} AWG cannot carry {load_va:g} VA from {source_v:g} V."
        return BellResult(False, 0.0, 0.0, reason)
    feasible = got.voltage_v >= needs_v
    ending = "" if feasible else f", below the {needs_v:g} V the device needs"
    reason = f"About {got.voltage_v:.0f} V of {source_v:g} V reaches the door under {load_va:g} VA{ending}."
    return BellResult(feasible, got.voltage_v, got.current_a, reason)
