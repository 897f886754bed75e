"""From medians and spreads to chances, and how far what stands about a spot may lie off."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.facts.radio_numbers import radio_numbers


def shadowing_sd_db(decades: ArrayLike) -> NDArray[np.float64]:
    """Spread of what stands about a spot, by log10 of the distance in metres; any shape [dB].

    **Validity**: indoors, to some 50 m. **Source**: the fact table: two spreads, near the box and far from
    it, and between them in proportion to the logarithm of the distance.
    """
    near_db, more_db, from_db, per_db = shadowing_steps()
    along = np.clip((20.0 * np.asarray(decades, dtype=np.float64) - from_db) * per_db, 0.0, 1.0)
    return np.asarray(near_db + more_db * along)


def shadowing_steps() -> tuple[float, float, float, float]:
    """Spread near [dB], what it grows by [dB], 20 log10 of where it begins to grow, one over the span.

    Twenty times the logarithm of metres, and one over as many: what the compiled loops take
    `shadowing_sd_db` by. **Source**: the fact table `radio_numbers`.
    """
    numbers = radio_numbers()
    near_db, from_db = numbers["shadowing_near_sd"], 20.0 * np.log10(numbers["shadowing_near"])
    span_db = 20.0 * np.log10(numbers["shadowing_far"]) - from_db
    return near_db, numbers["shadowing_far_sd"] - near_db, float(from_db), float(1.0 / span_db)
