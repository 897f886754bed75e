"""The plan, its maps and its papers."""

from __future__ import annotations

import json
from functools import lru_cache
from typing import Any

from anyio import to_thread
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rehaul.errors import BadInput
from rehaul.house import Job
from rehaul.jobs import tried
from rehaul.planning import Now, now_of
from rehaul.same import Same
from rehaul.web.answers import Absent, Json, compact, json_of
from rehaul.web.context import context_of, sitting_of
from rehaul.web.made import PlanMade
from rehaul.web.pages import TYPES
from rehaul.web.rasters import map_raster
from rehaul.web.reading import reader_of
from rehaul.web.sitting import ON_PAPER, Sitting
from rehaul.words import Language, again, reader, say


async def start(request: Request) -> Response:
    """`POST /api/jobs/{job}/plan` and `.../papers`"""
    sitting, kind = await _sitting(request), _kind(request)
    language = (reader().language,) if kind == "papers" else ()
    context_of(request).plans.start(sitting, kind, *language)
    return Json(context_of(request).plans.state(sitting, kind), status_code=202)


async def stop(request: Request) -> Response:
    """`DELETE /api/jobs/{job}/plan` and `.../papers`"""
    sitting, kind = await _sitting(request), _kind(request)
    context_of(request).plans.stop(sitting, kind)
    return Json(context_of(request).plans.state(sitting, kind))


async def plan(request: Request) -> Response:
    """`GET /api/jobs/{job}/plan`"""
    sitting, plans = await _sitting(request), context_of(request).plans
    found, state = plans.plan_of(sitting), compact(plans.state(sitting))
    said = found.texts[reader().language] if found else "null"
    text = f'{state[:-1]},"plan":{said}}}'  # in JSON already
    return Response(text, media_type="application/json")


async def now(request: Request) -> Response:
    """`GET /api/jobs/{job}/now`"""
    sitting, plans = await _sitting(request), context_of(request).plans
    state, piece = sitting.ledger.state, plans.piece(sitting, "plan")
    refusal = str(again(piece.refusal)["problem"]) if piece.state == "failed" and piece.refusal else ""
    found = None if refusal else plans.plan_of(sitting)
    said = await to_thread.run_sync(_now_of, state.job, found, reader().language, refusal)
    planned_of = piece.made if found else None
    rows = again(said, reader_of(state.job)).model_dump(mode="json")
    return Json({"revision": state.revision, "planned_of": planned_of, **rows})


def _now_of(job: Job, found: PlanMade | None, language: Language, refusal: str) -> Now:
    return now_of(job, _plan_data(Same(found), language) if found else None, refusal)


@lru_cache(maxsize=4)
def _plan_data(found: Same[PlanMade], language: Language) -> dict[str, Any]:
    """The plan as plain data; somebody looks at where the job stands after each edit."""
    data: dict[str, Any] = json.loads(found.of.texts[language])
    return data


async def answer(request: Request) -> Response:
    """`POST /api/jobs/{job}/answer`"""
    sitting, data = await _sitting(request), await json_of(request)
    changes = data.get("changes")
    if not isinstance(changes, list):
        remedy = say("refused_web.give_changes")
        raise BadInput(say("refused_web.changes_are_wanted"), where="changes", remedy=remedy)
    state = sitting.ledger.state
    with sitting.held():
        found = await context_of(request).plans.answer_if(sitting, tried(state, changes))
    text = f'{{"revision":{state.revision},"answer":{found.texts[reader().language]}}}'  # in JSON already
    return Response(text, media_type="application/json")


async def plan_map(request: Request) -> Response:
    """`GET /api/jobs/{job}/plan/map`"""
    sitting = await _sitting(request)
    plans = context_of(request).plans
    found, revision = plans.plan_of(sitting), plans.piece(sitting, "plan").revision
    if found is None:
        raise Absent(say("refused_web.no_plan_yet"), where="plan", remedy=say("refused_web.start_first"))
    ask = request.query_params
    maps = {"before": found.before, "after": found.after}.get(ask.get("which", "after"))
    if maps is None:
        raise BadInput(
            say("refused_web.not_a_map_of_the_plan"),
            where="which",
            remedy=say("refused_web.give_before_after"),
        )
    raster = map_raster(maps, ask.get("storey", ""), ask.get("quantity", "down_mbps"), ask.get("band"))
    return Response(raster.framed(revision=revision), media_type="application/octet-stream")


async def papers(request: Request) -> Response:
    """`GET /api/jobs/{job}/papers`"""
    sitting, plans = await _sitting(request), context_of(request).plans
    found: dict[str, bytes] = plans.piece(sitting, "papers").result or {}
    rows = [{"name": name, "type": _type(name), "bytes": len(body)} for name, body in sorted(found.items())]
    return Json({**plans.state(sitting, "papers"), "papers": rows})


async def paper(request: Request) -> Response:
    """`GET /api/jobs/{job}/papers/{name}`"""
    sitting, name = await _sitting(request), request.path_params["name"]
    found: dict[str, bytes] = context_of(request).plans.piece(sitting, "papers").result or {}
    if name not in found:
        raise Absent(
            say("refused_web.no_such_paper"), where="papers", remedy=say("refused_web.see_list_make_them")
        )
    sitting.saw(ON_PAPER)
    way = "inline" if name.endswith((".pdf", ".svg", ".png")) else "attachment"
    return Response(
        found[name], media_type=_type(name), headers={"content-disposition": f'{way}; filename="{name}"'}
    )


def _type(name: str) -> str:
    known = {
        ".pdf": "application/pdf",
        ".csv": "text/csv",
        ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    }
    suffix = "." + name.rsplit(".", 1)[-1]
    return known.get(suffix) or TYPES.get(suffix, "application/octet-stream")


def _kind(request: Request) -> str:
    return "papers" if request.url.path.endswith("/papers") else "plan"


async def _sitting(request: Request) -> Sitting:
    return await sitting_of(request)


ROUTES = [
    Route("/api/jobs/{job}/plan", plan),
    Route("/api/jobs/{job}/plan", start, methods=["POST"]),
    Route("/api/jobs/{job}/plan", stop, methods=["DELETE"]),
    Route("/api/jobs/{job}/now", now),
    Route("/api/jobs/{job}/answer", answer, methods=["POST"]),
    Route("/api/jobs/{job}/plan/map", plan_map),
    Route("/api/jobs/{job}/papers", papers),
    Route("/api/jobs/{job}/papers", start, methods=["POST"]),
    Route("/api/jobs/{job}/papers", stop, methods=["DELETE"]),
    Route("/api/jobs/{job}/papers/{name}", paper),
]
