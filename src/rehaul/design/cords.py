"""Patch cords: which stocked one reaches how far, and the link that one is."""

from __future__ import annotations

from rehaul.network.model import Link

STOCKED = (
    (0.25, "cord_025"),
    (0.5, "cord_050"),
    (1.0, "cord_100"),
    (2.0, "cord_200"),
    (3.0, "cord_300"),
    (5.0, "cord_500"),
)
SLACK_M = 1.0  # down to the floor and up again at both ends


def cord_item(length_m: float) -> str:
    """The shortest stocked patch cord that reaches; a long flat one beyond.

    Parameters: `length_m`, slack included. Returns an item of the price list.

    >>> cord_item(1.4)
    'cord_200'
    >>> cord_item(7.0)
    'cord_long'
    """
    return next((item for reach_m, item in STOCKED if reach_m >= length_m - 1e-9), "cord_long")


def new_cord(
    name: str, a: str, b: str, rate_mbps: float, *, poe_class: int = 0, length_m: float = 0.0
) -> Link:
    """The link of a cord that is bought: it carries what its ports do, neither less nor more.

    Parameters: `a`, the end on the street's side; `rate_mbps`, payload [Mb/s]; `poe_class` that it passes, 0
    for none.
    """
    return Link(
        id=name,
        a=a,
        b=b,
        medium="cord",
        low_mbps=rate_mbps,
        rate_mbps=rate_mbps,
        high_mbps=rate_mbps,
        poe_class=poe_class,
        age="new",
        length_m=length_m,
    )
