"""Papers say and draw what they did when somebody last looked at them: a change is meant, and looked at."""

from __future__ import annotations

import pytest

import kept_papers

NOW = kept_papers.drawn_now()
NAMES = sorted(path.name for path in kept_papers.KEPT.iterdir())


def test_drawings_and_tables_are_kept() -> None:
    assert len([name for name in NAMES if name.endswith(".svg")]) >= 15
    assert len([name for name in NAMES if name.endswith(".csv")]) >= 25


@pytest.mark.parametrize("name", NAMES)
def test_it_is_as_it_was_looked_at(name: str) -> None:
    """Where a change was meant: `python tests/kept_papers.py`, then look at what moved."""
    kept = (kept_papers.KEPT / name).read_bytes().decode("utf-8")
    assert NOW[name].replace("><", ">\n<").splitlines() == kept.replace("><", ">\n<").splitlines()
