"""Parts, labour and price of a scope of work."""

from __future__ import annotations

from rehaul.takeoff.labour import labour
from rehaul.takeoff.parts import cuts, parts, tools
from rehaul.takeoff.price import quote
from rehaul.takeoff.results import Takeoff
from rehaul.takeoff.scope import Scope


def takeoff(scope: Scope) -> Takeoff:
    """Everything to buy, cut, bring and pay; every line says which entities caused it."""
    part_lines = parts(scope)
    labour_lines = labour(scope)
    return Takeoff(
        parts=part_lines,
        cuts=cuts(scope),
        tools=tools(labour_lines),
        labour=labour_lines,
        quote=quote(scope, part_lines, labour_lines),
    )
