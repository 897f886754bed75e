"""The colours of rates: one tint for each band between two contours, the same on every map of a job."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np

from rehaul.arrays import Floats
from rehaul.facts.colour_scale import colour_steps
from rehaul.words import Saying, say

# Rates people know, closer together where plans are sold.
LADDER_MBPS = (1, 2, 5, 10, 25, 50, 100, 200, 300, 400, 500, 750, 1000, 1500, 2000, 3000, 5000, 8000)
TINT = 0.5  # share of the colour, the rest paper: ink stays readable over the darkest
MOST_BANDS = 8


@dataclass(frozen=True)
class Ramp:
    """Contour levels, rising, and the tints of the bands below, between and above them."""

    levels_mbps: tuple[float, ...]
    tints: tuple[str, ...]  # one more than levels


def ramp_for(fields: Iterable[Floats]) -> Ramp:
    """Levels [Mb/s] that divide the rates of all the maps of a job, so that every map uses the same tints.

    Steps of a ladder between the 1st and the 99th percentile, the seven highest where there are more; a
    tint more than levels. No levels and one tint where there is one rate everywhere, or none. NaN counts as
    no rate.

    **Source**: docs/papers.md, "How it is made".
    """
    values = np.concatenate([np.asarray(field, dtype=float).ravel() for field in fields] or [np.empty(0)])
    values = values[np.isfinite(values)]
    if values.size == 0:
        return Ramp((), (tint(1.0),))
    low, high = np.quantile(values, (0.01, 0.99))
    inside = [level for level in LADDER_MBPS if low < level < high]
    inside = inside[-(MOST_BANDS - 1) :]
    count = len(inside)
    tints = tuple(tint(0.12 + 0.88 * (i / count if count else 1.0)) for i in range(count + 1))
    return Ramp(tuple(float(level) for level in inside), tints)


@cache
def tint(place: float) -> str:
    """The colour, `#rrggbb`, at a place of the scale from 0 (slow, dark) to 1 (fast, light).

    **Source**: cividis (fact table `colour_scale`; docs/papers.md), half of it paper so that ink stays
    readable.
    """
    steps = colour_steps()
    places = [step.place_on_scale for step in steps]
    mixed = []
    for channel in zip(*((step.red, step.green, step.blue) for step in steps), strict=True):
        value = float(np.interp(place, places, channel))
        mixed.append(round(255 - TINT * (255 - value)))
    return "#{:02x}{:02x}{:02x}".format(*mixed)


def band_words(ramp: Ramp) -> tuple[Saying, ...]:
    """What each tint says, slowest first: `under 50`, `50 to 100`, ... , `over 400 Mb/s`.

    As many as tints; "nearly one rate everywhere" for a ramp without levels.
    """
    levels = ramp.levels_mbps
    if not levels:
        return (say("drawings.one_rate"),)
    names = [f"{level:,.0f}".replace(",", " ") for level in levels]
    between = [say("cells.span", low=low, high=high) for low, high in pairwise(names)]
    return (
        say("drawings.band_under", level=names[0]),
        *between,
        say("drawings.band_over", rate_mbps=levels[-1]),
    )
