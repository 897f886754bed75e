"""How long devices are let in, how long a server waits, and how many strangers may hang on it."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.table import FactRow, load


class ServerNumber(FactRow):
    """One such number."""

    table: ClassVar[str] = "server_numbers"
    decides: ClassVar[str] = "how long a paired device is let in, and how much a stranger may ask"
    name: str
    value: float
    unit: str
    meaning: str


@cache
def _numbers() -> dict[str, float]:
    days = {"d": 86_400.0}
    return {row.name: row.value * days.get(row.unit, 1.0) for row in load(ServerNumber)}


def server_number(name: str) -> float:
    """A number of the server's table by name; times in seconds, rates per second, counts as they are.

    Raises KeyError for a name the table has not. **Source**: the fact table `server_numbers`
    (docs/security.md).

    >>> server_number("session_life") / 86400  # days
    180.0
    """
    return _numbers()[name]
