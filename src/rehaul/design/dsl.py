"""DSL that comes in on pairs of the house: what hangs open on them, and what would put it right."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rehaul.copper import tap_notch_hz
from rehaul.design.costs import task_cost
from rehaul.design.results import RouterDecision
from rehaul.facts.dsl import dsl_number
from rehaul.facts.siting import siting_number
from rehaul.facts.work import prices
from rehaul.house import Job, MeetingPoint, Outlet, Run, open_obligations
from rehaul.house.base import Point
from rehaul.network.segments import run_segments
from rehaul.words import say

FILTER = "dsl_filter"
TASKS = ("move_router", "break_chain")  # the modem to the demarcation; the old plates behind the filter


def dsl_notes(job: Job, router: RouterDecision) -> tuple[str, ...]:
    """What the plan says of a service that is DSL; empty for any other.

    Parameters: `router`, what the choice does with it: a modem that moves hangs elsewhere on the line.

    Returns sentences. Lengths are metres; a branch counts where its first notch lies within the band.

    **Validity**: the price is before margin, for the usual remedy. **Source**: `tap_notch_hz`; fact table of
    DSL.
    """
    run = next((run for run in job.house.runs if run.id == job.service.run), None)
    if job.service.medium != "dsl" or run is None:
        return ()
    tapped_m = [*run.taps_m, *_beyond_m(job, run, router)]
    hurt_m = [length for length in tapped_m if tap_notch_hz(length) < dsl_number("band top")]
    found: list[str] = [say("design_network.dsl_alone", run=run.id)]
    if hurt_m:
        longest_m = max(hurt_m)
        notch_mhz = tap_notch_hz(longest_m) / 1e6
        found.append(say("design_network.dsl_branch", run=run.id, longest_m=longest_m, notch_mhz=notch_mhz))
        found.append(_remedy(job, run))
    return tuple(found)


def _beyond_m(job: Job, run: Run, router: RouterDecision) -> Sequence[float]:
    """Lengths of the chain beyond the plate that the modem hangs on, on the side away from the street."""
    at = _plate_of(job, run, router)
    if at is None or job.service.enters not in run.ends:
        return ()
    street, here = run.ends.index(job.service.enters), run.ends.index(at)
    pieces = run_segments(job.house, run)
    beyond = pieces[max(here, street) :], pieces[: min(here, street)]
    lengths_m = [round(sum(piece.length.middle for piece in side), 1) for side in beyond]
    return [length for length in lengths_m if length > 0]


def _plate_of(job: Job, run: Run, router: RouterDecision) -> str | None:
    """The end of the line's cable beside which the modem will stand; None where none is near."""
    modem = next((box for box in job.boxes if box.id == job.service.modem), None)
    if modem is None:
        return None
    moved = router.box == modem.id and router.do == "move" and router.position is not None
    storey, spot = (router.storey, router.position) if moved else (modem.storey, modem.position)
    things: tuple[Outlet | MeetingPoint, ...] = (*job.house.outlets, *job.house.meeting_points)
    places: list[tuple[str, str, Point]] = [
        (thing.id, thing.storey, thing.position)
        for thing in things
        if thing.position is not None and thing.id in run.ends
    ]
    near = [(math.dist(at, spot), name) for name, level, at in places if level == storey and spot is not None]
    away_m, name = min(near, default=(math.inf, ""))
    return name if away_m <= siting_number("cord_reach") else None


def _remedy(job: Job, run: Run) -> str:
    """The modem at the demarcation behind one filter, with its price and who has to agree first."""
    cost = task_cost(job, list(TASKS), prices()[FILTER].unit_price + prices()["cord_200"].unit_price)
    holders = open_obligations(job, run.id)
    said = {
        "place": job.service.enters or say("design_network.where_line_enters"),
        "cost": cost.middle,
        "currency": job.currency,
    }
    if not holders:
        return say("design_network.dsl_remedy", **said)
    waits = tuple(say("design_network.holder", kind=o.kind.words, id=o.id) for o in holders)
    return say("design_network.dsl_remedy_waits", **said, holders=waits)
