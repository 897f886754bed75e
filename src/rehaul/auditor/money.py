"""Rules on money: the price is the sum of its lines, and what is offered is what is planned."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import access_points, parts
from rehaul.facts.work import allowances, labour
from rehaul.house import Job
from rehaul.words import say

CENT = 0.011
Z_90 = 1.2815515655446004  # 90 % quantile of the standard normal distribution
NOTHING = "do nothing"


def parts_add_up(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """The price of parts is the sum of its lines, each quantity times unit price.

    Broken by a line whose price is not quantity times unit price, and by a quote whose parts are not their
    sum, each to a hundredth of the money unit.

    **Validity**: that a unit price is the job's or the table's is not asked. **Source**: docs/auditor.md,
    `parts-add-up`.
    """
    lines = parts(plan)
    for part in lines:
        if abs(part.price - part.quantity * part.unit_price) > CENT:
            yield finding(
                say(
                    "audit_work.price_of_part",
                    item=part.item,
                    quantity=part.quantity,
                    each=part.unit_price,
                    price=part.price,
                ),
                part.item,
            )
    total = sum(part.price for part in lines)
    said = plan.number("takeoff", "quote", "parts")
    if abs(total - said) > CENT:
        yield finding(say("audit_work.parts_and_quote", total=total, said=said), "quote")


def labour_adds_up(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """The price of labour is its minutes at the job's hour: between the sums of their middles and means.

    The middle is the sum of counts times minutes; the mean that of lognormal times with the table's
    nine-in-ten value. Broken by labour outside these two (0.1 % and a hundredth forgiven) and by a kind
    without minutes.

    **Source**: fact table of labour; hour of `choices.labour_per_h`, else of the fact table of allowances.
    """
    own = job.choices.labour_per_h
    hour = allowances()["labour_per_h"] if own is None else own
    middle = mean = 0.0
    for row in plan.rows("takeoff", "labour"):
        norm = labour().get(row.text("norm"))
        if norm is None:
            yield finding(say("audit_work.no_minutes", kind=row.text("norm")), row.text("norm"))
            return
        count = row.number("count")
        sigma = math.log(max(norm.minutes_90, norm.minutes) / norm.minutes) / Z_90
        middle += count * norm.minutes
        mean += count * norm.minutes * math.exp(sigma**2 / 2)
    said = plan.number("takeoff", "quote", "labour")
    low, high = middle / 60 * hour, mean / 60 * hour
    if not low * 0.999 - CENT <= said <= high * 1.001 + CENT:
        yield finding(
            say("audit_work.labour_differs", said=said, hour=hour, low=low, high=high),
            "quote",
        )


def total_adds_up(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Margin, tax and total follow from parts and labour as the job says, in quote and offers.

    Net is parts and labour divided by one less the margin; tax is the job's share of net. Broken where
    margin, tax or total of the quote or of an offer is off by more than two hundredths, and where the price
    not exceeded in nine jobs of ten is below the total. **Source**: docs/auditor.md, `total-adds-up`.
    """
    quote = plan.row("takeoff", "quote")
    for name, row in (("quote", quote), *((row.text("name"), row) for row in quote.rows("options"))):
        cost = row.number("parts") + row.number("labour")
        net = cost / (1 - job.choices.margin_pct / 100)
        tax = net * job.choices.tax_pct / 100
        said = (row.number("margin"), row.number("tax"), row.number("total"))
        if any(abs(a - b) > 2 * CENT for a, b in zip(said, (net - cost, tax, net + tax), strict=True)):
            yield finding(say("audit_work.total_differs", name=name), name)
        if row.number("total_90") + CENT < row.number("total"):
            yield finding(say("audit_work.nine_in_ten", name=name), name)


