"""The foot and the inch, and rates and money written for people."""

from __future__ import annotations

from typing import Literal

METRES_PER_INCH = 0.0254  # exact: international yard and pound agreement, 1959
METRES_PER_FOOT = 0.3048  # exact: 12 inches

UnitSystem = Literal["metric", "imperial"]


def format_rate(rate_mbps: float) -> str:
    """A rate for people, without false precision.

    One place below 10 Mb/s, whole numbers below 100, tens above. Thousands are set apart by a space.

    >>> format_rate(4.52), format_rate(86.7), format_rate(2404.0)
    ('4.5 Mb/s', '87 Mb/s', '2 400 Mb/s')
    """
    if rate_mbps < 10:
        return f"{rate_mbps:.1f} Mb/s"
    step = 1 if rate_mbps < 100 else 10
    return f"{round(rate_mbps / step) * step:,.0f} Mb/s".replace(",", " ")


def format_money(amount: float, currency: str) -> str:
    """An amount with two places and its currency, thousands set apart by a space.

    `currency` is put behind as it is given: nothing is converted.

    >>> format_money(1240.5, "EUR")
    '1 240.50 EUR'
    """
    return f"{amount:,.2f} {currency}".replace(",", " ")
