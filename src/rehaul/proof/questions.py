"""What is still unknown, what the guess costs, and the reading that would settle it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rehaul.facts.equipment import equipment
from rehaul.facts.prediction import prediction_number
from rehaul.facts.wlan_equipment import access_point_radios, client_radios
from rehaul.house import UNKNOWN, Grade, Job, Model, held_on, still_disconnected
from rehaul.network.verdicts import RunVerdict
from rehaul.predict.results import Coverage, RoomRate

USED_MBPS = prediction_number("used_most")


class OpenQuestion(Model):
    """Something still unknown."""

    about: tuple[str, ...]  # ids
    question: str
    guess: str
    costs: str  # what the guess may cost
    settle: str  # the reading that would settle it


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
            question=f"Is the line at {check.at} connected again at the demarcation?",
            guess="It is still disconnected, as it was for the tracing.",
            costs="Whoever telephones or calls for help over it cannot.",
            settle="Connect it, hear a dial tone or see a modem synchronise, and record it as reconnected.",
        )


def _cables(job: Job, verdicts: Sequence[RunVerdict]) -> Iterator[OpenQuestion]:
    for run, verdict in zip(job.house.runs, verdicts, strict=True):
        if UNKNOWN in run.ends:
            yield OpenQuestion(
                about=(run.id,),
                question=f"Where does cable {run.id} go?",
                guess="It is not used, and not cut off.",
                costs="A room that may have a good cable is counted as having none.",
                settle=_find_words(job, run.id),
            )
        elif verdict.usable and not _proven(verdict):
            yield OpenQuestion(
                about=(run.id,),
                question=f"Does cable {run.id} really carry {min(verdict.likely_mbps, USED_MBPS):.0f} Mb/s?",
                guess=verdict.sentence.rstrip(".") + ".",
                costs="If not, its access point needs another cable.",
                settle="A wire map, and a link with ten minutes of full load and no errors.",
            )


def _find_words(job: Job, run_id: str) -> str:
    if any(not reason.untested for reason in held_on(job, run_id)):
        return f"Put no tone on {run_id}: follow it by eye, and look where something on it works."
    return f"Tone {run_id} at the closet and listen at every plate and behind furniture."


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
            question=f"What is {words}, called {kind!r}? No table holds such a class.",
            guess="It counts as having no radio and one port of 1 Gb/s.",
            costs="Rooms near it may get more today than is said.",
            settle="Choose its class from the list, by what is printed on it.",
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
                question=f"Where is outlet {outlet.id}?",
                guess="It stays listed as never located.",
                costs="A cable may end there that nobody can use.",
                settle=(
                    "Tone the cables without a far end that nothing holds; search behind furniture and "
                    "blank plates."
                ),
            )


def _walls(job: Job) -> Iterator[OpenQuestion]:
    unnamed = [w.id for w in job.house.walls if w.construction == UNKNOWN and not w.layers]
    if unnamed:
        yield OpenQuestion(
            about=tuple(unnamed[:20]),
            question=f"What are {len(unnamed)} walls made of?",
            guess="The likeliest construction for their thickness.",
            costs="Several dB for each wall a path crosses; the ranges are wider for it.",
            settle="Knock, look behind a plate, or take one reading on each side of such a wall.",
        )


def _close_rooms(after: Coverage) -> Iterator[OpenQuestion]:
    for room in after.rooms:
        if room.need_mbps and room.low_mbps < room.need_mbps:
            yield _close_room(room, room.need_mbps, (room.low_mbps, room.median_mbps, room.high_mbps), "")
        if room.up_need_mbps and room.up_low_mbps < room.up_need_mbps:
            rates = (room.up_low_mbps, room.up_median_mbps, room.up_high_mbps)
            yield _close_room(room, room.up_need_mbps, rates, " up")


def _close_room(
    room: RoomRate, need_mbps: float, rates_mbps: tuple[float, float, float], way: str
) -> OpenQuestion:
    low, middle, high = rates_mbps
    return OpenQuestion(
        about=(room.room,),
        question=f"Will {room.name} really get {need_mbps:.3g} Mb/s{way}?",
        guess=f"About {middle:.3g} Mb/s, from {low:.3g} to {high:.3g}.",
        costs="One more access point if it falls short.",
        settle=f"One reading there, doors shut, with an access point where {room.source_name} will stand.",
    )


def _queue(job: Job, after: Coverage) -> Iterator[OpenQuestion]:
    """Whether the line's queue is kept short, where a room asks for delay and all hangs on that."""
    rooms = [room for room in after.rooms if room.delay is not None and room.delay.verdict == "at risk"]
    if rooms and job.service.managed_queue is None:
        yield OpenQuestion(
            about=tuple(room.room for room in rooms),
            question="Is the queue of the provider's line kept short while somebody loads or sends?",
            guess="It may be either; the ranges of delay hold both.",
            costs="Calls and games in " + ", ".join(room.name for room in rooms) + " may break up.",
            settle="At the router, by cable: the delay while a large file goes up, then down.",
        )


def _gate(job: Job) -> Iterator[OpenQuestion]:
    if job.gate.asked_about_alarms is None:
        yield OpenQuestion(
            about=(job.id,),
            question="Does an alarm, a pendant, a lift or an entry phone hang on these cables?",
            guess="Every telephone pair may be in use.",
            costs="Somebody's alarm goes silent.",
            settle="Ask at the door, and look for a panel or a base station.",
        )
