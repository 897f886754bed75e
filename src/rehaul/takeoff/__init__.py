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
    Timetable,
    ToolLine,
)
from rehaul.takeoff.scope import Scope, scope_of
from rehaul.takeoff.takeoff import Alternative, takeoff
from rehaul.takeoff.timetable import timetable

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
    "Timetable",
    "ToolLine",
    "order",
    "scope_of",
    "takeoff",
    "timetable",
]
