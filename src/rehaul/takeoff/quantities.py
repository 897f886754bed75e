"""Parts, labour and price of a scope of work."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rehaul.design.results import FrontPoint
from rehaul.takeoff.labour import labour, total_minutes
from rehaul.takeoff.offers import named
from rehaul.takeoff.ordering import order
from rehaul.takeoff.parts import cuts, parts, tools
from rehaul.takeoff.price import Costs, option, quote
from rehaul.takeoff.pull_steps import hole_log
from rehaul.takeoff.results import LabourLine, PartLine, Takeoff, Task
from rehaul.takeoff.scope import Scope

Alternative = tuple[FrontPoint, Scope]


def takeoff(scope: Scope, tasks: tuple[Task, ...], alternatives: Iterable[Alternative] = ()) -> Takeoff:
    """Everything to buy, cut, bring and pay; every line says which entities caused it.

    `tasks` is the order of this work; `alternatives` are the points of the front, each with the work it
    would be; each becomes an option of the quote with its own parts and labour. **Source**: docs/work.md,
    "Quote".
    """
    labour_lines, bought = labour(tasks), parts(scope)
    own = _costs_of(bought, labour_lines)
    options = named(
        [
            option(
                scope.job,
                point,
                own if other is scope else _costs_of(parts(other), labour(order(other))),
            )
            for point, other in alternatives
        ]
    )
    return Takeoff(
        parts=bought,
        cuts=cuts(scope),
        tools=tools(labour_lines),
        labour=labour_lines,
        quote=quote(scope, own, options),
        holes=hole_log(tasks),
    )


def _costs_of(bought: Sequence[PartLine], work: tuple[LabourLine, ...]) -> Costs:
    """What the parts cost, and how long the work takes."""
    middle, high_90 = total_minutes(work)
    return Costs(sum(line.price for line in bought), middle, high_90)