def one_offer_chosen(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """One offer is the chosen one, it is the plan, and doing nothing is offered at no price.

    Broken by no or several chosen offers, by one with another total or another number of access points than
    the plan, and where there is not one offer named `do nothing` with a total of 0. **Source**:
    docs/auditor.md, `one-offer-chosen`.
    """
    options = plan.rows("takeoff", "quote", "options")
    chosen = [row for row in options if row.flag("chosen")]
    total = plan.number("takeoff", "quote", "total")
    if len(chosen) != 1:
        yield finding(say("audit_work.offers_chosen", count=len(chosen)), "quote")
    for row in chosen:
        if abs(row.number("total") - total) > CENT:
            yield finding(
                say("audit_work.offer_and_quote", offer=row.number("total"), quote=total), row.text("name")
            )
        if row.number("access_points") != len(access_points(plan)):
            yield finding(
                say(
                    "audit_work.offer_and_access_points",
                    offered=row.number("access_points"),
                    planned=len(access_points(plan)),
                ),
                row.text("name"),
            )
    free = [row for row in options if row.text("name").lower() == NOTHING]
    if len(free) != 1 or abs(free[0].number("total")) > CENT:
        yield finding(say("audit_work.nothing_not_offered"), "quote")


def offers_serve_what_is_asked(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No offer serves more rooms than ask, and the chosen one no more than the plan meets.

    Broken by an offer that serves more rooms than it counts or counts more than ask, and by a chosen one
    that serves more than are met after the work.

    **Validity**: what an offer that is not chosen serves is not worked out again. **Source**:
    docs/auditor.md, `offers-serve-what-is-asked`.
    """
    asked = len({need.room for need in job.needs})
    met = sum(row.flag("met") for row in plan.rows("after"))
    for row in plan.rows("takeoff", "quote", "options"):
        served, total = row.number("rooms_served"), row.number("rooms_total")
        if served > total or total > asked:
            yield finding(
                say(
                    "audit_work.offer_serves", name=row.text("name"), served=served, rooms=total, asked=asked
                ),
                row.text("name"),
            )
        elif row.flag("chosen") and served > met:
            yield finding(
                say("audit_work.offer_serves_more", served=served, met=met),
                row.text("name"),
            )


def signed_offer_rules(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """With a signed offer, the plan in force is the signed one: its total, its access points, its words.

    Broken by a text that no longer has the hash it was signed with, and by another total, another chosen
    offer, or other access points than were signed. Where the signed plan was not kept, their number is
    compared.

    **Validity**: the last accepted offer counts; an erased one is not asked after. The hash is SHA-256.
    **Source**: docs/auditor.md, `signed-offer-rules`.
    """
    if not job.accepted_offers:
        return
    signed = job.accepted_offers[-1]
    if not signed.offer:  # erased with the household's data: nothing is left to follow
        return
    if hashlib.sha256(signed.offer.encode()).hexdigest() != signed.sha256:
        yield finding(say("audit_work.signed_reads_otherwise", offer=signed.id), signed.id)
    total = plan.number("takeoff", "quote", "total")
    if abs(total - signed.total) > CENT:
        yield finding(say("audit_work.signed_total", signed=signed.total, total=total), signed.id, "quote")
    chosen = [row.text("name") for row in plan.rows("takeoff", "quote", "options") if row.flag("chosen")]
    if chosen != [signed.option]:
        yield finding(say("audit_work.signed_another", name=signed.option), signed.id)
    said = _signed_access_points(signed.plan)
    if said is None:
        count = _signed_count(signed.offer)
        if count is not None and count != len(access_points(plan)):
            yield finding(
                say("audit_work.signed_count", signed=count, planned=len(access_points(plan))),
                signed.id,
            )
    elif said != {(ap.id, ap.equipment, ap.site.id) for ap in access_points(plan)}:
        yield finding(say("audit_work.signed_access_points"), signed.id)


def _signed_access_points(text: str) -> set[tuple[str, str, str]] | None:
    """Access points of the plan as signed; None where it was not kept."""
    found = _json(text)
    if found is None or not found.has("choice", "access_points"):
        return None
    return {(ap.id, ap.equipment, ap.site.id) for ap in access_points(found)}


def _signed_count(text: str) -> float | None:
    found = _json(text)
    if found is None or not found.has("option", "access_points"):
        return None
    return found.number("option", "access_points")


def _json(text: str) -> RowView | None:
    try:
        found = json.loads(text)
    except ValueError:
        return None
    return RowView(found, "signed") if isinstance(found, dict) else None


def within_budget(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A budget is kept.

    Broken by a cost of the choice above `choices.budget`. It is not asked once an offer is accepted.

    **Validity**: the budget is for the cost before margin and tax, as the choice counts it. **Source**:
    docs/auditor.md, `within-budget`.
    """
    budget = job.choices.budget
    if budget is not None and not job.accepted_offers and plan.number("choice", "cost") > budget + CENT:
        yield finding(
            say("audit_work.over_budget", cost=plan.number("choice", "cost"), budget=budget), "budget"
        )
