"""Tracing in words, for the terminal."""

from __future__ import annotations

from dataclasses import asdict

import click

from rehaul.errors import BadInput
from rehaul.house import Job
from rehaul.trace import Bag, Traced, TracePlan, plan_tracing, traced


def worked_out(job: Job, meeting_point: str | None, people: int, plugs: int) -> tuple[TracePlan, Traced]:
    """The plan of the tracing and what its readings say so far."""
    if not job.house.meeting_points:
        raise BadInput("the job has no meeting point", where="house", remedy="Say where the cables meet")
    at = meeting_point or job.house.meeting_points[0].id
    plan = plan_tracing(
        job.house,
        at,
        Bag(plugs=plugs),
        people=people,
        obligations=job.obligations,
        decisions=job.decisions,
    )
    return plan, traced(job, at)


def tracing_data(job: Job, meeting_point: str | None, people: int, plugs: int) -> dict[str, object]:
    """The same as plain data."""
    plan, found = worked_out(job, meeting_point, people, plugs)
    return {
        "rounds": [{outlet: plug.name for outlet, plug in placed} for placed in plan.codes.rounds],
        "walk_m": round(plan.walks.length_m, 1),
        "batches": [list(batch) for batch in plan.walks.batches],
        "never_located": list(plan.never_located),
        "cautions": list(plan.cautions),
        "held": [str(reason) for reason in plan.held],
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
    """Cautions first, then plugs in the order of the walk, then what is known."""
    plan, found = worked_out(job, meeting_point, people, plugs)
    for reason in plan.held:
        click.echo(f"HELD  {reason}")
    for caution in plan.cautions:
        click.echo(f"!  {caution}")
    for number, placed in enumerate(plan.codes.rounds, 1):
        click.echo(f"\nRound {number}")
        for outlet, plug in placed:
            click.echo(f"  outlet {outlet}: plug {plug.name}")
    click.echo(f"\n{plan.walks.sentence}")
    if plan.never_located:
        click.echo(f"Never located, and still listed: {', '.join(plan.never_located)}")
    for end in found.answer.ends:
        reaches = ", ".join(end.reaches) or "not known yet"
        click.echo(f"  {end.end}: {reaches} ({end.standing})")
    for item in found.answer.contradictions:
        click.echo(item.sentence)
    for suggestion in found.next_readings[:1]:
        click.echo(f"Next: {suggestion.sentence}")
