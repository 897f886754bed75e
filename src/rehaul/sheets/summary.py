"""The first sheet: what the house gets now and after, in plain words."""

from __future__ import annotations

import re
from collections.abc import Sequence

from rehaul.design.results import AccessPoint
from rehaul.planning import Plan
from rehaul.predict.results import Coverage
from rehaul.sheets import words
from rehaul.sheets.blocks import Block, Bullets, Drawing, Prose, Rows, Section, Warning
from rehaul.sheets.roomchart import roomchart_svg
from rehaul.sheets.svg import drawing_size
from rehaul.sheets.table import Table
from rehaul.units import format_money, format_rate

MOST_QUESTIONS = 7  # on the first sheet; all of them stand on their own


def summary_section(plan: Plan) -> Section:
    """The first sheet: the house now and after, in plain words.

    Sentences, the offer in force, rooms as a picture, what is held, what is still unknown.
    """
    before = {rate.room: rate for rate in plan.before.rooms}
    chart = roomchart_svg([(before.get(after.room), after) for after in plan.after.rooms])
    shows = "Each room today and after, on a scale where equal steps are equal ratios."
    blocks: list[Block] = [Prose(sentences(plan), lead=True), Drawing(chart, shows, *drawing_size(chart))]
    blocks[1:1] = standing_blocks(plan)
    held = held_sentences(plan)
    if held:
        blocks.append(Warning("Held until somebody signs", held))
    if plan.open_questions:
        blocks.append(Bullets("Still unknown, and what would settle it", _questions(plan)))
    return Section("summary", "Summary", tuple(blocks))


def standing_blocks(plan: Plan) -> list[Block]:
    """Which offer is in force, and what a new plan would change of it; nothing where none was accepted.

    **Source**: docs/work.md, "What is signed".
    """
    if plan.standing is None:
        return []
    blocks: list[Block] = [Prose((plan.standing.words,))]
    if plan.changes:
        heading = "A new plan would change this; proposed, and not in force before it is accepted"
        blocks.append(Bullets(heading, tuple(change.words for change in plan.changes)))
    return blocks


def rooms_section(plan: Plan, every: dict[str, Table]) -> Section:
    """The summary in figures, what they rest on, and the needs that are not met.

    `every`: the plan's tables by name, made already.
    """
    blocks: list[Block] = [Rows(every["rooms"]), Rows(every["rooms_up"])]
    if plan.after.notes:
        notes = tuple(words.sentence(note) for note in plan.after.notes)
        blocks.append(Bullets("What these figures rest on, delay, and devices that move", notes))
    if plan.choice.shortfalls:
        blocks.append(Rows(every["shortfalls"]))
    return Section("rooms", every["rooms"].title, tuple(blocks))


def _questions(plan: Plan) -> tuple[str, ...]:
    shown = [f"{q.question} {words.sentence(q.settle)}" for q in plan.open_questions[:MOST_QUESTIONS]]
    more = len(plan.open_questions) - len(shown)
    if more:
        shown.append(f"And {words.count(more, 'more question')}, on the sheet of what is still unknown.")
    return tuple(shown)


