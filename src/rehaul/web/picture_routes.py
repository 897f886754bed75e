"""Pictures of plans, photos of steps, and houses from files that strangers made."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rehaul.errors import BadInput
from rehaul.jobs import Shelf
from rehaul.web.answers import Json, json_of
from rehaul.web.asking import asked
from rehaul.web.context import context_of, sitting_of
from rehaul.web.pictures import LARGEST_UPLOAD, LONGEST_PHOTO_PX, LONGEST_SIDE_PX
from rehaul.web.sitting import Sitting
from rehaul.words import say

LARGEST_FILE = 100_000_000
KEPT_S = 604_800  # by a browser: a week, for one that is erased is kept no longer
KEEP_S = 60.0  # for the store to take a picture
SUFFIXES = {"ifc": ".ifc", "dxf": ".dxf", "rooms": ".txt", "job": ".json"}


async def add(request: Request) -> Response:
    """`POST /api/jobs/{job}/pictures`"""
    sitting = await _sitting(request)
    page, step = _page(request), request.query_params.get("step")
    longest_px = LONGEST_SIDE_PX if step is None else LONGEST_PHOTO_PX
    uploads = context_of(request).uploads
    with sitting.held():  # a file may be long in coming
        async with uploads.file(request, LARGEST_UPLOAD) as file:
            picture = await uploads.picture(file, page, longest_px)
    about = {
        "width_px": picture.width_px,
        "height_px": picture.height_px,
        "page": picture.page,
        "pages": picture.pages,
    }
    name = await asked(_shelf(sitting).add, picture.data, picture.type, about, step, seconds=KEEP_S)
    _tell(sitting)
    return Json({"picture": name, "step": step, **about}, status_code=201)


async def listing(request: Request) -> Response:
    """`GET /api/jobs/{job}/pictures`"""
    return Json(await asked(_shelf(await _sitting(request)).list))


async def get(request: Request) -> Response:
    """`GET /api/jobs/{job}/pictures/{picture}`"""
    shelf = _shelf(await _sitting(request))
    data, kind = await asked(shelf.get, request.path_params["picture"])
    return Response(data, media_type=kind, headers={"cache-control": f"private, max-age={KEPT_S}, immutable"})


async def place(request: Request) -> Response:
    """`PUT /api/jobs/{job}/pictures/{picture}/placement`"""
    sitting, data = await _sitting(request), await json_of(request, 10_000)
    about = await asked(_shelf(sitting).place, request.path_params["picture"], data)
    _tell(sitting)
    return Json(about)


async def drop(request: Request) -> Response:
    """`DELETE /api/jobs/{job}/pictures/{picture}`"""
    sitting = await _sitting(request)
    await asked(_shelf(sitting).drop, request.path_params["picture"])
    _tell(sitting)
    return Json({})


async def read(request: Request) -> Response:
    """`POST /api/jobs/{job}/read`"""
    await _sitting(request)
    kind, uploads = request.query_params.get("kind", ""), context_of(request).uploads
    if kind not in SUFFIXES:
        raise BadInput(
            say("refused_web.files_of_kind_not_read", kind=kind[:20]),
            where="kind",
            remedy=say("refused_common.give_one_of", names=SUFFIXES),
        )
    async with uploads.file(request, LARGEST_FILE, SUFFIXES[kind]) as file:
        report = await uploads.house(file)
    return Json(
        {
            "house": report.house.model_dump(mode="json"),
            "counts": report.counts.model_dump(),
            "not_understood": [row.model_dump() for row in report.not_understood],
            "notes": list(report.notes),
        }
    )


async def _sitting(request: Request) -> Sitting:
    return await sitting_of(request)


def _shelf(sitting: Sitting) -> Shelf:
    return Shelf(sitting.ledger.store, sitting.ledger.job_id)


def _tell(sitting: Sitting) -> None:
    sitting.pictures_version += 1
    sitting.wake()


def _page(request: Request) -> int:
    text = request.query_params.get("page", "1")
    if not (text.isascii() and text.isdigit() and len(text) <= 4):
        raise BadInput(
            say("refused_web.not_page_number"), where="page", remedy=say("refused_web.give_1_first_page")
        )
    return int(text)


ROUTES = [
    Route("/api/jobs/{job}/pictures", listing),
    Route("/api/jobs/{job}/pictures", add, methods=["POST"]),
    Route("/api/jobs/{job}/pictures/{picture}", get),
    Route("/api/jobs/{job}/pictures/{picture}", drop, methods=["DELETE"]),
    Route("/api/jobs/{job}/pictures/{picture}/placement", place, methods=["PUT"]),
    Route("/api/jobs/{job}/read", read, methods=["POST"]),
]
