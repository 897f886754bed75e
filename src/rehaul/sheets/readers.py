"""Who papers are made for: one reader, to whom the plan is said again before anything is set."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from rehaul.planning import Plan
from rehaul.words import Language, Reader, again, reader, speaking


@contextmanager
def read_by(plan: Plan, language: Language | None = None) -> Iterator[Plan]:
    """The plan as whoever reads its papers has it; everything said inside is said to them.

    `language`: the present reader's where left out. Units are the job's.
    """
    whom = Reader(language or reader().language, plan.job.units)
    with speaking(whom):
        yield again(plan, whom)
