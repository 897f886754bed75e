"""A plan in words, for the terminal."""

from __future__ import annotations

from rehaul.cli.common import print_table, tell
from rehaul.design.judged import pin_words
from rehaul.planning import Plan
from rehaul.predict import RoomRate
from rehaul.takeoff import Timetable
from rehaul.words import say, term


def print_plan(plan: Plan) -> None:
    """Before and after by room, then what is bought, what it costs, and what is still unknown."""
    tell(plan.job.title, "")
    print_standing(plan)
    after = {room.room: room for room in plan.after.rooms}
    print_table(
        ["room", "needs", "before", "after", "range after", "up", "at once", "narrowest link after", "met"],
        [
            (
                room.name,
                needs_words(room),
                f"{room.median_mbps:.0f}",
                f"{after[room.room].median_mbps:.0f}",
                say("cli.span", low=after[room.room].low_mbps, high=after[room.room].high_mbps),
                f"{after[room.room].up_median_mbps:.0f}",
                f"{after[room.room].together_mbps:.0f}" if room.need_mbps else "",
                term(after[room.room].narrowest),
                _met(after[room.room]),
            )
            for room in plan.before.rooms
        ],
    )
    tell(
        say("cli.rates_said"),
        say("cli.needs_said"),
        "",
    )
    if not plan.job.needs:
        tell(say("cli.no_needs"))
    for box in plan.choice.set_afresh:
        tell(say("cli.full_stop", what=box.words))
    for device in plan.choice.devices:
        tell(say("cli.full_stop", what=device.words))
    for point in plan.choice.access_points:
        site = {"site": point.id, "equipment": point.equipment, "room": point.name}
        tell(say("cli.site", **site, why=point.why))
    for short in plan.choice.shortfalls:
        tell(say("cli.not_met", room=short.name, what=short.says, fix=short.fix))
    for note in (*plan.after.notes, *pin_words(plan.choice)):
        tell(say("cli.full_stop", what=note))
    proof = say("cli.proven") if plan.choice.proven else say("cli.within", gap_pct=plan.choice.gap_pct)
    quote = plan.takeoff.quote
    tell(
        "",
        say(
            "cli.price",
            total=quote.total,
            total_90=quote.total_90,
            currency=quote.currency,
            proof=proof,
            whose=say("cli.invented_prices" if quote.invented_prices else "cli.own_prices"),
        ),
    )
    for question in plan.open_questions:
        tell(say("cli.unknown", question=question.question, settle=question.settle))


def needs_words(room: RoomRate) -> str:
    """`200 / 10`: what a room needs down and up; nothing where it asks for no rate."""
    return f"{room.need_mbps:.0f} / {room.up_need_mbps:.3g}" if room.asks else ""


def print_standing(plan: Plan) -> None:
    """Which offer is in force, and what a new plan would change of it."""
    if plan.standing is None:
        return
    tell(plan.standing.words)
    for change in plan.changes:
        tell(say("cli.proposed", change=change.words))
    if plan.changes:
        tell(say("cli.to_accept"))
    tell()


def _met(room: RoomRate) -> str:
    """Whether a need is met; what it lacks where it is not; nothing where none is asked."""
    if not room.asks and not room.too_late:
        return ""
    lacks = [] if room.down_met else [f"{room.served_pct:.0f} %"]
    lacks += [] if room.up_met else [say("cli.up_pct", up_pct=room.up_served_pct)]
    lacks += [term("too late")] if room.too_late else []
    return term("yes") if room.met else ", ".join(lacks) or term("no")


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
        if task.by == "household":
            tell(say("cli.by_household", task=task.id, title=task.title))
        elif task.start_min is None:
            tell(say("cli.waits", task=task.id, title=task.title, held=task.held).rstrip())
    tell("", times.words)


def clock(minutes: float) -> str:
    """`1:05` from the start of the visit."""
    return f"{int(minutes // 60)}:{int(minutes % 60):02d}"
