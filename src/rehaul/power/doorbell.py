"""Voltage that reaches a doorbell over its wire."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.errors import require_range
from rehaul.power.load import deliver
from rehaul.power.resistance import loop_resistance_ohm
from rehaul.words import Saying, say


@dataclass(frozen=True)
class BellResult:
    """What arrives at the door under load."""

    feasible: bool
    voltage_v: float  # 0 where the wire cannot carry the load
    current_a: float
    reason: Saying


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
        reason = say("power.bell_cannot", length_m=length_m, awg=awg, load_va=load_va, source_v=source_v)
        return BellResult(False, 0.0, 0.0, reason)
    feasible = got.voltage_v >= needs_v
    arrives = {"voltage_v": got.voltage_v, "source_v": source_v, "load_va": load_va}
    low = "power.bell_too_low"
    reason = say("power.bell_reaches", **arrives) if feasible else say(low, needs_v=needs_v, **arrives)
    return BellResult(feasible, got.voltage_v, got.current_a, reason)
