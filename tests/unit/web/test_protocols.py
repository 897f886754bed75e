"""Which part of a request a connection is in, and how many connections a process may hold."""

from __future__ import annotations

import resource
import sys
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.web.protocols import Patient, more_files

FOR_EVER = resource.RLIM_INFINITY


class Seen:
    """Stands for a visitor: notes the stages it enters."""

    def __init__(self, stage: str, device: str | None) -> None:
        self.stage, self.device, self.entered = stage, device, list[str]()

    def enter(self, stage: str) -> None:
        self.stage = stage
        self.entered.append(stage)


def patient(seen: Seen, cycle: Any = None) -> Patient:
    found = Patient.__new__(Patient)
    found.visitor, found.cycle = seen, cycle  # type: ignore[assignment]
    found.flow = SimpleNamespace(pause_writing=lambda: None, resume_writing=lambda: None)  # type: ignore[assignment]
    return found


@pytest.mark.parametrize(
    ("stage", "device", "more_body", "entered"),
    [
        ("head", None, True, ["body"]),
        ("head", None, False, ["answer"]),
        ("body", None, True, []),  # a stranger's body that drips in has the time of one
        ("body", "D1", True, ["body"]),  # a paired device's only its pauses
        ("body", None, False, ["answer"]),
        ("answer", None, False, []),  # what comes during an answer does not put off its end
        ("answer", "D1", False, []),
        ("socket", "D1", True, []),
        ("stuck", "D1", False, []),
    ],
)
def test_stages_of_a_request(stage: str, device: str | None, more_body: bool, entered: list[str]) -> None:
    seen = Seen(stage, device)
    patient(seen, SimpleNamespace(response_complete=False, more_body=more_body))._see_stage()
    assert seen.entered == entered


def test_between_requests_nothing_begins() -> None:
    seen = Seen("head", None)
    patient(seen)._see_stage()
    patient(seen, SimpleNamespace(response_complete=True, more_body=True))._see_stage()
    assert seen.entered == []


def test_who_does_not_read_is_stuck_only_if_it_is_known() -> None:
    for device, stage in ((None, "answer"), ("D1", "stuck")):
        seen = Seen("answer", device)
        one = patient(seen)
        one.pause_writing()
        assert seen.stage == stage
        one.resume_writing()
        assert seen.entered == [stage, "answer"]


@pytest.mark.skipif(sys.platform == "win32", reason="has no such limit")
@pytest.mark.parametrize(
    ("soft", "hard", "asked", "holds"),
    [
        (1024, 1_000_000, (4096, 1_000_000), 4096),
        (1024, FOR_EVER, (4096, FOR_EVER), 4096),
        (1024, 2048, (2048, 2048), 2048),
        (4096, 1_000_000, None, 4096),
        (9000, 1_000_000, None, 9000),
        (2048, 2048, None, 2048),
    ],
)
def test_a_process_asks_for_four_thousand_files_or_what_it_may_have(
    monkeypatch: pytest.MonkeyPatch, soft: int, hard: int, asked: tuple[int, int] | None, holds: int
) -> None:
    done: list[tuple[Any, ...]] = []
    monkeypatch.setattr(resource, "getrlimit", lambda what: {resource.RLIMIT_NOFILE: (soft, hard)}[what])
    monkeypatch.setattr(resource, "setrlimit", lambda *words: done.append(words))
    assert more_files() == holds
    assert done == ([(resource.RLIMIT_NOFILE, asked)] if asked else [])


@pytest.mark.skipif(sys.platform == "win32", reason="has no such limit")
def test_a_system_that_gives_no_more_files_stops_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: Any) -> None:
        raise ValueError("not allowed to raise maximum limit")

    monkeypatch.setattr(resource, "getrlimit", lambda _: (1024, 1_000_000))
    monkeypatch.setattr(resource, "setrlimit", refuse)
    assert more_files() == 0
