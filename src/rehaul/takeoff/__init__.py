"""Parts, cut lists, spares, labour, price and the order of work."""

from rehaul.network.faults import FaultPlace, fault_place
from rehaul.takeoff.accepted import accept, is_intact, offer_named, signature
from rehaul.takeoff.checks import SiteCheck, site_checks
from rehaul.takeoff.ics import calendar_text, first_morning
from rehaul.takeoff.ordering import order
from rehaul.takeoff.proposed import ProposedChange, counterpart, proposed_changes
from rehaul.takeoff.quantities import Alternative, takeoff
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
from rehaul.takeoff.signed import (
    SignedPlan,
    Standing,
    hold_sources,
    how_kept,
    read_signed_plan,
    signed_plan_text,
    standing_of,
    stands_on,
    timetable_now,
)
from rehaul.takeoff.ticking import (
    TickRow,
    open_needs,
    require_ticks_ready,
    tick_back,
    tick_off,
    tick_rows,
    ticked,
)
from rehaul.takeoff.timetabling import numbered_as, timetable

__all__ = [
    "Alternative",
    "CutLine",
    "FaultPlace",
    "HoleLine",
    "LabourLine",
    "PartLine",
    "PricedUnknown",
    "ProposedChange",
    "Quote",
    "QuoteOption",
    "Scope",
    "SignedPlan",
    "SiteCheck",
    "Standing",
    "Takeoff",
    "Task",
    "TickRow",
    "Timetable",
    "ToolLine",
    "accept",
    "calendar_text",
    "counterpart",
    "fault_place",
    "first_morning",
    "hold_sources",
    "how_kept",
    "is_intact",
    "numbered_as",
    "offer_named",
    "open_needs",
    "order",
    "proposed_changes",
    "read_signed_plan",
    "require_ticks_ready",
    "scope_of",
    "signature",
    "signed_plan_text",
    "site_checks",
    "standing_of",
    "stands_on",
    "takeoff",
    "tick_back",
    "tick_off",
    "tick_rows",
    "ticked",
    "timetable",
    "timetable_now",
]
