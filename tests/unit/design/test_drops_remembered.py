"""Answers about drops are remembered between jobs: equal ways in other objects must not confuse them."""

from __future__ import annotations

from dataclasses import replace

from rehaul.design.drops import best_policy
from rehaul.design.tries import DropAttempt


def test_an_equal_drop_of_another_job_gets_the_same_answer() -> None:
    ways = (DropAttempt("reuse", 0.7, 20, 40, 10.0), DropAttempt("new cable", 0.85, 180, 420, 30.0))
    first, second = (best_policy([replace(way) for way in ways], 500.0, 1.5) for _ in range(2))
    assert first == second
    assert [step.way.name for step in first.steps] == ["reuse", "new cable"]
