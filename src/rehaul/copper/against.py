"""A line beside the limit lines of a channel class: curves to draw, and the tightest spot of each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np

from rehaul.arrays import Reals
from rehaul.copper.crosstalk import echo_db, elfext_db, next_db
from rehaul.copper.elements import Line
from rehaul.copper.limits import limit_line
from rehaul.copper.twoport import insertion_loss_db
from rehaul.errors import BadInput
from rehaul.facts.channel_limits import ChannelQuantity, channel_limits
from rehaul.words import say

POINTS = 200


@dataclass(frozen=True)
class LimitMargin:
    """One quantity of a line against its limit over the class's frequencies."""

    quantity: ChannelQuantity
    frequency_hz: Reals  # (frequency,)
    value_db: Reals  # (frequency,)
    limit_db: Reals  # (frequency,)
    tightest_db: float  # least distance on the good side of the limit; below nought it fails
    tightest_hz: float


def against_limits(line: Line, channel: str) -> tuple[LimitMargin, ...]:
    """Loss, crosstalk and return loss of a line against a channel class.

    Parameters: line; channel such as `class D`. Returns one comparison for each limit of the class.
    Raises BadInput for a class without limits.

    **Validity**: computed from what the survey says, never a certification.
    **Source**: fact rows `channel_limits`; the line as its own functions give it (`CURVES`).
    """
    rows = [row for (name, _), row in channel_limits().items() if name == channel]
    found = [
        _compare(line, channel, row.quantity, row.low_hz, row.high_hz)
        for row in rows
        if row.quantity in CURVES
    ]
    if not found:
        known = sorted({name for name, quantity in channel_limits() if quantity == "insertion loss"})
        raise BadInput(
            say("refused_copper.no_channel_limits", channel=channel),
            where="channel",
            remedy=say("refused_copper.use_one_of_list", known=str(known)),
        )
    return tuple(found)


def _compare(
    line: Line, channel: str, quantity: ChannelQuantity, low_hz: float, high_hz: float
) -> LimitMargin:
    frequencies, limit = _limit(channel, quantity, low_hz, high_hz)
    value = CURVES[quantity](line, frequencies)
    good_side = limit - value if quantity == "insertion loss" else value - limit
    tightest = int(np.argmin(good_side))
    return LimitMargin(
        quantity, frequencies, value, limit, float(good_side[tightest]), float(frequencies[tightest])
    )


@cache
def _limit(channel: str, quantity: ChannelQuantity, low_hz: float, high_hz: float) -> tuple[Reals, Reals]:
    """Frequencies and the limit there, each (frequency,), the same for every line; not to be written to."""
    frequencies = np.geomspace(low_hz, high_hz, POINTS)
    frequencies[0], frequencies[-1] = low_hz, high_hz
    limit = limit_line(channel, quantity, frequencies)
    frequencies.flags.writeable = limit.flags.writeable = False
    return frequencies, limit


CURVES: dict[ChannelQuantity, Callable[[Line, Reals], Reals]] = {
    "insertion loss": insertion_loss_db,
    "return loss": echo_db,
    "NEXT": next_db,
    "PSNEXT": lambda line, frequencies: next_db(line, frequencies, power_sum=True),
    "ELFEXT": elfext_db,
    "PSELFEXT": lambda line, frequencies: elfext_db(line, frequencies, power_sum=True),
}
