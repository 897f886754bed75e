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
from rehaul.words import Saying, say

MOST_QUESTIONS = 7  # on the first sheet; all of them stand on their own


def summary_section(plan: Plan) -> Section:
    """The first sheet: the house now and after, in plain words.

    Sentences, the offer in force, rooms as a picture, what is held, what is still unknown.
    """
    before = {rate.room: rate for rate in plan.before.rooms}
    chart = roomchart_svg([(before.get(after.room), after) for after in plan.after.rooms])
    shows = say("summary.chart_shows")
    blocks: list[Block] = [Prose(sentences(plan), lead=True), Drawing(chart, shows, *drawing_size(chart))]
    blocks[1:1] = standing_blocks(plan)
    held = held_sentences(plan)
    if held:
        blocks.append(Warning(say("summary.held"), held))
    if plan.open_questions:
        blocks.append(Bullets(say("summary.unknown"), _questions(plan)))
    return Section("summary", say("summary.title"), tuple(blocks))


def standing_blocks(plan: Plan) -> list[Block]:
    """Which offer is in force, and what a new plan would change of it; nothing where none was accepted.

    **Source**: docs/work.md, "What is signed".
    """
    if plan.standing is None:
        return []
    blocks: list[Block] = [Prose((plan.standing.words,))]
    if plan.changes:
        blocks.append(Bullets(say("summary.would_change"), tuple(change.words for change in plan.changes)))
    return blocks


def rooms_section(plan: Plan, every: dict[str, Table]) -> Section:
    """The summary in figures, what they rest on, and the needs that are not met.

    `every`: the plan's tables by name, made already.
    """
    blocks: list[Block] = [Rows(every["rooms"]), Rows(every["rooms_up"])]
    if plan.after.notes:
        notes = tuple(words.sentence(note) for note in plan.after.notes)
        blocks.append(Bullets(say("summary.rests_on"), notes))
    if plan.choice.shortfalls:
        blocks.append(Rows(every["shortfalls"]))
    return Section("rooms", every["rooms"].title, tuple(blocks))


def _questions(plan: Plan) -> tuple[str, ...]:
    shown = [
        say("summary.question", question=q.question, settle=words.sentence(q.settle))
        for q in plan.open_questions[:MOST_QUESTIONS]
    ]
    more = len(plan.open_questions) - len(shown)
    if more:
        shown.append(say("summary.more_questions", n=more))
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
    then_served = say("summary.then", served=served_then, n=len(needed))
    today = say(
        "summary.today",
        down_mbps=job.service.down_mbps,
        up_mbps=job.service.up_mbps,
        served=served_now,
        n=len(needed),
        worst=_worst(plan.before),
    )
    also = _also(plan)
    if not choice.access_points:
        then = [*also, say("summary.no_access_point"), *([then_served] if also else [])]
    else:
        puts = say(
            "summary.puts",
            n=len(choice.access_points),
            places=[say("summary.point", point=a.id, room=a.name) for a in choice.access_points],
            feeds=_feeds(choice.access_points),
        )
        worst = _worst(plan.after)
        then = [puts, *also, say("summary.then_worst", served=served_then, n=len(needed), worst=worst)]
    price = say("summary.price", total=quote.total, total_90=quote.total_90, currency=quote.currency)
    sure = say("summary.proven") if choice.proven else say("summary.not_proven", gap_pct=choice.gap_pct)
    fresh = () if choice.access_points else choice.set_afresh
    said = [
        words.sentence(said)
        for said in (*(row.words for row in fresh), *(row.words for row in choice.devices))
    ]
    if said:
        then = [*said, *then] if choice.access_points or also else [*said, then_served]
    late = [rate.name for rate in plan.after.rooms if words.delay_at_risk(rate)]
    risk = [say("summary.delay_at_risk", rooms=late)] if late else []
    if choice.words and said:  # it is all that is done: that comes first
        return (words.sentence(choice.words), _in_a_row(today, then_served), _in_a_row(price, sure, *risk))
    one_more = words.sentence(choice.what_one_more_buys)
    return (today, _in_a_row(*then), _in_a_row(price, sure, one_more, *risk))


def _in_a_row(*said: str) -> Saying:
    return say("words.sentences", parts=said)


def _feeds(points: Sequence[AccessPoint]) -> Saying:
    """`over 2 old cables in the walls and 1 new pull`, `by radio from the router`."""
    old = len({point.site.run for point in points if point.site.run})
    new = sum(1 for point in points if not point.site.run and point.site.new_pull_m)
    hops = sum(1 for point in points if point.site.hop)
    cords = len(points) - sum(1 for point in points if point.site.run) - new - hops
    ways = [say("summary.old_cables", n=old)] if old else []
    ways += [say("summary.new_pulls", n=new)] if new else []
    ways += [say("summary.cords", n=cords)] if cords else []
    over = [say("summary.over", ways=ways)] if ways else []
    if hops:
        over.append(say("summary.some_by_radio", n=hops) if ways else say("summary.by_radio"))
    return say("words.listed", names=over)


def _also(plan: Plan) -> list[str]:
    """What is done to the router, and the wired outlets: a sentence of each."""
    said = []
    if plan.choice.router.do == "move" and plan.choice.router.words:
        said.append(words.sentence(plan.choice.router.words))
    if plan.choice.outlets:
        rooms = list(dict.fromkeys(outlet.name for outlet in plan.choice.outlets))
        said.append(say("summary.wired", n=len(plan.choice.outlets), rooms=rooms))
    return said


def _worst(coverage: Coverage) -> Saying:
    """The room that gets the least, and why."""
    rated = [rate for rate in coverage.rooms if rate.need_mbps] or list(coverage.rooms)
    if not rated:
        return say("summary.no_room")
    worst = min(rated, key=lambda rate: rate.median_mbps)
    return say(
        "summary.worst", rate=words.rate_range(worst), room=worst.name, link=words.narrowest_words(worst)
    )


def held_sentences(plan: Plan) -> tuple[str, ...]:
    """What may not be cut or started, and why: held tasks first, then held cables that none of these names.

    Empty where nothing is held. Cables held for one reason share a sentence.
    """
    tasks = [
        words.sentence(say("summary.held_task", task=task.id, title=task.title, why=task.held))
        for task in plan.order
        if task.held
    ]
    said = " ".join(tasks)
    why: dict[Saying, list[str]] = {}
    for run in plan.job.house.runs:
        if not re.search(rf"\b{re.escape(run.id)}\b", said):
            why.setdefault(words.hold_words(plan, run.id), []).append(run.id)
    runs = [
        words.sentence(say("summary.held_cables", n=len(cables), cables=cables, reasons=reasons))
        for reasons, cables in why.items()
        if reasons
    ]
    return (*tasks, *runs)
