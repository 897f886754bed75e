"""From parts and minutes to a price: the middle and the one that nine jobs of ten stay under."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass

from rehaul.design.costs import hour_price
from rehaul.design.results import FrontPoint
from rehaul.facts.work import allowances
from rehaul.house import Job
from rehaul.takeoff.offers import NOTHING
from rehaul.takeoff.results import PricedUnknown, Quote, QuoteOption
from rehaul.takeoff.scope import Scope
from rehaul.takeoff.unknowns import priced_unknowns, promised
from rehaul.words import Saying, say, term

MOST_MISSED = 4  # rooms left out that an offer names


@dataclass(frozen=True)
class Costs:
    """What a scope of work costs the firm."""

    parts: float  # money
    minutes: float  # middle
    minutes_90: float  # not exceeded in nine jobs of ten

    def labour(self, job: Job) -> float:
        """Labour at the middle, in the job's currency, before margin and tax.

        **Source**: the firm's price of an hour, else the invented one of the allowances.
        """
        return self.minutes / 60 * hour_price(job)

    def labour_90(self, job: Job) -> float:
        """Labour not exceeded in nine jobs of ten, in the job's currency, before margin and tax.

        **Validity**: as that of its minutes (`labour.total_minutes`). **Source**: docs/work.md, "Quote": nine
        of ten.
        """
        return self.minutes_90 / 60 * hour_price(job)


def quote(scope: Scope, costs: Costs, options: tuple[QuoteOption, ...] = ()) -> Quote:
    """The quote of the chosen design, with the other points of the front as options.

    Parameters
    ----------
    costs : of this very scope
    options : offers, named already

    Money is in the job's currency, rounded to hundredths; `total` is with margin and tax, `total_90` what
    nine jobs of ten stay under. Unknowns come with their chance and with their price after margin and tax.

    **Source**: docs/work.md, "Quote"; `deposit_pct` and `valid_days` of the allowances.
    """
    job = scope.job
    labour = costs.labour(job)
    margin, tax, total = _priced(job, costs.parts, labour)
    unknowns = tuple(
        row.model_copy(update={"cost": _priced(job, row.cost, 0.0)[2]}) for row in priced_unknowns(scope)
    )
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
        excluded=tuple(say(code) for code in EXCLUDED),
        assumptions=_assumptions(scope),
        unknowns=(*(_in_words(row, job.currency) for row in unknowns), *_unknowns(scope)),
        deposit=round(total * allowances()["deposit_pct"] / 100, 2),
        valid_days=int(allowances()["valid_days"]),
        valid_until=_valid_until(job.date, int(allowances()["valid_days"])),
        priced_unknowns=unknowns,
        promises=promised(scope),
    )


def option(job: Job, point: FrontPoint, costs: Costs) -> QuoteOption:
    """One point of the front as an offer, not named yet: `name` says only how many rooms it serves.

    Priced from its own parts and minutes (`costs`), not as a share of another. A point at which nothing is
    done costs nothing and says so. **Source**: docs/work.md, "Quote".
    """
    rooms_total = len({need.room for need in job.needs})
    if point.nothing:
        return _nothing(job, point, rooms_total)
    margin, tax, total = _priced(job, costs.parts, costs.labour(job))
    everyone = point.rooms_served == rooms_total
    serves = say("takeoff_quote.serves_all") if everyone else say("takeoff_quote.serves", rooms=point.rooms)
    return QuoteOption(
        name=say("takeoff_quote.rooms", served=point.rooms_served, total=rooms_total),
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
        words=say("words.in_turn", parts=(serves, *_besides(job, point))),
        ways=point.ways,
    )


def _besides(job: Job, point: FrontPoint) -> Iterator[Saying]:
    """What else the words of an offer say.

    The rooms that ask and are not served, where they are few enough to name; what the household plugs in
    itself; radios that stand and are set afresh, where there is no access point.
    """
    asks = {need.room for need in job.needs}
    missed = tuple(r.name for r in job.house.rooms if r.id in asks and r.name not in point.rooms)
    if 0 < len(missed) <= MOST_MISSED:
        yield say("takeoff_quote.leaves_out", rooms=missed)
    if point.devices:
        yield say("takeoff_quote.new_radio", rooms=point.devices)
    if point.set_afresh and not point.sites:
        yield say("takeoff_quote.set_afresh", boxes=point.set_afresh)


def _nothing(job: Job, point: FrontPoint, rooms_total: int) -> QuoteOption:
    """Doing nothing, at nothing."""
    if point.rooms_served == rooms_total:
        words = say("takeoff_quote.every_room_has")
    elif any(point.rooms):
        words = say("takeoff_quote.as_today", rooms=point.rooms)
    else:
        words = say("takeoff_quote.as_today_none")
    return QuoteOption(
        name=term(NOTHING),
        access_points=0,
        rooms_served=point.rooms_served,
        rooms_total=rooms_total,
        parts=0.0,
        labour=0.0,
        margin=0.0,
        tax=0.0,
        total=0.0,
        total_90=0.0,
        chosen=point.chosen,
        words=words,
        ways=point.ways,
    )


def _priced(job: Job, parts: float, labour: float) -> tuple[float, float, float]:
    """Margin, tax and total; margin is the share of the price before tax."""
    net = (parts + labour) / (1 - job.choices.margin_pct / 100)
    tax = net * job.choices.tax_pct / 100
    return round(net - parts - labour, 2), round(tax, 2), round(net + tax, 2)


EXCLUDED = (
    "takeoff_quote.no_mains",
    "takeoff_quote.no_repair",
    "takeoff_quote.no_hazards",
    "takeoff_quote.no_faults",
)


def _included(scope: Scope) -> tuple[str, ...]:
    if scope.nothing:
        met = not scope.choice.shortfalls
        return (say("takeoff_quote.nothing_needed") if met else say("takeoff_quote.nothing_helps"),)
    rows: list[str] = []
    if scope.access_points:
        rows.append(say("takeoff_quote.access_points", n=len(scope.access_points)))
    plates = [outlet for outlet in scope.choice.outlets if outlet.run or outlet.pull]
    if plates:  # a port of the router in its room is among the extras
        rows.append(say("takeoff_quote.outlets", n=len(plates)))
    rows += [row.words for row in scope.choice.set_afresh]
    rows += [device.words for device in scope.choice.devices]
    rows += [extra.work.words for extra in scope.extras if extra.work.words]
    if scope.kept:
        rows.append(say("takeoff_quote.old_cables", n=len(scope.kept)))
    if scope.pulls:
        rows.append(say("takeoff_quote.new_cables", n=len(scope.pulls)))
    if scope.visited:
        rows.append(say("takeoff_quote.readings"))
    return tuple(rows)


def _assumptions(scope: Scope) -> tuple[Saying, ...]:
    rows = [say("takeoff_quote.line_rate")]
    rows += [say("takeoff_quote.old_cable", promise=promise) for promise in promised(scope)]
    ways = {pull.way.way for pull in scope.pulls}
    rows += [say(code) for way, code in _ASSUMED.items() if way in ways]
    if any(kept.small_switch for kept in scope.kept):
        rows.append(say("takeoff_quote.socket"))
    moved = [o for o in scope.job.obligations if o.id in scope.job.choices.to_be_moved]
    rows += [say("takeoff_quote.moved", kind=o.kind.words, run=o.run) for o in moved]
    return tuple(rows)


_ASSUMED = {
    "fished": "takeoff_quote.walls",
    "open floor": "takeoff_quote.open_floor",
    "open attic": "takeoff_quote.open_attic",
    "surface": "takeoff_quote.trunking",
    "pull cord": "takeoff_quote.conduits",
    "fibre": "takeoff_quote.trench",
}


def _in_words(row: PricedUnknown, currency: str) -> Saying:
    if row.chance is None:
        return say("takeoff_quote.may_cost", what=row.words, cost=row.cost, currency=currency)
    return say(
        "takeoff_quote.may_cost_chance",
        what=row.words,
        chance_pct=100 * row.chance,
        cost=row.cost,
        currency=currency,
    )


def _unknowns(scope: Scope) -> tuple[Saying, ...]:
    lost = (outlet.id for outlet in scope.job.house.outlets if outlet.position is None)
    rows = [say("takeoff_quote.outlet_lost", outlet=outlet) for outlet in lost]
    return (*rows, *(say("takeoff_quote.cable_held", run=run) for run in scope.held))


def _valid_until(date: str, days: int) -> str:
    try:
        return (datetime.date.fromisoformat(date) + datetime.timedelta(days=days)).isoformat()
    except ValueError:
        return ""