def sentences(plan: Plan) -> tuple[str, ...]:
    """What is, what will be, what it costs, how sure it is: a sentence or two of each.

    Where the household has all of it to do itself, that comes first.
    """
    job, choice, quote = plan.job, plan.choice, plan.takeoff.quote
    needed = [rate for rate in plan.after.rooms if rate.asks]
    given = {outlet.room for outlet in choice.outlets}  # what they lack today, whatever their rate
    served_now = sum(1 for rate in plan.before.rooms if rate.asks and rate.met and rate.room not in given)
    served_then = sum(1 for rate in needed if rate.met)
    count_then = f"Then {served_then} of {words.count(len(needed), 'room')} get what they need"
    today = (
        f"The household pays for {format_rate(job.service.down_mbps)} down and "
        f"{format_rate(job.service.up_mbps)} up. Today {served_now} of "
        f"{words.count(len(needed), 'room')} with a need get what they need; {_worst(plan.before)}"
    )
    if not choice.access_points:
        then = f"{_also(plan)}The plan adds no access point."
        then += f" {count_then}." if _also(plan) else ""
    else:
        names = words.listed([f"{point.id} in {point.name}" for point in choice.access_points])
        then = (
            f"The plan puts {words.count(len(choice.access_points), 'access point')} where people are: "
            f"{names}, {_feeds(choice.access_points)}. {_also(plan)}"
            f"{count_then}; {_worst(plan.after)}"
        )
    price = (
        f"Price: {format_money(quote.total, quote.currency)}; in nine jobs of ten not above "
        f"{format_money(quote.total_90, quote.currency)}."
    )
    if choice.proven:
        sure = "No cheaper choice among the places that were weighed would do as much: this is proven."
    else:
        sure = f"A cheaper choice by up to {choice.gap_pct:.1f} % could not be ruled out."
    fresh = () if choice.access_points else choice.set_afresh
    said = [*(row.words for row in fresh), *(row.words for row in choice.devices)]
    if said:
        parts = " ".join(words.sentence(row) for row in said)
        more = choice.access_points or _also(plan)
        then = f"{parts} {then}" if more else f"{parts} {count_then}."
    late = [rate.name for rate in plan.after.rooms if words.delay_at_risk(rate)]
    risk = f" In {words.listed(late)} the delay that is asked for is at risk." if late else ""
    if choice.words and said:  # it is all that is done: that comes first
        return (words.sentence(choice.words), f"{today} {count_then}.", f"{price} {sure}{risk}")
    return (today, then, f"{price} {sure} {words.sentence(choice.what_one_more_buys)}".strip() + risk)


def _feeds(points: Sequence[AccessPoint]) -> str:
    """`over 2 old cables in the walls and 1 new pull`, `by radio from the router`."""
    old = len({point.site.run for point in points if point.site.run})
    new = sum(1 for point in points if not point.site.run and point.site.new_pull_m)
    hops = sum(1 for point in points if point.site.hop)
    cords = len(points) - sum(1 for point in points if point.site.run) - new - hops
    ways = [f"{words.count(old, 'old cable')} in the walls"] if old else []
    ways += [words.count(new, "new pull")] if new else []
    ways += [words.count(cords, "cord")] if cords else []
    over = [f"over {words.listed(ways)}"] if ways else []
    over += [f"{hops} by radio from the router" if ways else "by radio from the router"] if hops else []
    return " and ".join(over)


def _also(plan: Plan) -> str:
    """What is done to the router, and the wired outlets, each a sentence with a space after it."""
    said = []
    if plan.choice.router.do == "move" and plan.choice.router.words:
        said.append(words.sentence(plan.choice.router.words))
    if plan.choice.outlets:
        rooms = words.listed(list(dict.fromkeys(outlet.name for outlet in plan.choice.outlets)))
        said.append(f"{words.count(len(plan.choice.outlets), 'wired connection')}: {rooms}.")
    return "".join(f"{one} " for one in said)


def _worst(coverage: Coverage) -> str:
    """The room that gets the least, and why."""
    rated = [rate for rate in coverage.rooms if rate.need_mbps] or list(coverage.rooms)
    if not rated:
        return "no room is known."
    worst = min(rated, key=lambda rate: rate.median_mbps)
    return f"the least is {words.rate_range(worst)} in {worst.name}, set by {words.narrowest_words(worst)}."


def held_sentences(plan: Plan) -> tuple[str, ...]:
    """What may not be cut or started, and why: held tasks first, then held cables that none of these names.

    Empty where nothing is held. Cables held for one reason share a sentence.
    """
    tasks = [words.sentence(f"{task.id}, {task.title}: {task.held}") for task in plan.order if task.held]
    said = " ".join(tasks)
    why: dict[str, list[str]] = {}
    for run in plan.job.house.runs:
        if not re.search(rf"\b{re.escape(run.id)}\b", said):
            why.setdefault(words.hold_words(plan, run.id), []).append(run.id)
    runs = [
        words.sentence(f"Cable{'s' * (len(cables) > 1)} {words.listed(cables)} may not be cut: {reasons}")
        for reasons, cables in why.items()
        if reasons
    ]
    return (*tasks, *runs)
