"""Work that takes its time tells which step it is at, in a few words."""

from __future__ import annotations

from collections.abc import Callable

Progress = Callable[[str], None]


def silent(step: str) -> None:
    """Tells nobody."""
