"""Papers say and draw what they did when somebody last looked at them: a change is meant, and looked at."""

from __future__ import annotations

import kept_papers


def lines(text: str) -> list[str]:
    return text.replace("><", ">\n<").splitlines()


def test_each_is_as_it_was_looked_at() -> None:
    """Where a change was meant: `python tests/kept_papers.py`, then look at what moved."""
    kept = {path.name: path.read_bytes().decode("utf-8") for path in sorted(kept_papers.KEPT.iterdir())}
    assert len([name for name in kept if name.endswith(".svg")]) >= 15
    assert len([name for name in kept if name.endswith(".csv")]) >= 25
    now = kept_papers.drawn_now()
    moved = [name for name in kept if lines(now[name]) != lines(kept[name])]
    for name in moved[:1]:
        assert lines(now[name]) == lines(kept[name]), moved
