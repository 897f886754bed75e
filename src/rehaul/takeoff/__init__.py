"""Parts, cut lists, spares, labour, price and the order of work."""

from rehaul.takeoff.order import order
from rehaul.takeoff.results import (
    CutLine,
    LabourLine,
    PartLine,
    Quote,
    QuoteOption,
    Takeoff,
    Task,
    ToolLine,
)
from rehaul.takeoff.scope import Scope, scope_of
from rehaul.takeoff.takeoff import Alternative, takeoff

__all__ = [
    "Alternative",
    "CutLine",
    "LabourLine",
    "PartLine",
    "Quote",
    "QuoteOption",
    "Scope",
    "Takeoff",
    "Task",
    "ToolLine",
    "order",
    "scope_of",
    "takeoff",
]
