"""What the record of a house still lacks."""

from __future__ import annotations

from anyio import to_thread
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rehaul.house.audit import audit
from rehaul.web.answers import Json
from rehaul.web.context import sitting_of
from rehaul.web.reading import reader_of
from rehaul.words import again


async def findings(request: Request) -> Response:
    """`GET /api/jobs/{job}/findings`"""
    sitting = await sitting_of(request)
    state = sitting.ledger.state
    found = again(await to_thread.run_sync(audit, state.job), reader_of(state.job))
    return Json({"revision": state.revision, "findings": [one.model_dump(mode="json") for one in found]})


ROUTES = [Route("/api/jobs/{job}/findings", findings)]
