"""Letting devices in and out."""

from __future__ import annotations

import asyncio
from importlib.metadata import version
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rehaul.errors import BadInput
from rehaul.house import SCHEMA_VERSION
from rehaul.jobs import Browser, good_name
from rehaul.web.answers import Json, json_of, said
from rehaul.web.context import Context, context_of, device_of
from rehaul.web.gate import address_of, session_cookie
from rehaul.web.pairing import LIFE_S, TooSoon, WrongCode, pairing_url, qr_svg
from rehaul.words import say

LONGEST_KEY = 200  # letters of a job's key in an address


async def pair(request: Request) -> Response:
    """`POST /api/pair`"""
    context, data = context_of(request), await json_of(request, 10_000)
    code, name = data.get("code"), data.get("name")
    if not isinstance(code, str) or not isinstance(name, str):
        raise BadInput(
            say("refused_web.code_name_are_wanted"), where="pair", remedy=say("refused_web.send_both_as_text")
        )
    name, people, address = good_name(name), context.desk.people, address_of(request.scope)
    try:
        used = context.codes.use(code, address)
    except WrongCode:
        people.record("wrong-code", address, say("told.wrong_code"))
        await asyncio.sleep(context.codes.hold_s())
        raise
    except TooSoon:
        people.record("limit", address, say("told.codes_too_fast"))
        raise
    try:
        token, device = await context.sessions.ask(people.pair, name)
    except BaseException:
        context.codes.give_back(used)
        raise
    people.record("paired", address, say("told.paired_device", name=device.name))
    if visitor := getattr(request.state, "visitor", None):
        visitor.is_known(device.id)  # from here on its address is one of paired people
    if before := request.state.device:  # what this browser held until now
        await context.sessions.ask(people.forget, before.id)
        context.sessions.end(before.id)
    answer = Json(await _me(context, device))
    answer.raw_headers.append(session_cookie(context.settings, token))
    return answer


async def me(request: Request) -> Response:
    """`GET /api/me`"""
    return Json(await _me(context_of(request), device_of(request)))


async def codes(request: Request) -> Response:
    """`POST /api/codes?job=mill-house`: with a job, the address opens it once the device is in."""
    context = context_of(request)
    code = context.codes.new()
    url = pairing_url(context.settings.url, code.code, request.query_params.get("job", "")[:LONGEST_KEY])
    return Json({"code": code.code, "url": url, "qr_svg": qr_svg(url), "seconds": LIFE_S})


async def devices(request: Request) -> Response:
    """`GET /api/devices`"""
    rows = await context_of(request).sessions.ask(context_of(request).desk.people.devices)
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
    people = context.desk.people
    gone = await context.sessions.ask(people.forget, device)
    if gone:
        words = say("told.forgotten_device", name=gone.name, by=device_of(request).name)
        people.record("forgotten", address_of(request.scope), words)
    context.sessions.end(device)
    return Json({})


async def security(request: Request) -> Response:
    """`GET /api/security`"""
    rows = await context_of(request).sessions.events()
    told = ("at", "kind", "address", "words", "times")
    return Json({"events": [{name: getattr(row, name) for name in told} for row in rows]})


async def _me(context: Context, device: Browser) -> dict[str, Any]:
    jobs = await context.store(context.desk.jobs)
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
        "unreadable": [
            {"file": name, **said(refusal)} for name, refusal in sorted(context.desk.unreadable.items())
        ],
    }


ROUTES = [
    Route("/api/pair", pair, methods=["POST"]),
    Route("/api/me", me),
    Route("/api/codes", codes, methods=["POST"]),
    Route("/api/devices", devices),
    Route("/api/devices/{device}/forget", forget, methods=["POST"]),
    Route("/api/security", security),
]
