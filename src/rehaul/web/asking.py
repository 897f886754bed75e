"""Asking a store: in a thread, few at once, not for ever. A store that hangs stops nothing else."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import anyio
from anyio import CapacityLimiter, to_thread
from anyio.lowlevel import RunVar

from rehaul.errors import CannotSave
from rehaul.facts.server import server_number
from rehaul.words import say

MOST_AT_ONCE = 24  # of anyio's 40 threads in all: others wait for no store
OPENING_S = 60.0  # a long log, read on a slow disk
T = TypeVar("T")
_places = RunVar[CapacityLimiter]("threads for questions to stores")


async def asked(question: Callable[..., T], *arguments: Any, seconds: float | None = None) -> T:
    """The answer of a store. Raises CannotSave where it does not come in time.

    What was begun is left to end by itself: an edit may yet be taken, and comes to nothing when sent again.
    """
    with anyio.move_on_after(server_number("store_wait") if seconds is None else seconds):
        return await to_thread.run_sync(
            question, *arguments, abandon_on_cancel=True, limiter=_store_threads()
        )
    raise away()


def away() -> CannotSave:
    """The refusal while a store does not answer."""
    return CannotSave(
        say("refused_web.store_does_not_answer"),
        where="store",
        remedy=say("refused_web.try_again_moment_look"),
    )


def _store_threads() -> CapacityLimiter:
    """The places of this event loop, the same for all who ask in it."""
    try:
        return _places.get()
    except LookupError:
        places = CapacityLimiter(MOST_AT_ONCE)
        _places.set(places)
        return places
