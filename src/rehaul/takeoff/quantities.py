"""Parts, labour and price of a scope of work."""

from __future__ import annotations

from collections.abc import Sequence

from rehaul.design.results import FrontPoint
from rehaul.takeoff.labour import labour, total_minutes
from rehaul.takeoff.offers import named
from rehaul.takeoff.ordering import order
from rehaul.takeoff.parts import cuts, parts, tools
from rehaul.takeoff.price import Costs, option, quote
from rehaul.takeoff.pull_steps import hole_log
from rehaul.takeoff.results import Takeoff
from rehaul.takeoff.scope import Scope

Alternative = tuple[FrontPoint, Scope]


def takeoff(scope: Scope, alternatives: Sequence[Alternative] = ()) -> Takeoff:
    """Everything to buy, cut, bring and pay; every line says which entities caused it.

    `alternatives` are the points of the front, each with the work it would be; each becomes an option
    of the quote with its own parts and labour. **Source**: docs/work.md, "Quote".
    """
    tasks = order(scope)
    labour_lines = labour(tasks)
    options = named([option(scope.job, point, _costs_of(other)) for point, other in alternatives])
    return Takeoff(
        parts=parts(scope),
        cuts=cuts(scope),
        tools=tools(labour_lines),
        labour=labour_lines,
        quote=quote(scope, _costs_of(scope), options),
        holes=hole_log(tasks),
    )


def _costs_of(scope: Scope) -> Costs:
    """What the parts cost, and how long the work takes."""
    middle, high_90 = total_minutes(labour(order(scope)))
    return Costs(sum(line.price for line in parts(scope)), middle, high_90)
