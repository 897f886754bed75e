"""Offers of a quote as they were accepted: frozen, listed, never altered."""

from __future__ import annotations

import secrets
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rehaul.errors import BadInput
from rehaul.house import AcceptedOffer
from rehaul.jobs import edit_from_data
from rehaul.takeoff import how_kept, is_intact
from rehaul.web.answers import Absent, Json, json_of
from rehaul.web.context import context_of, device_of, sitting_of
from rehaul.web.plans import LONGEST_S
from rehaul.web.sitting import Sitting
from rehaul.words import say


async def listing(request: Request) -> Response:
    """`GET /api/jobs/{job}/offers`"""
    sitting = await _sitting(request)
    offers = sitting.ledger.job.accepted_offers
    return Json([_row(offer, offers) for offer in offers])


async def add(request: Request) -> Response:
    """`POST /api/jobs/{job}/offers`"""
    sitting, data = await _sitting(request), await json_of(request, 10_000)
    said = [data.get(name, "") for name in ("option", "by", "date", "words")]
    if not all(isinstance(text, str) for text in said):
        raise BadInput(
            say("refused_web.words_are_wanted"),
            where="offer",
            remedy=say("refused_web.give_option_date_words"),
        )
    plans, before = context_of(request).plans, sitting.ledger.state
    if not plans.stands(sitting):
        remedy = say("refused_web.make_plan_look_at")
        raise BadInput(say("refused_web.no_quote_of_job_as_it_is"), where="quote", remedy=remedy)
    with sitting.held():
        found = await plans.worker.run("accept", before.job, *said, seconds=LONGEST_S)
    if not plans.stands(sitting):
        raise BadInput(
            say("refused_web.job_edited_meanwhile"), where="quote", remedy=say("refused_web.make_plan_again")
        )
    offers = [offer.model_dump(mode="json") for offer in found]
    change = {"do": "set", "kind": "job", "fields": {"accepted_offers": offers}}
    label = f"Offer accepted: {said[0]}"[:80]
    edit = {"edit": secrets.token_hex(12), "base": before.revision, "label": label, "changes": [change]}
    person = device_of(request).person
    found_edit = edit_from_data(edit)
    await context_of(request).store(
        sitting.change, lambda: sitting.ledger.submit(person, found_edit, from_file=True)
    )
    plans.start(sitting, "plan")  # what is signed is in force from here on
    sitting.wake()
    accepted = sitting.ledger.job.accepted_offers
    return Json(_row(accepted[-1], accepted), status_code=201)


async def text(request: Request) -> Response:
    """`GET /api/jobs/{job}/offers/{offer}`"""
    sitting, name = await _sitting(request), request.path_params["offer"]
    offer = _offer(sitting, name)
    if not offer.offer:
        raise Absent(
            say("refused_web.text_erased"),
            where=say("refused_web.offer", offer=offer.id),
            remedy=say("refused_web.price_and_hash_were_kept"),
        )
    headers = {"content-disposition": f'attachment; filename="offer-{offer.id}.json"'}
    return Response(offer.offer, media_type="application/json", headers=headers)


async def signed(request: Request) -> Response:
    """`GET /api/jobs/{job}/offers/{offer}/plan`"""
    offer = _offer(await _sitting(request), request.path_params["offer"])
    if not offer.plan:
        raise Absent(
            say("refused_web.plan_not_kept"),
            where=say("refused_web.offer", offer=offer.id),
            remedy=say("refused_web.words_and_price_were_kept"),
        )
    headers = {"content-disposition": f'attachment; filename="offer-{offer.id}-plan.json"'}
    return Response(offer.plan, media_type="application/json", headers=headers)


def _offer(sitting: Sitting, name: str) -> AcceptedOffer:
    offer = next((one for one in sitting.ledger.job.accepted_offers if one.id == name), None)
    if offer is None:
        raise Absent(say("refused_web.no_such_offer"), where="offers", remedy=say("refused_web.see_list"))
    return offer


def _row(offer: AcceptedOffer, offers: tuple[AcceptedOffer, ...]) -> dict[str, Any]:
    data = offer.model_dump(mode="json", exclude={"offer", "plan"})
    return {**data, "intact": is_intact(offer), "kept": how_kept(offer), "in_force": offer is offers[-1]}


async def _sitting(request: Request) -> Sitting:
    return await sitting_of(request)


ROUTES = [
    Route("/api/jobs/{job}/offers", listing),
    Route("/api/jobs/{job}/offers", add, methods=["POST"]),
    Route("/api/jobs/{job}/offers/{offer}", text),
    Route("/api/jobs/{job}/offers/{offer}/plan", signed),
]
