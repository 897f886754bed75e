"""One server: its parts put together, behind the gate."""

from __future__ import annotations

import contextlib
from collections.abc import AsyncIterator

from starlette.applications import Starlette
from starlette.routing import Mount, Route
from starlette.types import ASGIApp

from rehaul.errors import Refusal
from rehaul.jobs import Desk
from rehaul.web import (
    field_socket,
    handover_routes,
    job_routes,
    meter_routes,
    offer_routes,
    people_routes,
    picture_routes,
    plan_routes,
    record_routes,
    trace_routes,
)
from rehaul.web.answers import our_fault, refused
from rehaul.web.context import Context
from rehaul.web.gate import DoorKeeper
from rehaul.web.hub import Hub
from rehaul.web.meter import Meter
from rehaul.web.pages import Pages
from rehaul.web.pairing import Codes
from rehaul.web.plans import Plans
from rehaul.web.reading import Spoken
from rehaul.web.sessions import Sessions
from rehaul.web.settings import Settings
from rehaul.web.uploads import Uploads
from rehaul.web.visitors import Visitors


def make_app(
    desk: Desk, settings: Settings, codes: Codes | None = None, visitors: Visitors | None = None
) -> ASGIApp:
    """The server of a desk, as an ASGI application; it closes the desk when it ends."""
    parts = (
        people_routes,
        job_routes,
        plan_routes,
        picture_routes,
        meter_routes,
        trace_routes,
        record_routes,
        offer_routes,
        handover_routes,
        field_socket,
    )
    routes = [route for part in parts for route in part.ROUTES]
    routes.append(Mount("/api", routes=[]))  # what is not known there is not a page
    routes.append(Route("/{path:path}", Pages().answer))

    sessions = Sessions(desk.people)
    visitors = visitors or Visitors()
    visitors.limit_reached = lambda address, words: desk.people.record("limit", address, words)

    @contextlib.asynccontextmanager
    async def life(app: Starlette) -> AsyncIterator[None]:
        plans = Plans(settings.memory_bytes)
        context = Context(
            settings=settings,
            desk=desk,
            hub=Hub(desk, plans.is_working),
            codes=codes or Codes(),
            plans=plans,
            meter=Meter(),
            uploads=Uploads(),
            sessions=sessions,
            visitors=visitors,
        )
        app.state.context = context
        sessions.start()
        context.hub.start()
        try:
            yield
        finally:
            context.uploads.close()
            await context.plans.close()
            await sessions.close()
            await context.hub.close()

    app = Starlette(routes=routes, lifespan=life, exception_handlers={Refusal: refused, Exception: our_fault})
    return DoorKeeper(Spoken(app), settings, sessions)
