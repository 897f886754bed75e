"""Names for the offers of a quote: good, better, only what is needed, from the front of cost."""

from __future__ import annotations

import re
from collections.abc import Sequence

from rehaul.takeoff.results import QuoteOption
from rehaul.words import Saying, say, term

NOTHING = "Do nothing"
_COUNTED = re.compile(r"(?P<served>\d+) of (?P<total>\d+) rooms")
LEAST, MIDDLE, MOST = "Only what is needed", "Better", "Good"


def named(options: Sequence[QuoteOption]) -> tuple[QuoteOption, ...]:
    """Every offer with its name, in the order given.

    *Good* serves most rooms. *Only what is needed* is the cheapest that serves at least half of those.
    *Better* stands between them and lies farthest below the straight line from one to the other.
    All others are named by their rooms. Doing nothing comes first, under its own
    name. A lone offer is *Only what is needed*. An offer that costs more than
    another and serves no more rooms is left out, unless it is the chosen one. **Source**: docs/work.md,
    "Quote".
    """
    kept = [option for option in options if option.chosen or not _beaten(option, options)]
    nothing = [option for option in kept if option.name == NOTHING]
    offers = [option for option in kept if option.name != NOTHING]
    if not offers:
        return tuple(nothing)
    most = max(offers, key=lambda o: (o.rooms_served, -o.total))
    enough = [o for o in offers if o.rooms_served >= most.rooms_served / 2]
    least = min(enough, key=lambda o: o.total)
    names = {id(most): MOST, id(least): LEAST}
    between = [o for o in enough if id(o) not in names and least.total < o.total < most.total]
    if between:
        names[id(max(between, key=lambda o: _saving(o, least, most)))] = MIDDLE
    return (
        *nothing,
        *(
            o.model_copy(update={"name": term(names[id(o)]) if id(o) in names else rooms_served(o)})
            for o in offers
        ),
    )


def rooms_served(option: QuoteOption) -> Saying:
    """The name of an offer that has no other: how many rooms it serves."""
    return say("takeoff_quote.rooms", served=option.rooms_served, total=option.rooms_total)


def name_said(name: str) -> str:
    """The name of an offer that was kept as plain text, to be said in the reader's language."""
    counted = _COUNTED.fullmatch(name)
    if counted is None:
        return term(name)
    return say("takeoff_quote.rooms", served=int(counted["served"]), total=int(counted["total"]))


def _beaten(option: QuoteOption, options: Sequence[QuoteOption]) -> bool:
    return any(other.total < option.total and other.rooms_served >= option.rooms_served for other in options)


def _saving(offer: QuoteOption, least: QuoteOption, most: QuoteOption) -> float:
    """How far an offer lies below the line of price over rooms between the two others."""
    rooms = most.rooms_served - least.rooms_served
    share = (offer.rooms_served - least.rooms_served) / rooms if rooms else 0.0
    return least.total + share * (most.total - least.total) - offer.total
