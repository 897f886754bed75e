"""A perceptually uniform colour scale that colour-blind people read the same way."""

from __future__ import annotations

from functools import cache
from typing import Annotated, ClassVar

from pydantic import Field

from rehaul.facts.table import FactRow, load

Channel8 = Annotated[int, Field(ge=0, le=255)]


class ColourStep(FactRow):
    """One sRGB colour at one place of the scale, from 0 (dark) to 1 (light)."""

    table: ClassVar[str] = "colour_scale"
    decides: ClassVar[str] = "the colours of coverage pictures"
    scale: str
    place_on_scale: Annotated[float, Field(ge=0, le=1)]
    red: Channel8
    green: Channel8
    blue: Channel8


@cache
def colour_steps() -> tuple[ColourStep, ...]:
    """The steps of the colour scale of coverage pictures, dark (0) to light (1): places and sRGB of 0 to 255.

    Between two steps a colour is interpolated by whoever draws. **Source**: the fact table `colour_scale`:
    cividis, Nuñez, Anderton and Renslow, PLoS ONE 13 (2018).
    """
    return load(ColourStep)
