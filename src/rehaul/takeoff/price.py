"""From parts and minutes to a price: the middle and the one that nine jobs of ten stay under."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.design.costs import hour_price
from rehaul.design.results import FrontPoint
from rehaul.facts.work import allowances
from rehaul.house import Job
from rehaul.takeoff.results import Quote, QuoteOption
from rehaul.takeoff.scope import Scope


@dataclass(frozen=True)
class Costs:
    """What a scope of work costs the firm."""

    parts: float  # money
    minutes: float  # middle
    minutes_90: float  # not exceeded in nine jobs of ten

    def labour(self, job: Job) -> float:
        """Labour at the middle, in money."""
        return self.minutes / 60 * hour_price(job)

    def labour_90(self, job: Job) -> float:
        """Labour not exceeded in nine jobs of ten, in money."""
        return self.minutes_90 / 60 * hour_price(job)


def quote(scope: Scope, costs: Costs, options: tuple[QuoteOption, ...] = ()) -> Quote:
    """The quote of the chosen design, with the other points of the front as options."""
    job = scope.job
    labour = costs.labour(job)
    margin, tax, total = _priced(job, costs.parts, labour)
    return Quote(
        currency=job.currency,
        parts=round(costs.parts, 2),
        labour=round(labour, 2),
        margin=margin,
        tax=tax,
        total=total,
        total_90=_priced(job, costs.parts, costs.labour_90(job))[2],
        options=options,
        included=_included(scope),
        excluded=EXCLUDED,
        assumptions=_assumptions(scope),
        unknowns=_unknowns(scope),
        deposit=round(total * allowances()["deposit_pct"] / 100, 2),
        valid_days=int(allowances()["valid_days"]),
    )


def option(job: Job, point: FrontPoint, costs: Costs) -> QuoteOption:
    """One point of the front as an offer."""
    rooms_total = len({need.room for need in job.needs})
    margin, tax, total = _priced(job, costs.parts, costs.labour(job))
    names = "every room that asks" if point.rooms_served == rooms_total else ", ".join(point.rooms)
    return QuoteOption(
        name=f"{point.rooms_served} of {rooms_total} rooms",
        access_points=len(point.sites),
        rooms_served=point.rooms_served,
        rooms_total=rooms_total,
        parts=round(costs.parts, 2),
        labour=round(costs.labour(job), 2),
        margin=margin,
        tax=tax,
        total=total,
        total_90=_priced(job, costs.parts, costs.labour_90(job))[2],
        chosen=point.chosen,
        words=f"Serves {names}",
    )


def _priced(job: Job, parts: float, labour: float) -> tuple[float, float, float]:
    """Margin, tax and total; margin is the share of the price before tax."""
    net = (parts + labour) / (1 - job.choices.margin_pct / 100)
    tax = net * job.choices.tax_pct / 100
    return round(net - parts - labour, 2), round(tax, 2), round(net + tax, 2)


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
