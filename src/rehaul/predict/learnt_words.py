"""Which earlier houses a prediction starts from, in words."""

from __future__ import annotations

from rehaul.house import Job
from rehaul.words import Saying, say, term

WORTH_DB = 1.0  # a shift below this is not worth a word
MOST = 3
_STARTS = {
    "device ": "predict.term_device",
    "share of ": "predict.term_share",
    "level at ": "predict.term_level",
}


def learnt_notes(job: Job) -> tuple[Saying, ...]:
    """A sentence where predictions start from earlier houses; empty where they do not.

    It names the three terms that moved most, of a decibel and more.
    """
    known = job.learnt
    if known is None or not known.terms:
        return ()
    moved = sorted(known.terms, key=lambda row: -abs(row.shift_db))
    told = [
        say("predict.shifted_by", what=term_words(row.term), shift_db=row.shift_db)
        for row in moved[:MOST]
        if abs(row.shift_db) >= WORTH_DB
    ]
    where = say(
        "predict.one_earlier_house" if known.houses == 1 else "predict.earlier_houses", n=known.houses
    )
    if known.date:
        where = say("words.joined", parts=[where, known.date])
    what = say("words.joined", parts=told) if told else say("predict.nothing_differs")
    return (say("predict.start_from", readings=known.readings, houses=where, what=what),)


def term_words(name: str) -> str:
    """What a term of the calibration is called, for people: `terms.Terms.names` said to the reader.

    Kinds of walls and whatever else is not known stay as they are.
    """
    for start, code in _STARTS.items():
        if name.startswith(start):
            return say(code, what=term(name.removeprefix(start)))
    return term(name)
