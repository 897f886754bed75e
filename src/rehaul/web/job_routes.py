"""Jobs, their edits, and the numbers behind them."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route, WebSocketRoute

from rehaul.errors import BadInput
from rehaul.facts.listing import as_data, table_names
from rehaul.house import Job, dump_job
from rehaul.jobs import Receipt, demo_job, edit_from_data
from rehaul.web.answers import Absent, Json, json_of
from rehaul.web.context import context_of, device_of, sitting_of
from rehaul.web.live import ack, live
from rehaul.web.sitting import ON_PAPER
from rehaul.web.sockets import LARGEST_MESSAGE
from rehaul.web.ticks import require_ticks
from rehaul.words import say


async def job(request: Request) -> Response:
    """`GET /api/jobs/{job}`"""
    sitting = await sitting_of(request)
    state = sitting.ledger.state
    return Json({"revision": state.revision, "job": state.job.model_dump(mode="json")})


async def job_file(request: Request) -> Response:
    """`GET /api/jobs/{job}/file`"""
    sitting = await sitting_of(request)
    sitting.saw(ON_PAPER)
    name = f"{sitting.ledger.job.id}.rehaul.json"
    return Response(
        dump_job(sitting.ledger.job),
        media_type="application/json",
        headers={"content-disposition": f'attachment; filename="{name}"'},
    )


async def edits(request: Request) -> Response:
    """`POST /api/jobs/{job}/edits`"""
    sitting = await sitting_of(request)
    edit = edit_from_data(await json_of(request, LARGEST_MESSAGE))
    plans, person = context_of(request).plans, device_of(request).person

    def take() -> Receipt:
        require_ticks(plans, sitting, edit)
        return sitting.change(sitting.ledger.submit, person, edit)

    receipt = await context_of(request).store(take)
    plans.follow(sitting)
    sitting.wake()
    return Json(ack(receipt))


async def add(request: Request) -> Response:
    """`POST /api/jobs`"""
    data = await json_of(request, 10_000)
    if data.get("demo") is True:
        new = demo_job()
    elif isinstance(data.get("title"), str) and 1 <= len(data["title"].strip()) <= 80:
        new = Job(id="job", title=data["title"].strip())
    else:
        raise BadInput(
            say("refused_web.title_wanted"), where="title", remedy=say("refused_web.give_1_80_letters")
        )
    key = await context_of(request).store(context_of(request).desk.add, new)
    return Json({"id": key}, status_code=201)


async def schema(_: Request) -> Response:
    """`GET /api/schema`"""
    return Json(Job.model_json_schema())


async def facts(_: Request) -> Response:
    """`GET /api/facts`"""
    return Json(table_names())


async def fact_table(request: Request) -> Response:
    """`GET /api/facts/{table}`"""
    name = request.path_params["table"]
    if name not in table_names():
        raise Absent(
            say("refused_web.no_table", name=name[:40]),
            where="facts",
            remedy=say("refused_web.see_api_facts"),
        )
    return Json(as_data(name))


ROUTES = [
    Route("/api/jobs", add, methods=["POST"]),
    Route("/api/jobs/{job}", job),
    Route("/api/jobs/{job}/file", job_file),
    Route("/api/jobs/{job}/edits", edits, methods=["POST"]),
    WebSocketRoute("/api/jobs/{job}/live", live),
    Route("/api/schema", schema),
    Route("/api/facts", facts),
    Route("/api/facts/{table}", fact_table),
]
