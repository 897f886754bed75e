"""Tracing in words, for the terminal."""

from __future__ import annotations

from dataclasses import asdict

from rehaul.cli.common import tell
from rehaul.cli.reading import for_people
from rehaul.house import Job
from rehaul.tracing import (
    Bag,
    Card,
    Traced,
    TracePlan,
    how_to_make,
    off_sentences,
    plan_tracing,
    point_of,
    traced,
)
from rehaul.words import say, term


def worked_out(job: Job, meeting_point: str | None, people: int, plugs: int) -> tuple[TracePlan, Traced]:
    """The plan of the tracing and what its readings say so far."""
    at = point_of(job, meeting_point)
    return plan_tracing(job, at, Bag(plugs=plugs), people=people), traced(job, at)


def tracing_data(job: Job, meeting_point: str | None, people: int, plugs: int) -> dict[str, object]:
    """The same as plain data."""
    plan, found = worked_out(job, meeting_point, people, plugs)
    return {
        "still_off": list(plan.still_off),
        "take_out": list(plan.take_out),
        "sentence": plan.sentence,
        "first": [asdict(card) for card in plan.first],
        "proposed": [asdict(one) for one in plan.proposed],
        "left_alone": [{**asdict(one), "sentence": one.sentence} for one in plan.left_alone],
        "disconnect": asdict(plan.disconnect) if plan.disconnect else None,
        "cautions": list(plan.cautions),
        "rounds": [{outlet: plug.name for outlet, plug in placed} for placed in plan.codes.rounds],
        "plugs": {plug.name: how_to_make(plug) for plug in plan.codes.plugs},
        "walk_m": round(plan.walks.length_m, 1),
        "batches": [list(batch) for batch in plan.walks.batches],
        "last": [asdict(card) for card in plan.last],
        "never_located": list(plan.never_located),
        "ends": [
            {
                "end": end.end,
                "standing": str(end.standing),
                "reaches": list(end.reaches),
                "notes": list(end.notes),
            }
            for end in found.answer.ends
        ],
        "contradictions": [asdict(item) for item in found.answer.contradictions],
        "next": [asdict(item) for item in found.next_readings],
    }


def print_tracing(job: Job, meeting_point: str | None, people: int, plugs: int) -> None:
    """What is off, what comes first, what is left alone; then plugs in walking order and what is known."""
    for sentence in off_sentences(job):  # before anything can be refused
        tell(say("cli.off", what=sentence))
    plan, found = for_people(job, worked_out(job, meeting_point, people, plugs))
    if plan.take_out:
        tell(say("cli.take_out", plugs=", ".join(plan.take_out)))
    _print_cards(say("cli.before_tied"), plan.first)
    for state in plan.proposed:
        tell(say("cli.note_state", run=state.run, because=state.because, state=state.state))
    for one in plan.left_alone:
        tell(say("cli.left_alone_line", what=one.sentence))
    if plan.disconnect:
        tell(say("cli.may_disconnect", what=plan.disconnect.sentence))
    for caution in plan.cautions:
        tell(f"!  {caution}")
    tell("", plan.sentence)
    for number, placed in enumerate(plan.codes.rounds, 1):
        tell("", say("cli.round", number=number))
        for outlet, plug in placed:
            tell(say("cli.outlet_plug", outlet=outlet, plug=plug.name))
    if plan.codes.plugs:
        tell("", say("cli.plugs_made"))
    for plug in plan.codes.plugs:
        tell(say("cli.plug_made", plug=plug.name, how=how_to_make(plug)))
    if plan.walks.batches:
        tell("", plan.walks.sentence)
    _print_known(plan, found)
    _print_cards(say("cli.tracing_over"), plan.last)


def _print_known(plan: TracePlan, found: Traced) -> None:
    if plan.never_located:
        tell(say("cli.never_located", outlets=", ".join(plan.never_located)))
    alone = {end for one in plan.left_alone for end in one.ends}
    for end in found.answer.ends:
        reaches = ", ".join(end.reaches) or term("not known yet")
        tell(f"  {end.end}: {reaches} ({term('left alone' if end.end in alone else end.standing)})")
    for item in found.answer.contradictions:
        tell(item.sentence)
    for suggestion in found.next_readings[:1]:
        tell(say("cli.next", what=suggestion.sentence))


def _print_cards(heading: str, cards: tuple[Card, ...]) -> None:
    if cards:
        tell(heading)
    for number, card in enumerate(cards, 1):
        tell(f"  {number}. [{term(card.what)}] {card.sentence}")
