"""What the record of a house still lacks."""

from __future__ import annotations

from anyio import to_thread
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rehaul.house import Job, Model
from rehaul.house.audit import asks, audit
from rehaul.web.answers import Json
from rehaul.web.context import sitting_of
from rehaul.web.reading import reader_of
from rehaul.words import again


def _looked_over(job: Job) -> dict[str, tuple[Model, ...]]:
    found = audit(job)
    return {"findings": found, "asks": asks(job, found)}


async def findings(request: Request) -> Response:
    """`GET /api/jobs/{job}/findings`"""
    sitting = await sitting_of(request)
    state = sitting.ledger.state
    rows = again(await to_thread.run_sync(_looked_over, state.job), reader_of(state.job))
    listed = {name: [one.model_dump(mode="json") for one in ones] for name, ones in rows.items()}
    return Json({"revision": state.revision, **listed})


ROUTES = [Route("/api/jobs/{job}/findings", findings)]
