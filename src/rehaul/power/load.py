"""A load of constant power at the end of a resistive line."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class LoadPower:
    """Current, voltage at the load and heat in the line."""

    current_a: float
    voltage_v: float
    loss_w: float


def deliver(source_v: float, line_ohm: float, load_w: float) -> LoadPower | None:
    """What reaches a constant-power load; None where the line cannot carry that power.

    I = (V - sqrt(V² - 4 R P)) / 2R, the stable one of the two solutions.

    Parameters: source_v above 0; line_ohm out and back, from 0; load_w at the load, from 0.

    **Validity**: steady state; for alternating current a resistive load.
    **Source**: Ohm's law; handbook.
    """
    discriminant = source_v**2 - 4.0 * line_ohm * load_w
    if discriminant < 0.0:
        return None
    # 2P / (V + sqrt) is the same root without the cancellation.
    current_a = 2.0 * load_w / (source_v + math.sqrt(discriminant))
    return LoadPower(current_a, source_v - current_a * line_ohm, current_a**2 * line_ohm)
