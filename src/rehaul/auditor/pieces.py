"""Old cables in pieces, by their ids on tape: C03 is a whole cable, C01.2 the second stretch of a chain."""

from __future__ import annotations

import re

from rehaul.auditor.views import LinkView
from rehaul.house import Job

PIECE = re.compile(r"(.+)\.([1-9]\d*)")


def ends_of(job: Job, piece: str) -> tuple[str, str] | None:
    """Both ends of a piece, in the cable's order; None where the house has no such piece.

    Parameters: `piece`, the id of a cable with two ends (`C03`), or of the n-th stretch of a chain
    (`C01.2`). None also where a chain is named as a whole: it has more than two ends.
    """
    runs = {run.id: run for run in job.house.runs}
    if piece in runs:
        ends = runs[piece].ends
        return (ends[0], ends[1]) if len(ends) == 2 else None
    match = PIECE.fullmatch(piece)
    run = runs.get(match[1]) if match else None
    if match is None or run is None or len(run.ends) < 3 or int(match[2]) >= len(run.ends):
        return None
    return run.ends[int(match[2]) - 1], run.ends[int(match[2])]


def run_of(job: Job, piece: str) -> str:
    """The cable that a piece belongs to; empty where the house has none.

    Parameters: `piece`, as in `ends_of`; a whole chain belongs to no piece and gives an empty text.
    """
    if ends_of(job, piece) is None:
        return ""
    return piece if any(run.id == piece for run in job.house.runs) else piece.rsplit(".", 1)[0]


def pieces_of(job: Job, link: LinkView) -> tuple[str, ...]:
    """The pieces that a link is made of: as it says, else all of its cable.

    Returns ids in the link's order; those of all stretches where the link names a chain and no pieces, and
    none where it is no old cable. A cable that the house does not have is given back by its id.
    """
    if link.pieces or not link.run:
        return link.pieces
    run = next((run for run in job.house.runs if run.id == link.run), None)
    if run is None or len(run.ends) == 2:
        return (link.run,)
    return tuple(f"{run.id}.{number}" for number in range(1, len(run.ends)))


def runs_of(job: Job, link: LinkView) -> tuple[str, ...]:
    """The old cables that a link is made of, each once."""
    found = [run_of(job, piece) or link.run for piece in pieces_of(job, link)]
    return tuple(dict.fromkeys(name for name in (link.run, *found) if name))


def outer_ends(job: Job, pieces: tuple[str, ...]) -> frozenset[str] | None:
    """The two places that pieces joined in this order lead between; None where they do not join up.

    Parameters: `pieces`, in the order in which they are joined; each may lie either way round.

    **Validity**: None also for pieces that lead back to where they began, and for a piece that the house
    does not have.
    """
    spans = [ends_of(job, piece) for piece in pieces]
    if not spans or spans[0] is None:
        return None
    for start in spans[0]:  # which way round the first one lies
        here: str | None = start
        for span in spans:
            here = None if span is None or here not in span else span[1] if here == span[0] else span[0]
        if here is not None and here != start:
            return frozenset((start, here))
    return None
