"""Offers of a quote as they were accepted: frozen, listed, never altered."""

from __future__ import annotations

import secrets
from typing import Any

from anyio import to_thread
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rehaul.errors import BadInput
from rehaul.house import AcceptedOffer, Job
from rehaul.jobs import edit_from_data
from rehaul.takeoff import Quote, accept, is_intact, is_offered_still, signature
from rehaul.web.answers import Absent, Json, json_of
from rehaul.web.context import context_of, device_of
from rehaul.web.hub import Sitting
from rehaul.web.plans import fits


async def listing(request: Request) -> Response:
    """`GET /api/jobs/{job}/offers`"""
    sitting = await _sitting(request)
    job, quote = sitting.ledger.job, _quote(request, sitting)
    return Json([_row(offer, job, quote) for offer in job.accepted_offers])


async def add(request: Request) -> Response:
    """`POST /api/jobs/{job}/offers`"""
    sitting, data = await _sitting(request), await json_of(request, 10_000)
    option, by, date, words = (data.get(name, "") for name in ("option", "by", "date", "words"))
    if not all(isinstance(text, str) for text in (option, by, date, words)):
        raise BadInput("words are wanted", where="offer", remedy="Give option, by, date and words as text")
    before = sitting.ledger.state
    quote = _quote(request, sitting)
    if quote is None:
        remedy = "Make the plan, look at the price, then accept"
        raise BadInput("there is no quote of the job as it is now", where="quote", remedy=remedy)
    offers = accept(before.job, quote, option, signature(by, date, words)).accepted_offers
    fields = {"accepted_offers": [offer.model_dump(mode="json") for offer in offers]}
    change = {"do": "set", "kind": "job", "fields": fields}
    label = f"Offer accepted: {option}"[:80]
    edit = {"edit": secrets.token_hex(12), "base": before.revision, "label": label, "changes": [change]}
    person = device_of(request).person

    def submit() -> int:
        return sitting.ledger.submit(person, edit_from_data(edit), from_file=True).revision

    if await to_thread.run_sync(submit) == before.revision + 1:
        context_of(request).plans.carry(sitting, "plan", before.job)
    sitting.wake()
    return Json(_row(offers[-1], sitting.ledger.job, quote), status_code=201)


async def text(request: Request) -> Response:
    """`GET /api/jobs/{job}/offers/{offer}`"""
    sitting, name = await _sitting(request), request.path_params["offer"]
    offer = next((one for one in sitting.ledger.job.accepted_offers if one.id == name), None)
    if offer is None:
        raise Absent("there is no such offer", where="offers", remedy="See the list")
    headers = {"content-disposition": f'attachment; filename="offer-{offer.id}.json"'}
    return Response(offer.offer, media_type="application/json", headers=headers)


def _quote(request: Request, sitting: Sitting) -> Quote | None:
    """The quote of the job as it is now; None where no plan was made of that."""
    piece = context_of(request).plans.piece(sitting, "plan")
    if piece.state != "done" or not fits("plan", piece.job, sitting.ledger.job):
        return None
    quote: Quote = piece.result.takeoff.quote
    return quote


def _row(offer: AcceptedOffer, job: Job, quote: Quote | None) -> dict[str, Any]:
    data = offer.model_dump(mode="json", exclude={"offer"})
    still = None if quote is None else is_offered_still(offer, job, quote)
    return {**data, "intact": is_intact(offer), "still_offered": still}


async def _sitting(request: Request) -> Sitting:
    return await context_of(request).hub.sitting(request.path_params["job"])


ROUTES = [
    Route("/api/jobs/{job}/offers", listing),
    Route("/api/jobs/{job}/offers", add, methods=["POST"]),
    Route("/api/jobs/{job}/offers/{offer}", text),
]
