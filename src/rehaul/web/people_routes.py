"""Letting devices in and out."""

from __future__ import annotations

from importlib.metadata import version
from typing import Any

from anyio import to_thread
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rehaul.errors import BadInput
from rehaul.house import SCHEMA_VERSION
from rehaul.jobs import Device
from rehaul.web.answers import Json, json_of
from rehaul.web.context import Context, context_of, device_of
from rehaul.web.pairing import LIFE_S, pairing_url, qr_svg

COOKIE_LIFE_S = 180 * 24 * 3600


async def pair(request: Request) -> Response:
    """`POST /api/pair`"""
    context, data = context_of(request), await json_of(request, 10_000)
    code, name = data.get("code"), data.get("name")
    if not isinstance(code, str) or not isinstance(name, str):
        raise BadInput("code and name are wanted", where="pair", remedy="Send both as text")
    context.codes.use(code)
    token, device = await to_thread.run_sync(context.desk.people.pair, name)
    answer = Json(await _me(context, device))
    answer.set_cookie(
        context.settings.cookie,
        token,
        max_age=COOKIE_LIFE_S,
        path="/",
        httponly=True,
        samesite="strict",
        secure=context.settings.tls,
    )
    return answer


async def me(request: Request) -> Response:
    """`GET /api/me`"""
    return Json(await _me(context_of(request), device_of(request)))


async def codes(request: Request) -> Response:
    """`POST /api/codes`"""
    context = context_of(request)
    code = context.codes.new()
    url = pairing_url(context.settings.url, code.code)
    return Json({"code": code.code, "url": url, "qr_svg": qr_svg(url), "seconds": LIFE_S})


async def devices(request: Request) -> Response:
    """`GET /api/devices`"""
    rows = await to_thread.run_sync(context_of(request).desk.people.devices)
    here = device_of(request).id
    return Json(
        [
            {
                "device": row.id,
                "person": row.person,
                "name": row.name,
                "since": row.since,
                "here": row.id == here,
            }
            for row in rows
        ]
    )


async def forget(request: Request) -> Response:
    """`POST /api/devices/{device}/forget`"""
    context, device = context_of(request), request.path_params["device"]
    await to_thread.run_sync(context.desk.people.forget, device)
    context.hub.forget(device)
    return Json({})


async def _me(context: Context, device: Device) -> dict[str, Any]:
    jobs = await to_thread.run_sync(context.desk.jobs)
    return {
        "person": device.person,
        "name": device.name,
        "device": device.id,
        "mark": device.mark,
        "version": version("rehaul"),
        "schema_version": SCHEMA_VERSION,
        "lan": context.settings.lan,
        "tls": context.settings.tls,
        "jobs": [{"id": key, "title": title, "revision": revision} for key, title, revision in jobs],
    }


ROUTES = [
    Route("/api/pair", pair, methods=["POST"]),
    Route("/api/me", me),
    Route("/api/codes", codes, methods=["POST"]),
    Route("/api/devices", devices),
    Route("/api/devices/{device}/forget", forget, methods=["POST"]),
]
