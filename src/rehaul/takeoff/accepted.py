"""An offer as it was signed: frozen text with a hash, kept in the job."""

from __future__ import annotations

import datetime
import hashlib
import json

from rehaul.errors import BadInput
from rehaul.house import AcceptedOffer, Job, SignOff
from rehaul.takeoff.results import Quote, QuoteOption


def offer_text(job: Job, quote: Quote, option: QuoteOption) -> str:
    """What is signed, as canonical JSON: keys sorted, no spaces, one way to write each number."""
    offer = {
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


def accept(job: Job, quote: Quote, option_name: str, sign_off: SignOff) -> Job:
    """The job with one option of its quote accepted; earlier acceptances stay, the last one rules.

    Raises BadInput where no option has that name, or the offer is out of date on the day of signing.
    """
    option = next((option for option in quote.options if option.name == option_name), None)
    if option is None:
        names = ", ".join(option.name for option in quote.options) or "none"
        raise BadInput(f"there is no offer {option_name!r}", where="quote", remedy=f"Use one of: {names}")
    if quote.valid_until and sign_off.date > quote.valid_until:
        raise BadInput(
            f"the offer held until {quote.valid_until}", where="quote", remedy="Make the quote anew"
        )
    text = offer_text(job, quote, option)
    accepted = AcceptedOffer(
        id=f"A{len(job.accepted_offers) + 1}",
        option=option.name,
        total=option.total,
        currency=quote.currency,
        offer=text,
        sha256=digest(text),
        sign_off=sign_off,
    )
    return job.model_copy(update={"accepted_offers": (*job.accepted_offers, accepted)})


def digest(text: str) -> str:
    """SHA-256 of the text in UTF-8. **Source**: FIPS 180-4, by the standard library."""
    return hashlib.sha256(text.encode()).hexdigest()


def is_intact(accepted: AcceptedOffer) -> bool:
    """Whether an accepted offer still reads as it was signed."""
    said = json.loads(accepted.offer)
    return (
        digest(accepted.offer) == accepted.sha256
        and said["option"]["name"] == accepted.option
        and said["option"]["total"] == accepted.total
    )


def is_offered_still(accepted: AcceptedOffer, job: Job, quote: Quote) -> bool:
    """Whether the quote as it is now holds the very offer that was signed, word for word."""
    return any(offer_text(job, quote, option) == accepted.offer for option in quote.options)


def signature(by: str, date: str, words: str = "") -> SignOff:
    """A sign-off from plain words. Raises BadInput for an empty name or a day that does not exist."""
    try:
        day = datetime.date.fromisoformat(date).isoformat()
    except ValueError:
        raise BadInput(f"{date[:20]!r} is no day", where="sign-off", remedy="Give it as YYYY-MM-DD") from None
    if not 1 <= len(by.strip()) <= 80 or len(words) > 2000:
        raise BadInput("no name, or too many words", where="sign-off", remedy="Say who, in 80 letters")
    return SignOff(by=by.strip(), date=day, words=words)
