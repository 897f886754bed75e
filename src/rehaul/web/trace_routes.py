"""Tracing as the readings stand, the wire-map helper, and what holds a cable."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import Any

from anyio import to_thread
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rehaul.errors import BadInput
from rehaul.house import Job, held_on
from rehaul.house.called import thing_called
from rehaul.tracing import (
    Bag,
    Traced,
    TracePlan,
    Trust,
    checks_before_cutting,
    classify,
    how_to_make,
    plan_tracing,
    traced,
)
from rehaul.web.answers import Absent, Json, json_of
from rehaul.web.context import sitting_of
from rehaul.words import say


async def tracing(request: Request) -> Response:
    """`GET /api/jobs/{job}/tracing?at=MP1&people=2&plugs=8`"""
    sitting = await sitting_of(request)
    ask = request.query_params
    people, plugs = _count(ask.get("people", "1"), 1, 2), _count(ask.get("plugs", "8"), 0, 200)
    trust = _trust(ask.get("trust", Trust.COLOURS))
    return Json(
        await to_thread.run_sync(_tracing, sitting.ledger.job, ask.get("at", ""), people, plugs, trust)
    )


async def wires(request: Request) -> Response:
    """`POST /api/wires`"""
    data = await json_of(request, 10_000)
    far_pins, split = _wire_map(data)
    return Json(asdict(classify(far_pins, split=split)))


async def checks(request: Request) -> Response:
    """`GET /api/jobs/{job}/checks/{run}`"""
    sitting = await sitting_of(request)
    job, name = sitting.ledger.job, request.path_params["run"]
    run = next((run for run in job.house.runs if run.id == name), None)
    if run is None:
        raise Absent(say("refused_web.no_such_cable"), where="run", remedy=say("refused_web.name_cable_job"))
    found = checks_before_cutting(run, job.obligations)
    return Json(
        {"checks": [asdict(row) for row in found], "held": [asdict(row) for row in held_on(job, name)]}
    )


def _tracing(job: Job, at: str, people: int, plugs: int, trust: Trust) -> dict[str, Any]:
    plan = plan_tracing(job, at, Bag(plugs=plugs, toner=True), people=people, colours_trusted=trust)
    return {**_planned(plan), **_known(traced(job, at, trust=trust)), "names": _names(job, plan)}


def _names(job: Job, plan: TracePlan) -> dict[str, str]:
    """How cables that are read and plates that get plugs are called in lists, by id."""
    plates = (outlet for placed in plan.codes.rounds for outlet, _ in placed)
    return {name: thing_called(job, name).listed(name) for name in (*plan.codes.problem.ends, *plates)}


def _planned(plan: TracePlan) -> dict[str, Any]:
    return {
        "still_off": plan.still_off,
        "take_out": plan.take_out,
        "sentence": plan.sentence,
        "first": [asdict(card) for card in plan.first],
        "proposed": [asdict(one) for one in plan.proposed],
        "left_alone": [{**asdict(one), "sentence": one.sentence} for one in plan.left_alone],
        "disconnect": asdict(plan.disconnect) if plan.disconnect else None,
        "last": [asdict(card) for card in plan.last],
        "may_tie": {"ends": plan.codes.problem.ends, "plates": plan.may_tie},
        "rounds": [
            [{"outlet": outlet, **asdict(plug), "made": how_to_make(plug)} for outlet, plug in placed]
            for placed in plan.codes.rounds
        ],
        "walk": plan.walks.sentence,
        "trips": [asdict(trip) for trip in plan.walks.trips],
        "never_located": plan.never_located,
        "cautions": plan.cautions,
    }


def _known(found: Traced) -> dict[str, Any]:
    return {
        "conductors": found.question.conductors,
        "ends": [
            {
                "end": end.end,
                "standing": str(end.standing),
                "reaches": end.reaches,
                "possible": [asdict(one) for one in end.possible[:6]],
                "notes": end.notes,
            }
            for end in found.answer.ends
        ],
        "contradictions": [asdict(one) for one in found.answer.contradictions],
        "next": [asdict(one) for one in found.next_readings],
        "bits_left": found.answer.bits_left if math.isfinite(found.answer.bits_left) else None,
    }


def _trust(text: str) -> Trust:
    if text not in list(Trust):
        remedy = say("refused_web.give_one_of_colours", names=tuple(Trust))
        raise BadInput(say("refused_web.says_nothing_colours", text=text[:40]), where="trust", remedy=remedy)
    return Trust(text)


def _count(text: str, least: int, most: int) -> int:
    if not text.isdecimal() or not least <= int(text) <= most:
        raise BadInput(
            say("refused_web.not_count", text=text[:20]),
            where="tracing",
            remedy=say("refused_web.give_from_to", least=least, most=most),
        )
    return int(text)


def _wire_map(data: dict[str, Any]) -> tuple[dict[int, tuple[int, ...]], list[tuple[int, ...]]]:
    try:
        far_pins = {int(near): tuple(int(pin) for pin in far) for near, far in data["far_pins"].items()}
        return far_pins, [(int(one), int(other)) for one, other in data.get("split") or ()]
    except (AttributeError, KeyError, TypeError, ValueError):
        remedy = say("refused_web.give_far_pins_1")
        raise BadInput(say("refused_web.not_reading_pins"), where="far_pins", remedy=remedy) from None


ROUTES = [
    Route("/api/jobs/{job}/tracing", tracing),
    Route("/api/jobs/{job}/checks/{run}", checks),
    Route("/api/wires", wires, methods=["POST"]),
]
