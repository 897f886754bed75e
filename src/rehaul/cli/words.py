"""A plan in words, for the terminal."""

from __future__ import annotations

from rehaul.cli.common import print_table, tell
from rehaul.design.judged import pin_words
from rehaul.planning import Plan
from rehaul.predict import RoomRate
from rehaul.takeoff import Timetable
from rehaul.units import format_money


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
                f"{after[room.room].low_mbps:.0f} to {after[room.room].high_mbps:.0f}",
                f"{after[room.room].up_median_mbps:.0f}",
                f"{after[room.room].together_mbps:.0f}" if room.need_mbps else "",
                after[room.room].narrowest,
                _met(after[room.room]),
            )
            for room in plan.before.rooms
        ],
    )
    tell(
        "Mb/s down, and up after the work, at each room's middling spot; ranges hold nine times in ten.",
        "Needs: down / up. At once: what is left when every room asks for its need at the same time.",
        "",
    )
    if not plan.job.needs:
        tell("No room says what it needs, so no access point is placed: add needs to the job.")
    for box in plan.choice.set_afresh:
        tell(f"{box.words}.")
    for device in plan.choice.devices:
        tell(f"{device.words}.")
    for point in plan.choice.access_points:
        tell(f"{point.id} {point.equipment} in {point.name}: {point.why}")
    for short in plan.choice.shortfalls:
        tell(f"Not met: {short.name}, {short.says}. {short.fix}")
    for note in (*plan.after.notes, *pin_words(plan.choice)):
        tell(f"{note}.")
    proof = (
        "proven least cost" if plan.choice.proven else f"within {plan.choice.gap_pct:.1f} % of the least cost"
    )
    quote = plan.takeoff.quote
    tell(
        "",
        f"Price {format_money(quote.total, quote.currency)}; nine jobs in ten stay under "
        f"{format_money(quote.total_90, quote.currency)} ({proof}; "
        f"{'prices are invented' if quote.invented_prices else 'your own prices'}).",
    )
    for question in plan.open_questions:
        tell(f"Still unknown: {question.question} {question.settle}")


def needs_words(room: RoomRate) -> str:
    """`200 / 10`: what a room needs down and up; nothing where it asks for no rate."""
    return f"{room.need_mbps:.0f} / {room.up_need_mbps:.3g}" if room.asks else ""


def print_standing(plan: Plan) -> None:
    """Which offer is in force, and what a new plan would change of it."""
    if plan.standing is None:
        return
    tell(plan.standing.words)
    for change in plan.changes:
        tell(f"Proposed, not in force: {change.words}")
    if plan.changes:
        tell("Accepting an offer of the new quote (rehaul accept) puts the proposed changes in force.")
    tell()


def _met(room: RoomRate) -> str:
    """Whether a need is met; what it lacks where it is not; nothing where none is asked."""
    if not room.asks and not room.too_late:
        return ""
    lacks = [] if room.down_met else [f"{room.served_pct:.0f} %"]
    lacks += [] if room.up_met else [f"up {room.up_served_pct:.0f} %"]
    lacks += ["too late"] if room.too_late else []
    return "yes" if room.met else ", ".join(lacks) or "no"


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
            tell(f"by the household  {task.id} {task.title}.")
        elif task.start_min is None:
            tell(f"waits  {task.id} {task.title}. {task.held}".rstrip())
    tell("", times.words)


def clock(minutes: float) -> str:
    """`1:05` from the start of the visit."""
    return f"{int(minutes // 60)}:{int(minutes % 60):02d}"
