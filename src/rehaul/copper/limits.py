"""Limit lines of cabling standards as functions of frequency."""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Reals
from rehaul.errors import BadInput, OutOfRange
from rehaul.facts.channel_limits import ChannelQuantity, LimitRow, channel_limits
from rehaul.words import say


def limit_line(line: str, quantity: ChannelQuantity, frequency_hz: Reals | float) -> Reals:
    """One limit line: dB (dB per 100 m for cable, ns per 100 m for delay) at each frequency.

    Parameters: line such as `class D` or `cat5e`; quantity; frequency_hz [n].
    Raises BadInput for a line the tables do not hold, OutOfRange outside its frequencies.

    **Validity**: edges of the line's own range included.
    **Source**: the fact row of the line (`facts/tables/channel_limits.csv`).

    >>> round(float(limit_line("class D", "insertion loss", 100e6)[0]), 1)
    24.0
    """
    rows = channel_limits()
    if (line, quantity) not in rows:
        raise BadInput(
            say("refused_copper.no_limit", quantity=quantity, line=line),
            where="limit_line",
            remedy=say("refused_copper.known_lines", known=sorted({name for name, _ in rows})),
        )
    row = rows[line, quantity]
    frequencies = np.atleast_1d(np.asarray(frequency_hz, dtype=np.float64))
    if not np.all((frequencies >= row.low_hz) & (frequencies <= row.high_hz)):
        raise OutOfRange(
            say("refused_copper.outside_limit_line"),
            where=say("refused_copper.where_limit", quantity=quantity, line=line),
            remedy=say("refused_copper.stay_within", low_mhz=row.low_hz / 1e6, high_mhz=row.high_hz / 1e6),
            source=str(row.source),
        )
    return _value(row, frequencies / 1e6)


def _value(row: LimitRow, mhz: Reals) -> Reals:
    root, decades = np.sqrt(mhz), np.log10(mhz)
    if row.form == "loss":
        return np.asarray(row.scale * (row.a * root + row.b * mhz + row.c / root) + row.d * root)
    if row.form == "delay":
        return np.asarray(row.a + row.b / root)
    if row.form == "decade":
        value = row.a - row.b * np.log10(mhz / row.c)
        return np.asarray(np.minimum(value, row.cap) if row.cap else value)
    cable = 10.0 ** (-(row.a - row.c * decades) / 20.0)
    joints = row.scale * 10.0 ** (-(row.b - row.d * decades) / 20.0)
    return np.asarray(-20.0 * np.log10(cable + joints))
