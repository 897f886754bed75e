"""Parts, cut lists, spares, labour, price and the order of work."""

from rehaul.takeoff.accepted import accept, is_intact, is_offered_still, signature
from rehaul.takeoff.checks import SiteCheck, site_checks
from rehaul.takeoff.faults import FaultPlace, fault_place
from rehaul.takeoff.ics import calendar_text, first_morning
from rehaul.takeoff.order import order
from rehaul.takeoff.results import (
    CutLine,
    HoleLine,
    LabourLine,
    PartLine,
    PricedUnknown,
    Quote,
    QuoteOption,
    Takeoff,
    Task,
    Timetable,
    ToolLine,
)
from rehaul.takeoff.scope import Scope, scope_of
from rehaul.takeoff.takeoff import Alternative, takeoff
from rehaul.takeoff.ticking import (
    TickRow,
    open_needs,
    require_ticks_ready,
    tick_back,
    tick_off,
    tick_rows,
    ticked,
)
from rehaul.takeoff.timetable import numbered_as, timetable

__all__ = [
    "Alternative",
    "CutLine",
    "FaultPlace",
    "HoleLine",
    "LabourLine",
    "PartLine",
    "PricedUnknown",
    "Quote",
    "QuoteOption",
    "Scope",
    "SiteCheck",
    "Takeoff",
    "Task",
    "TickRow",
    "Timetable",
    "ToolLine",
    "accept",
    "calendar_text",
    "fault_place",
    "first_morning",
    "is_intact",
    "is_offered_still",
    "numbered_as",
    "open_needs",
    "order",
    "require_ticks_ready",
    "scope_of",
    "signature",
    "site_checks",
    "takeoff",
    "tick_back",
    "tick_off",
    "tick_rows",
    "ticked",
    "timetable",
]
