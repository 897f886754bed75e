"""Names for the offers of a quote: good, better, only what is needed, from the front of cost."""

from __future__ import annotations

from collections.abc import Sequence

from rehaul.design.results import FrontPoint
from rehaul.takeoff.price import Costs

LEAST, MIDDLE, MOST = "Only what is needed", "Better", "Good"
Offer = tuple[FrontPoint, Costs]


def named(offers: Sequence[Offer]) -> list[tuple[FrontPoint, Costs, str]]:
    """Every offer with its name, in the order given.

    *Good* serves most rooms. *Only what is needed* is the cheapest that serves at least half of those.
    *Better* stands between them and lies farthest below the straight line from one to the other.
    All others are named by their rooms. A lone offer is *Only what is needed*.
    """
    if not offers:
        return []
    most = max(range(len(offers)), key=lambda i: (offers[i][0].rooms_served, -offers[i][0].cost))
    half = offers[most][0].rooms_served / 2
    enough = [i for i, (point, _) in enumerate(offers) if point.rooms_served >= half]
    least = min(enough, key=lambda i: offers[i][0].cost)
    names = {most: MOST, least: LEAST}
    between = [i for i in enough if i not in names and offers[i][0].cost < offers[most][0].cost]
    if between:
        names[max(between, key=lambda i: _saving(offers, least, i, most))] = MIDDLE
    total = offers[most][0].rooms_served
    return [
        (point, costs, names.get(i, f"{point.rooms_served} of {total} rooms"))
        for i, (point, costs) in enumerate(offers)
    ]


def _saving(offers: Sequence[Offer], least: int, i: int, most: int) -> float:
    """How far an offer lies below the line of cost over rooms between the two others."""
    low, here, high = offers[least][0], offers[i][0], offers[most][0]
    rooms = high.rooms_served - low.rooms_served
    share = (here.rooms_served - low.rooms_served) / rooms if rooms else 0.0
    return low.cost + share * (high.cost - low.cost) - here.cost
