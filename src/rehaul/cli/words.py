"""A plan in words, for the terminal."""

from __future__ import annotations

import click

from rehaul.cli.common import print_table
from rehaul.plan import Plan
from rehaul.predict import RoomRate
from rehaul.takeoff import Timetable
from rehaul.units import format_money, format_rate


def print_plan(plan: Plan) -> None:
    """Before and after by room, then what is bought, what it costs, and what is still unknown."""
    click.echo(f"{plan.job.title}\n")
    after = {room.room: room for room in plan.after.rooms}
    print_table(
        ["room", "needs", "before", "after", "range after", "narrowest link after", "met"],
        [
            (
                room.name,
                f"{room.need_mbps:.0f}" if room.need_mbps else "",
                f"{room.median_mbps:.0f}",
                f"{after[room.room].median_mbps:.0f}",
                f"{after[room.room].low_mbps:.0f} to {after[room.room].high_mbps:.0f}",
                after[room.room].narrowest,
                _met(after[room.room]),
            )
            for room in plan.before.rooms
        ],
    )
    click.echo("Mb/s down at the middling spot of each room; ranges hold nine times in ten.\n")
    if not plan.job.needs:
        click.echo("No room says what it needs, so no access point is placed: add needs to the job.")
    for point in plan.choice.access_points:
        click.echo(f"{point.id} {point.equipment} in {point.name}: {point.why}")
    for short in plan.choice.shortfalls:
        gets, asks = format_rate(short.gets_mbps), format_rate(short.need_mbps)
        click.echo(f"Not met: {short.name} gets {gets} of {asks}. {short.fix}")
    proof = (
        "proven least cost" if plan.choice.proven else f"within {plan.choice.gap_pct:.1f} % of the least cost"
    )
    quote = plan.takeoff.quote
    click.echo(
        f"\nPrice {format_money(quote.total, quote.currency)}; nine jobs in ten stay under "
        f"{format_money(quote.total_90, quote.currency)} ({proof}; "
        f"{'prices are invented' if quote.invented_prices else 'your own prices'})."
    )
    for question in plan.open_questions:
        click.echo(f"Still unknown: {question.question} {question.settle}")


def _met(room: RoomRate) -> str:
    """Whether a need is met; the share of the room where it is not; nothing where none is asked."""
    if not room.need_mbps:
        return ""
    return "yes" if room.met else f"{room.served_pct:.0f} %"


def print_work(times: Timetable) -> None:
    """Every task by visit with its time, then what waits and why."""
    timed = [task for task in times.tasks if task.start_min is not None]
    print_table(
        ["visit", "at", "who", "task", "where", "min", "what"],
        [
            (
                task.visit,
                clock(task.start_min or 0.0),
                task.person or "",
                task.id,
                task.place,
                f"{task.minutes:.0f}",
                task.title,
            )
            for task in timed
        ],
    )
    for task in times.tasks:
        if task.start_min is None:
            click.echo(f"waits  {task.id} {task.title}. {task.held}".rstrip())
    click.echo(f"\n{times.words}")


def clock(minutes: float) -> str:
    """`1:05` from the start of the visit."""
    return f"{int(minutes // 60)}:{int(minutes % 60):02d}"
