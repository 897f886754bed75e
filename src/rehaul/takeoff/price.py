"""From parts and minutes to a price: the middle and the one that nine jobs of ten stay under."""

from __future__ import annotations

from rehaul.design.results import FrontPoint
from rehaul.facts.work import allowances
from rehaul.house import Job
from rehaul.takeoff.labour import total_minutes
from rehaul.takeoff.results import LabourLine, PartLine, Quote, QuoteOption
from rehaul.takeoff.scope import Scope


def quote(scope: Scope, parts: tuple[PartLine, ...], labour: tuple[LabourLine, ...]) -> Quote:
    """The quote of the chosen design, with the other points of the front as options."""
    job = scope.job
    parts_cost = sum(line.price for line in parts)
    minutes, minutes_90 = total_minutes(labour)
    rate = labour_per_h(job)
    price = _priced(job, parts_cost, minutes / 60 * rate)
    price_90 = _priced(job, parts_cost, minutes_90 / 60 * rate)
    return Quote(
        currency=job.currency,
        parts=round(parts_cost, 2),
        labour=round(minutes / 60 * rate, 2),
        margin=price[0],
        tax=price[1],
        total=price[2],
        total_90=price_90[2],
        options=_options(scope, parts_cost, minutes / 60 * rate, minutes_90 / 60 * rate),
        included=_included(scope),
        excluded=EXCLUDED,
        assumptions=_assumptions(scope),
        unknowns=_unknowns(scope),
        deposit=round(price[2] * allowances()["deposit_pct"] / 100, 2),
        valid_days=int(allowances()["valid_days"]),
    )


def labour_per_h(job: Job) -> float:
    """The job's own price of an hour, else the invented one of the fact table."""
    own = job.choices.labour_per_h
    return allowances()["labour_per_h"] if own is None else own


def _priced(job: Job, parts: float, labour: float) -> tuple[float, float, float]:
    """Margin, tax and total; margin is the share of the price before tax."""
    net = (parts + labour) / (1 - job.choices.margin_pct / 100)
    tax = net * job.choices.tax_pct / 100
    return round(net - parts - labour, 2), round(tax, 2), round(net + tax, 2)


def _options(scope: Scope, parts: float, labour: float, labour_90: float) -> tuple[QuoteOption, ...]:
    """Every point of the front, priced by what it adds to or saves from the chosen one."""
    chosen = scope.choice.cost
    total_rooms = len(scope.job.needs)
    return tuple(
        _option(scope.job, point, parts + point.cost - chosen, labour, labour_90, total_rooms)
        for point in scope.choice.front
        if point.rooms_served > 0
    )


def _option(
    job: Job, point: FrontPoint, parts: float, labour: float, labour_90: float, total_rooms: int
) -> QuoteOption:
    parts = max(0.0, parts)
    margin, tax, total = _priced(job, parts, labour)
    names = "every room that asks" if point.rooms_served == total_rooms else ", ".join(point.rooms)
    return QuoteOption(
        name=f"{point.rooms_served} of {total_rooms} rooms",
        access_points=len(point.sites),
        rooms_served=point.rooms_served,
        rooms_total=total_rooms,
        parts=round(parts, 2),
        labour=round(labour, 2),
        margin=margin,
        tax=tax,
        total=total,
        total_90=_priced(job, parts, labour_90)[2],
        chosen=point.chosen,
        words=f"Serves {names}",
    )


EXCLUDED = (
    "Mains wiring, new sockets and anything a licensed electrician must do",
    "Repair of plaster, paint and paper beyond the plates that are fitted",
    "Testing or removal of lead paint and asbestos",
    "Faults of the provider's line and of the household's own devices",
)


def _included(scope: Scope) -> tuple[str, ...]:
    rows = [f"{len(scope.access_points)} access points, mounted, connected and named by room"]
    if scope.kept:
        rows.append(f"{len(scope.kept)} old cables terminated, labelled and tested")
    if scope.pulls:
        rows.append(f"{len(scope.pulls)} new cables, sealed where they pass a floor")
    rows.append("Readings before and after at the same places, and a record of everything")
    return tuple(rows)


def _assumptions(scope: Scope) -> tuple[str, ...]:
    rows = ["The subscribed rate is delivered at the modem"]
    judged = [
        v.run for v in scope.verdicts if v.usable and any(e.grade.value != "certified" for e in v.ethernet)
    ]
    used = [kept.run.id for kept in scope.kept if kept.run.id in judged]
    if used:
        rows.append(f"Cables {', '.join(used)} pass a link and error test; none is certified yet")
    if scope.pulls:
        rows.append("Walls and floors on the way of new cables can be fished without opening them")
    return tuple(rows)


def _unknowns(scope: Scope) -> tuple[str, ...]:
    rows = [f"Far end of cable {r.id} not found" for r in scope.job.house.runs if "unknown" in r.ends]
    rows += [f"Outlet {o.id} never located" for o in scope.job.house.outlets if o.position is None]
    rows += [f"Cable {run} is held until its obligation is signed off" for run in scope.held]
    return tuple(rows)
