"""A stretch of spectrum over which a loss is averaged."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rehaul.errors import BadInput
from rehaul.words import say


@dataclass(frozen=True)
class FrequencyBand:
    """Centre and width [Hz]; a width of 0 is a single frequency."""

    centre_hz: float
    width_hz: float = 0.0

    def __post_init__(self) -> None:
        if not 0 <= self.width_hz < 2 * self.centre_hz < float("inf"):
            raise BadInput(
                say("refused_radio.band_is_none", width_hz=self.width_hz, centre_hz=self.centre_hz),
                where="band",
                remedy=say("refused_radio.give_centre"),
            )

    def nodes_hz(self, count: int) -> NDArray[np.float64]:
        """Midpoints of `count` equal parts of the band [Hz], rising; the centre alone where it has no width.

        **Source**: midpoint rule; docs/radio.md, "One crossing".

        >>> FrequencyBand(5.5e9, 80e6).nodes_hz(2).tolist()
        [5480000000.0, 5520000000.0]
        """
        if self.width_hz == 0:
            return np.array([self.centre_hz])
        return self.centre_hz + self.width_hz * ((np.arange(count) + 0.5) / count - 0.5)


def as_bands(bands: Iterable[FrequencyBand | float]) -> tuple[FrequencyBand, ...]:
    """Bands from bands or single frequencies [Hz], in their order.

    Raises BadInput where there is none, or where a frequency is not above 0.

    >>> as_bands([2.4e9])
    (FrequencyBand(centre_hz=2400000000.0, width_hz=0.0),)
    """
    found = tuple(band if isinstance(band, FrequencyBand) else FrequencyBand(float(band)) for band in bands)
    if not found:
        raise BadInput(
            say("refused_radio.no_band"), where="bands", remedy=say("refused_radio.give_frequency")
        )
    return found
