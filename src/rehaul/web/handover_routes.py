"""The handover record: made by the worker, with the photos of the work put in by the server."""

from __future__ import annotations

import io
import json
import zipfile

from anyio import to_thread
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rehaul.house.record_place import require_place
from rehaul.jobs import Shelf
from rehaul.web.answers import Absent, Json, body_of, object_from
from rehaul.web.asking import asked
from rehaul.web.context import context_of, sitting_of
from rehaul.web.sitting import ON_PAPER, Sitting
from rehaul.words import reader, say

KIND = "handover"
LARGEST_ASKED = 10_000  # bytes


async def state(request: Request) -> Response:
    """`GET /api/jobs/{job}/handover`"""
    sitting, plans = await _sitting(request), context_of(request).plans
    found: dict[str, bytes] = plans.piece(sitting, KIND).result or {}
    rows = [{"name": name, "bytes": len(body)} for name, body in found.items()]
    _, kept_at, _ = plans.piece(sitting, KIND).said or ("", "", "")
    return Json({**plans.state(sitting, KIND), "kept_at": kept_at, "files": rows})


async def start(request: Request) -> Response:
    """`POST /api/jobs/{job}/handover`: without a body, nothing is said of where the record is kept."""
    sitting, plans = await _sitting(request), context_of(request).plans
    body = await body_of(request, LARGEST_ASKED)
    sitting.saw(ON_PAPER)
    kept_at = require_place(object_from(body).get("kept_at", "") if body else "", where="kept_at")
    photos = await asked(_shelf(sitting).photos)
    plans.start(sitting, KIND, json.dumps(photos), kept_at, reader().language)
    return Json(plans.state(sitting, KIND), status_code=202)


async def stop(request: Request) -> Response:
    """`DELETE /api/jobs/{job}/handover`"""
    sitting, plans = await _sitting(request), context_of(request).plans
    plans.stop(sitting, KIND)
    return Json(plans.state(sitting, KIND))


async def record(request: Request) -> Response:
    """`GET /api/jobs/{job}/handover/file`: one zip file."""
    sitting, plans = await _sitting(request), context_of(request).plans
    piece = plans.piece(sitting, KIND)
    found: dict[str, bytes] = piece.result or {}
    if not found:
        raise Absent(
            say("refused_web.no_handover_record_yet"), where="handover", remedy=say("refused_web.make_first")
        )
    ((name, made),) = found.items()
    shelf = _shelf(sitting)
    photos = {file: (await asked(shelf.get, one))[0] for one, _, file in json.loads(piece.said[0])}
    body = await to_thread.run_sync(with_photos, made, photos)
    return Response(
        body,
        media_type="application/zip",
        headers={"content-disposition": f'attachment; filename="{sitting.ledger.job_id}-{name}"'},
    )


def with_photos(record: bytes, photos: dict[str, bytes]) -> bytes:
    """The zip file with the photos added, by the names that the record calls them."""
    whole = io.BytesIO(record)
    with zipfile.ZipFile(whole, "a") as folder:
        for name, data in photos.items():
            folder.writestr(name, data)  # pictures are small already
    return whole.getvalue()


async def _sitting(request: Request) -> Sitting:
    return await sitting_of(request)


def _shelf(sitting: Sitting) -> Shelf:
    return Shelf(sitting.ledger.store, sitting.ledger.job_id)


ROUTES = [
    Route("/api/jobs/{job}/handover", state),
    Route("/api/jobs/{job}/handover", start, methods=["POST"]),
    Route("/api/jobs/{job}/handover", stop, methods=["DELETE"]),
    Route("/api/jobs/{job}/handover/file", record),
]
