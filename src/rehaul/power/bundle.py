"""Heat in a bundle of powered cables."""

from __future__ import annotations

import math

from rehaul.errors import require_range
from rehaul.facts.poe import poe_rule
from rehaul.power.resistance import conductor_ohm
from rehaul.words import say


def bundle_rise_c(
    cables: int, pair_a: float, awg: int, *, pairs: int = 4, temperature_c: float = 20.0
) -> float:
    """Temperature rise at the heart of a round bundle in still air, in kelvin.

    Heat per metre leaves through the bundle's surface and, on its way there, through the bundle.

    Parameters: cables from 1; pair_a in each powered pair, shared by its two conductors; awg; powered
    pairs of each cable; temperature_c around it.

    **Validity**: rough, within a factor of about two; open air, not conduit or insulation.
    **Source**: conduction in a cylinder with uniform heat, handbook; coefficients are assumptions.
    """
    require_range(cables, 1, 400, name="cables")
    require_range(pair_a, 0.0, 2.0, name="pair_a")
    per_pair_w = 2.0 * (pair_a / 2.0) ** 2 * conductor_ohm(1.0, awg, temperature_c)
    heat_w = cables * pairs * per_pair_w  # per metre
    diameter_m = poe_rule("cable diameter") * math.sqrt(cables) * poe_rule("bundle packing")
    surface = heat_w / (math.pi * diameter_m * poe_rule("bundle surface coefficient"))
    inside = heat_w / (4.0 * math.pi * poe_rule("bundle conductivity"))
    return surface + inside


def bundle_advice(cables: int, rise_c: float, ambient_c: float) -> str:
    """What to do about a bundle, in one sentence; empty where it stays within the limits.

    `cables` are those under power in it, `rise_c` how much warmer its heart gets [K], `ambient_c` the air
    around it [°C]. The first limit that is passed is named: count, rise, then the cable's rating.
    **Source**: the fact table `poe_rules` (TIA TSB-184-A; docs/power.md).

    >>> bundle_advice(12, 4.0, 25.0), bundle_advice(30, 4.0, 25.0)
    ('', 'Split the bundle: no more than 24 powered cables together.')
    """
    if cables > poe_rule("bundle cables"):
        return say("power.bundle_count", most=poe_rule("bundle cables"))
    if rise_c > poe_rule("bundle rise"):
        return say("power.bundle_rise", most_k=poe_rule("bundle rise"))
    if ambient_c + rise_c > poe_rule("cable rating"):
        return say("power.bundle_rating", ambient_c=ambient_c)
    return ""
