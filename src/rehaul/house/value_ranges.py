"""What nothing in a job can be: the ranges of `reading_ranges`, held by whoever writes.

A document that was saved with such a value opens all the same; the audit tells of it, and it may stay or
be mended, not made anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rehaul.errors import BadInput
from rehaul.facts.reading_ranges import is_false_date, reading_range
from rehaul.house.base import Model
from rehaul.house.integrity import entities
from rehaul.house.job import Box, Job, Learnt, Reading
from rehaul.house.model import MeetingPoint, Outlet, Run, Splitter
from rehaul.printable import short
from rehaul.words import Saying, say

_STANDING = (Box, Outlet, MeetingPoint, Splitter)  # each so high above its floor


@dataclass(frozen=True)
class OddValue:
    """One value that cannot be."""

    field: str
    value: float
    row: str  # of `reading_ranges`

    @property
    def problem(self) -> Saying:
        """In words."""
        span = reading_range(self.row)
        return say("findings.outside_range", value=self.value, low=span.low, high=span.high)


def odd_values(thing: Model) -> tuple[OddValue, ...]:
    """The values of one thing that no such thing has, with the range of each; empty where all can be.

    **Source**: the fact table `reading_ranges`.
    """
    return tuple(OddValue(*said) for said in _said(thing) if not reading_range(said[2]).holds(said[1]))


def require_no_new_odd_value(thing: Model, before: Model | None, *, where: str) -> None:
    """Raise BadInput for a value or date of a thing that cannot be and that did not stand there before.

    `before` is the thing as it was, None for a new one; `where` what it is called in the refusal.
    **Source**: the fact table `reading_ranges`.
    """
    known = odd_values(before) if before is not None else ()
    for odd in odd_values(thing):
        if odd not in known:
            raise BadInput(
                odd.problem,
                where=say("refused_common.place_in", where=where, place=odd.field),
                remedy=say("refused_house.check_number_sign_unit"),
            )
    dated = _dates(before) if before is not None else ()
    for field, text in _dates(thing):
        if is_false_date(text) and (field, text) not in dated:
            span = reading_range("year")
            raise BadInput(
                say("refused_house.no_date_between", text=short(text), low=span.low, high=span.high),
                where=say("refused_common.place_in", where=where, place=field),
                remedy=say("refused_house.write_like_2026_03"),
            )


def require_no_new_odd_values(job: Job, before: Job | None, *, where: str) -> None:
    """Hold a whole job to the same, thing by thing, as it is about to be written.

    `before` is the job as it was saved, None for a new one; things that did not change are not looked at.
    Raises BadInput with the path of the thing.
    """
    stood = {thing.id: thing for _, thing in entities(before)} if before else {}  # type: ignore[attr-defined]
    for path, thing in entities(job):
        name = thing.id  # type: ignore[attr-defined]
        if stood.get(name) is not thing:
            require_no_new_odd_value(
                thing,
                stood.get(name),
                where=f"{where}, {path} ({name})",
            )
    if job.learnt is not None:
        require_no_new_odd_value(job.learnt, before.learnt if before else None, where=f"{where}, learnt")


def _dates(thing: Model) -> tuple[tuple[str, str], ...]:
    """Field and text of every time and date that a thing says."""
    found = [(name, str(getattr(thing, name, ""))) for name in ("time", "date")]
    signed = getattr(thing, "sign_off", None)
    if signed is not None:
        found.append(("sign_off.date", signed.date))
    if isinstance(thing, Run):
        found += [("tests.date", test.date) for test in thing.tests]
    return tuple(found)


def _said(thing: Model) -> Iterator[tuple[str, float, str]]:
    """Field, value and row of `reading_ranges` for all that a thing says and that has a range."""
    if isinstance(thing, Reading):
        yield "value", thing.value, thing.quantity.value
        yield "height_m", thing.height_m, "height_m"
        yield "repeats", thing.repeats, "repeats"
        for value, axis in zip(thing.position or (), ("x_m", "y_m"), strict=False):
            yield "position", value, axis
    elif isinstance(thing, _STANDING):
        yield "height_m", thing.height_m, "height_m"
    elif isinstance(thing, Learnt):
        for term in thing.terms:
            yield f"{term.term}.shift_db", term.shift_db, "shift_db"
            yield f"{term.term}.sd_db", term.sd_db, "shift_db"
    elif isinstance(thing, Job) and thing.learnt is not None:
        yield from _said(thing.learnt)
