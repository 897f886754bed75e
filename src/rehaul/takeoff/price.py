"""From parts and minutes to a price: the middle and the one that nine jobs of ten stay under."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from rehaul.design.costs import hour_price
from rehaul.design.results import FrontPoint
from rehaul.facts.work import allowances
from rehaul.house import Job
from rehaul.takeoff.offers import NOTHING
from rehaul.takeoff.results import PricedUnknown, Quote, QuoteOption
from rehaul.takeoff.scope import Scope
from rehaul.takeoff.unknowns import priced_unknowns, promised
from rehaul.units import format_money

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

        **Validity**: as that of its minutes (`labour.total_minutes`).
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
        excluded=EXCLUDED,
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
        words=f"Serves {names}{_left_out(job, point)}{_new_radios(point)}{_set_afresh(point)}",
        ways=point.ways,
    )


def _left_out(job: Job, point: FrontPoint) -> str:
    """The rooms that ask and are not served, where they are few enough to name."""
    asks = {need.room for need in job.needs}
    missed = [room.name for room in job.house.rooms if room.id in asks and room.name not in point.rooms]
    return f"; not {', '.join(missed)}" if 0 < len(missed) <= MOST_MISSED else ""


def _new_radios(point: FrontPoint) -> str:
    """What the household plugs in itself, for the words of an offer."""
    if not point.devices:
        return ""
    return f"; a new radio for the old device in {', '.join(point.devices)}, which the household plugs in"


def _set_afresh(point: FrontPoint) -> str:
    """Radios that stand and are set afresh, for the words of an offer without any access point."""
    if not point.set_afresh or point.sites:
        return ""
    return f"; the radio of {', '.join(point.set_afresh)} set afresh"


def _nothing(job: Job, point: FrontPoint, rooms_total: int) -> QuoteOption:
    """Doing nothing, at nothing."""
    words = (
        "Every room already gets what it needs"
        if point.rooms_served == rooms_total
        else f"As it is today: serves {', '.join(point.rooms) or 'no room that asks'}"
    )
    return QuoteOption(
        name=NOTHING,
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
    "Mains wiring, new sockets and anything a licensed electrician must do",
    "Repair of plaster, paint and paper beyond the plates that are fitted",
    "Testing or removal of lead paint and asbestos",
    "Faults of the provider's line and of the household's own devices",
)


def _included(scope: Scope) -> tuple[str, ...]:
    if scope.nothing:
        met = not scope.choice.shortfalls
        return (
            "Nothing: every room already gets what it needs" if met else "Nothing: nothing here would help",
        )
    rows = []
    if scope.access_points:
        rows.append(
            f"{_count(len(scope.access_points), 'access point')}, mounted, connected and named by room"
        )
    plates = [outlet for outlet in scope.choice.outlets if outlet.run or outlet.pull]
    if plates:  # a port of the router in its room is among the extras
        rows.append(f"{_count(len(plates), 'wired outlet')}, tested and labelled")
    rows += [row.words for row in scope.choice.set_afresh]
    rows += [device.words for device in scope.choice.devices]
    rows += [extra.work.words for extra in scope.extras if extra.work.words]
    if scope.kept:
        rows.append(f"{_count(len(scope.kept), 'old cable')} terminated, labelled and tested")
    if scope.pulls:
        rows.append(
            f"{_count(len(scope.pulls), 'new cable')}, sealed and logged where they pass a floor or a wall"
        )
    if scope.visited:
        rows.append("Readings before and after at the same places, and a record of everything")
    return tuple(rows)


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _assumptions(scope: Scope) -> tuple[str, ...]:
    rows = ["The subscribed rate is delivered at the modem"]
    rows += [f"Old cable {sentence}" for sentence in promised(scope)]
    ways = {pull.way.way for pull in scope.pulls}
    rows += [words for way, words in _ASSUMED.items() if way in ways]
    if any(kept.small_switch for kept in scope.kept):
        rows.append("A mains socket is beside every box that gets a small switch")
    moved = [o for o in scope.job.obligations if o.id in scope.job.choices.to_be_moved]
    rows += [
        f"The {o.kind.words} on {o.run} is moved and tested by its owner, before our work and at their cost"
        for o in moved
    ]
    return tuple(rows)


_ASSUMED = {
    "fished": "Walls and floors on the way of new cables can be fished without opening them",
    "open floor": "The open floor can be crept under on the whole way, and is dry",
    "open attic": "The attic can be walked on the whole way, and is not too hot to work in",
    "surface": "Trunking along skirting and corners is accepted where it is seen",
    "pull cord": "The conduits are whole, and their old cables slide",
    "fibre": "A trench or a fixed way for the duct is there; digging is not in the price",
}


def _in_words(row: PricedUnknown, currency: str) -> str:
    chance = "" if row.chance is None else f", about {100 * row.chance:.0f} in 100"
    return f"{row.words}{chance}: {format_money(row.cost, currency)} more"


def _unknowns(scope: Scope) -> tuple[str, ...]:
    rows = [f"Outlet {o.id} never located" for o in scope.job.house.outlets if o.position is None]
    rows += [f"Cable {run} is held until whoever depends on it has signed" for run in scope.held]
    return tuple(rows)


def _valid_until(date: str, days: int) -> str:
    try:
        return (datetime.date.fromisoformat(date) + datetime.timedelta(days=days)).isoformat()
    except ValueError:
        return ""
