"""What is still unknown, what the guess costs, and the reading that would settle it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rehaul.facts.equipment import equipment
from rehaul.facts.prediction import prediction_number
from rehaul.facts.wlan_equipment import access_point_radios, client_radios
from rehaul.house import UNKNOWN, Grade, Job, Model, held_on, still_disconnected
from rehaul.network.verdicts import RunVerdict
from rehaul.predict.results import Coverage, RoomRate
from rehaul.words import say
from rehaul.words.fields import Words

USED_MBPS = prediction_number("used_most")


class OpenQuestion(Model):
    """Something still unknown."""

    about: tuple[str, ...]  # ids
    question: Words
    guess: Words
    costs: Words  # what the guess may cost
    settle: Words  # the reading that would settle it


def open_questions(job: Job, verdicts: Sequence[RunVerdict], after: Coverage) -> tuple[OpenQuestion, ...]:
    """Every unknown that the plan leans on: a line still taken off first, then cables.

    Parameters: `verdicts`, one for each cable of the house in its order; `after`, what the rooms will get.

    Returns cables, then outlets, walls, rooms that are close to what they ask, classes of boxes and devices
    that no table holds, queues, and what was not asked at the door; empty where nothing is open.

    **Validity**: asks what the job leaves unknown. What somebody noted wrongly is no question here.
    """
    return (
        *_off(job),
        *_cables(job, verdicts),
        *_outlets(job),
        *_walls(job),
        *_close_rooms(after),
        *_classes(job),
        *_queue(job, after),
        *_gate(job),
    )


def _off(job: Job) -> Iterator[OpenQuestion]:
    for check in still_disconnected(job.line_checks):
        yield OpenQuestion(
            about=(check.at, *([check.run] if check.run else [])),
            question=say("proof_questions.line_question", place=check.at),
            guess=say("proof_questions.line_guess"),
            costs=say("proof_questions.line_costs"),
            settle=say("proof_questions.line_settle"),
        )


def _cables(job: Job, verdicts: Sequence[RunVerdict]) -> Iterator[OpenQuestion]:
    for run, verdict in zip(job.house.runs, verdicts, strict=True):
        if UNKNOWN in run.ends:
            yield OpenQuestion(
                about=(run.id,),
                question=say("proof_questions.where_question", run=run.id),
                guess=say("proof_questions.where_guess"),
                costs=say("proof_questions.where_costs"),
                settle=_find_words(job, run.id),
            )
        elif verdict.usable and not _proven(verdict):
            yield OpenQuestion(
                about=(run.id,),
                question=say(
                    "proof_questions.carries_question",
                    run=run.id,
                    rate_mbps=min(verdict.likely_mbps, USED_MBPS),
                ),
                guess=say("proof_questions.carries_guess", said=verdict.sentence),
                costs=say("proof_questions.carries_costs"),
                settle=say("proof_questions.carries_settle"),
            )


def _find_words(job: Job, run_id: str) -> str:
    if any(not reason.untested for reason in held_on(job, run_id)):
        return say("proof_questions.where_no_tone", run=run_id)
    return say("proof_questions.where_tone", run=run_id)


def _classes(job: Job) -> Iterator[OpenQuestion]:
    """Boxes and devices of a class that no table holds: nothing is predicted of them."""
    boxes = set(equipment()) | {name for name, _ in access_point_radios()}
    clients = {name for name, _ in client_radios()}
    named = [(box.id, box.name, box.equipment) for box in job.boxes if box.equipment not in boxes]
    named += [(row.id, row.name, row.client) for row in job.devices if row.client not in clients]
    named += [(row.id, row.id, row.client) for row in job.needs if row.client and row.client not in clients]
    for name, words, kind in named:
        yield OpenQuestion(
            about=(name,),
            question=say("proof_questions.class_question", name=words, kind=repr(kind)),
            guess=say("proof_questions.class_guess"),
            costs=say("proof_questions.class_costs"),
            settle=say("proof_questions.class_settle"),
        )


def _proven(verdict: RunVerdict) -> bool:
    """Whether the rate the plan uses is certified or measured."""
    used = [row for row in verdict.ethernet if row.rate_mbps <= min(verdict.likely_mbps, USED_MBPS)]
    return bool(used) and used[-1].grade in (Grade.CERTIFIED, Grade.MEASURED)


def _outlets(job: Job) -> Iterator[OpenQuestion]:
    for outlet in job.house.outlets:
        if outlet.position is None:
            yield OpenQuestion(
                about=(outlet.id,),
                question=say("proof_questions.outlet_question", outlet=outlet.id),
                guess=say("proof_questions.outlet_guess"),
                costs=say("proof_questions.outlet_costs"),
                settle=say("proof_questions.outlet_settle"),
            )


def _walls(job: Job) -> Iterator[OpenQuestion]:
    unnamed = [w.id for w in job.house.walls if w.construction == UNKNOWN and not w.layers]
    if unnamed:
        yield OpenQuestion(
            about=tuple(unnamed[:20]),
            question=say("proof_questions.walls_question", n=len(unnamed)),
            guess=say("proof_questions.walls_guess"),
            costs=say("proof_questions.walls_costs"),
            settle=say("proof_questions.walls_settle"),
        )


def _close_rooms(after: Coverage) -> Iterator[OpenQuestion]:
    for room in after.rooms:
        if room.need_mbps and room.low_mbps < room.need_mbps:
            yield _close_room(room, room.need_mbps, (room.low_mbps, room.median_mbps, room.high_mbps))
        if room.up_need_mbps and room.up_low_mbps < room.up_need_mbps:
            rates = (room.up_low_mbps, room.up_median_mbps, room.up_high_mbps)
            yield _close_room(room, room.up_need_mbps, rates, up=True)


def _close_room(
    room: RoomRate, need_mbps: float, rates_mbps: tuple[float, float, float], *, up: bool = False
) -> OpenQuestion:
    low, middle, high = rates_mbps
    question = "proof_questions.room_question_up" if up else "proof_questions.room_question"
    return OpenQuestion(
        about=(room.room,),
        question=say(question, room=room.name, need_mbps=need_mbps),
        guess=say("proof_questions.room_guess", middle_mbps=middle, low_mbps=low, high_mbps=high),
        costs=say("proof_questions.room_costs"),
        settle=say("proof_questions.room_settle", source=room.source_name),
    )


def _queue(job: Job, after: Coverage) -> Iterator[OpenQuestion]:
    """Whether the line's queue is kept short, where a room asks for delay and all hangs on that."""
    rooms = [room for room in after.rooms if room.delay is not None and room.delay.verdict == "at risk"]
    if rooms and job.service.managed_queue is None:
        yield OpenQuestion(
            about=tuple(room.room for room in rooms),
            question=say("proof_questions.queue_question"),
            guess=say("proof_questions.queue_guess"),
            costs=say("proof_questions.queue_costs", rooms=tuple(room.name for room in rooms)),
            settle=say("proof_questions.queue_settle"),
        )


def _gate(job: Job) -> Iterator[OpenQuestion]:
    if job.gate.asked_about_alarms is None:
        yield OpenQuestion(
            about=(job.id,),
            question=say("proof_questions.gate_question"),
            guess=say("proof_questions.gate_guess"),
            costs=say("proof_questions.gate_costs"),
            settle=say("proof_questions.gate_settle"),
        )
