"""An offer as it was signed: frozen text with a hash, kept in the job."""

from __future__ import annotations

import datetime
import hashlib
import json

from rehaul.errors import BadInput
from rehaul.house import AcceptedOffer, Job, SignOff, thing_from
from rehaul.takeoff.results import Quote, QuoteOption
from rehaul.words import LANGUAGES, Reader, again, say


def offer_text(job: Job, quote: Quote, option: QuoteOption, plan_sha256: str = "") -> str:
    """What is signed, as canonical JSON: keys sorted, no spaces, one way to write each number.

    With the hash of the plan behind it, where that is kept: the signature covers the steps too. **Source**:
    docs/work.md, "Quote".
    """
    offer = {
        **({"plan_sha256": plan_sha256} if plan_sha256 else {}),
        "job": job.id,
        "title": job.title,
        "date": job.date,
        "currency": quote.currency,
        "option": option.model_dump(mode="json"),
        "included": quote.included,
        "excluded": quote.excluded,
        "assumptions": quote.assumptions,
        "unknowns": quote.unknowns,
        "promises": quote.promises,
        "deposit_pct": round(100 * quote.deposit / quote.total, 6) if quote.total else 0.0,
        "valid_until": quote.valid_until,
        "valid_days": quote.valid_days,
    }
    return json.dumps(offer, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def accept(job: Job, quote: Quote, option_name: str, sign_off: SignOff, plan: str = "") -> Job:
    """The job with one option of its quote accepted; earlier acceptances stay, the last one rules.

    `plan` is the plan of that very option, as `signed_plan_text` writes it. Raises BadInput where no option
    has that name, or the offer is out of date on the day of signing. **Source**: docs/work.md, "Quote".
    """
    option = offer_named(quote, option_name)
    if quote.valid_until and sign_off.date > quote.valid_until:
        raise BadInput(
            say("refused_takeoff.offer_ran_out", valid_until=quote.valid_until),
            where="quote",
            remedy=say("refused_takeoff.quote_anew"),
        )
    plan_sha256 = digest(plan) if plan else ""
    text = offer_text(job, quote, option, plan_sha256)
    accepted = AcceptedOffer(
        id=f"A{len(job.accepted_offers) + 1}",
        option=option.name,
        total=option.total,
        currency=quote.currency,
        offer=text,
        sha256=digest(text),
        sign_off=sign_off,
        plan=plan,
        plan_sha256=plan_sha256,
    )
    return job.model_copy(update={"accepted_offers": (*job.accepted_offers, accepted)})


def offer_named(quote: Quote, name: str) -> QuoteOption:
    """One offer of a quote, by the name that the quote shows, in any language that it may be read in.

    Raises BadInput, with the names there are, where it has none of that name.
    """
    option = next((option for option in quote.options if name in _names(option)), None)
    if option is None:
        names = [option.name for option in quote.options]
        known = (
            say("refused_takeoff.use_offer", names=names) if names else say("refused_takeoff.use_no_offer")
        )
        raise BadInput(say("refused_takeoff.no_offer", name=name), where="quote", remedy=known)
    return option


def _names(option: QuoteOption) -> set[str]:
    return {option.name, *(str(again(option.name, Reader(language))) for language in LANGUAGES)}


def digest(text: str) -> str:
    """SHA-256 of the text in UTF-8: 64 hexadecimal digits, as a signature covers them.

    **Source**: FIPS 180-4, by the standard library.

    >>> digest("")[:16]
    'e3b0c44298fc1c14'
    """
    return hashlib.sha256(text.encode()).hexdigest()


def is_intact(accepted: AcceptedOffer) -> bool:
    """Whether an accepted offer, and the plan kept with it, still read as they were signed.

    The texts must have the digests that stand beside them, and say the name, total and plan's digest that
    do. False, never an error, where the text is none. False too once it was erased: `is_erased` tells these
    apart.

    **Validity**: shows what a fault or a hasty hand altered; a digest is no signature of a person.
    **Source**: SHA-256 of the canonical text; docs/work.md, "What is signed".
    """
    try:
        said = json.loads(accepted.offer)
        names = (said["option"]["name"], said["option"]["total"], said.get("plan_sha256", ""))
    except (ValueError, KeyError, TypeError, AttributeError):
        return False
    return (
        digest(accepted.offer) == accepted.sha256
        and (digest(accepted.plan) if accepted.plan else "") == accepted.plan_sha256
        and names == (accepted.option, accepted.total, accepted.plan_sha256)
    )


def is_erased(accepted: AcceptedOffer) -> bool:
    """Whether the text of an accepted offer was erased with the household's data; its digest stays.

    An offer that never had a text counts as erased too.
    """
    return not accepted.offer


def signature(by: str, date: str, words: str = "") -> SignOff:
    """A sign-off from plain words: `by` without blanks around it, `date` as YYYY-MM-DD.

    Raises BadInput for a name that is empty or over 80 letters, a day that does not exist, or over 2000
    letters of words.
    """
    where = say("refused_common.where_sign_off")
    try:
        day = datetime.date.fromisoformat(date).isoformat()
    except ValueError:
        raise BadInput(
            say("refused_takeoff.no_day", date=date[:20]), where=where, remedy=say("refused_takeoff.give_day")
        ) from None
    if not 1 <= len(by.strip()) <= 80 or len(words) > 2000:
        raise BadInput(say("refused_takeoff.no_signer"), where=where, remedy=say("refused_takeoff.say_who"))
    return thing_from(SignOff, {"by": by.strip(), "date": day, "words": words}, where=where)
