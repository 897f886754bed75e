"""Which earlier houses a prediction starts from, in words."""

from __future__ import annotations

from rehaul.house import Job

WORTH_DB = 1.0  # a shift below this is not worth a word
MOST = 3


def learnt_notes(job: Job) -> tuple[str, ...]:
    """A sentence where predictions start from earlier houses; empty where they do not.

    It names the three terms that moved most, of a decibel and more.
    """
    known = job.learnt
    if known is None or not known.terms:
        return ()
    moved = sorted(known.terms, key=lambda row: -abs(row.shift_db))
    told = [f"{row.term} {row.shift_db:+.1f} dB" for row in moved[:MOST] if abs(row.shift_db) >= WORTH_DB]
    houses = "one earlier house" if known.houses == 1 else f"{known.houses} earlier houses"
    dated = f", {known.date}" if known.date else ""
    what = ", ".join(told) or "no loss differs by a decibel"
    return (
        f"Predictions start from {known.readings} readings in {houses}{dated}; beyond the tables: {what}",
    )
