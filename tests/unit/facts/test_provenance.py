"""Where the numbers come from: what is from memory can only shrink, and every table says what it decides."""

from __future__ import annotations

import importlib
import pkgutil
from collections import Counter

import pytest

import rehaul.facts
from rehaul.facts.table import FactRow, How, load

FROM_MEMORY = 42  # rows; read the document of one, or do without it, and lower this. Never raise it
PARTLY_FROM_MEMORY = 12  # rows that were read but for a part; likewise


def kinds() -> list[type[FactRow]]:
    for module in pkgutil.iter_modules(rehaul.facts.__path__):
        importlib.import_module(f"rehaul.facts.{module.name}")
    return [kind for kind in FactRow.__subclasses__() if kind.__module__.startswith("rehaul.facts")]


def test_rows_from_memory_only_shrink() -> None:
    rows = Counter(kind.table for kind in kinds() for row in load(kind) if row.source.how is How.MEMORY)
    assert rows.total() == FROM_MEMORY, f"rows from memory moved from {FROM_MEMORY}: {dict(rows)}"
    partly = Counter(kind.table for kind in kinds() for row in load(kind) if row.source.partly_remembered)
    assert partly.total() == PARTLY_FROM_MEMORY, f"they moved from {PARTLY_FROM_MEMORY}: {dict(partly)}"


def test_what_is_from_memory_alone_does_not_call_itself_read() -> None:
    """A source that says of itself that it is from memory is marked so."""
    for kind in kinds():
        for row in load(kind):
            if row.source.place.strip().endswith("; from memory"):
                assert row.source.how is How.MEMORY, f"{kind.table}: {row.source}"


@pytest.mark.parametrize("kind", kinds(), ids=lambda kind: kind.table)
def test_a_table_says_what_it_decides(kind: type[FactRow]) -> None:
    words = kind.decides.split()
    assert len(words) >= 4, "one plain sentence that follows 'decides'"
    assert kind.decides[-1] not in ".;," and "|" not in kind.decides
