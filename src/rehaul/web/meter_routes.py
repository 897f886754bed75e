"""The meter's addresses."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rehaul.web.answers import Json
from rehaul.web.context import context_of, device_of
from rehaul.web.meter import RUN_LIFE_S, Down, MeterRun, count_upload, seconds_asked


async def new(request: Request) -> Response:
    """`POST /api/meter`"""
    run = context_of(request).meter.new(device_of(request).id)
    return Json({"run": run.id, "seconds": RUN_LIFE_S}, status_code=201)


async def ping(request: Request) -> Response:
    """`GET /api/meter/{run}/ping`"""
    _run(request)
    return Response(status_code=204)


async def down(request: Request) -> Response:
    """`GET /api/meter/{run}/down`"""
    return Down(_run(request), seconds_asked(request))


async def up(request: Request) -> Response:
    """`POST /api/meter/{run}/up`"""
    return await count_upload(request, _run(request))


async def result(request: Request) -> Response:
    """`GET /api/meter/{run}`"""
    return Json(_run(request).as_dict())


def _run(request: Request) -> MeterRun:
    return context_of(request).meter.run(request.path_params["run"], device_of(request).id)


ROUTES = [
    Route("/api/meter", new, methods=["POST"]),
    Route("/api/meter/{run}", result),
    Route("/api/meter/{run}/ping", ping),
    Route("/api/meter/{run}/down", down),
    Route("/api/meter/{run}/up", up, methods=["POST"]),
]
