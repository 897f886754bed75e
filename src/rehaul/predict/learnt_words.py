"""Which earlier houses a prediction starts from, in words."""

from __future__ import annotations

from rehaul.house import Job
from rehaul.words import Saying, say, term

WORTH_DB = 1.0  # a shift below this is not worth a word
MOST = 3
_STARTS = {
    "device ": "predict.doubt_device",
    "share of ": "predict.doubt_share",
    "level at ": "predict.doubt_level",
}


def learnt_notes(job: Job) -> tuple[Saying, ...]:
    """A sentence where predictions start from earlier houses; empty where they do not.

    It names the three doubts that moved most, of a decibel and more.
    """
    known = job.learnt
    if known is None or not known.terms:
        return ()
    moved = sorted(known.terms, key=lambda row: -abs(row.shift_db))
    told = [
        say("predict.shifted_by", what=doubt_words(row.term), shift_db=row.shift_db)
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


def doubt_words(name: str) -> str:
    """What a doubt of the calibration is called, for people: `doubts.Doubts.names` said to the reader.

    Kinds of walls and whatever else is not known stay as they are.
    """
    for start, code in _STARTS.items():
        if name.startswith(start):
            return say(code, what=term(name.removeprefix(start)))
    return term(name)
