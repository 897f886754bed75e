"""The process that works for the server: task after task, and what is said of each that ends badly."""

from __future__ import annotations

import asyncio
import gc
import json
import multiprocessing
import threading
from collections.abc import Callable, Iterator
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.errors import BadInput, CannotSave, Refusal
from rehaul.house import Job
from rehaul.web import worker as module
from rehaul.web.worker import LEAVE, LONGEST_DETAIL, Head, Worker, WorkerFault, serve_tasks

JOB = Job(id="small", title="Small")
Task = Callable[..., tuple[bytes, bytes]]


class Working:
    """The other end of the pipe, and who works behind it."""

    def __init__(self) -> None:
        self.pipe, theirs = multiprocessing.Pipe()
        self.thread = threading.Thread(target=serve_tasks, args=(theirs, 123), daemon=True)
        self.thread.start()

    def ask(self, task: str, *words: str) -> list[tuple[dict[str, Any], bytes]]:
        """Everything that is said until an answer comes: heads, and what follows each."""
        module._ask(self.pipe, task, JOB, words)
        said = []
        while not said or said[-1][0]["kind"] == "progress":
            assert self.pipe.poll(20), "nothing was said"
            head, _, rest = self.pipe.recv_bytes().partition(b"\n")
            Head.model_validate_json(head)  # the server would take it
            said.append((json.loads(head), rest))
        return said


def fails(error: BaseException) -> Task:
    def task(job: Job, *words: str, progress: Callable[[str], None]) -> tuple[bytes, bytes]:
        raise error

    return task


def works(job: Job, *words: str, progress: Callable[[str], None]) -> tuple[bytes, bytes]:
    progress("first")
    progress("x" * 300)
    return f"{job.id} {' '.join(words)}".encode(), b"\x00\n\xff"


@pytest.fixture
def working(monkeypatch: pytest.MonkeyPatch) -> Iterator[Working]:
    long = Refusal("p" * 3000, where="w" * 3000, remedy="r" * 3000, source="s" * 3000)
    tasks: dict[str, Task] = {
        "works": works,
        "refuses": fails(BadInput("no wall", where="house", remedy="Draw one", source="a table")),
        "cannot save": fails(CannotSave("the disk is full", where="disk", remedy="Make room")),
        "refuses at length": fails(long),
        "needs too much": fails(MemoryError()),
        "breaks": fails(RuntimeError("because " + "of " * LONGEST_DETAIL + "that")),
    }
    monkeypatch.setattr(module, "TASKS", tasks)
    monkeypatch.setattr(module, "hold_memory", lambda most: None)  # it would hold this very process
    found = Working()
    yield found
    found.pipe.close()
    found.thread.join(20)
    assert not found.thread.is_alive(), "it ends when the server is gone"


def test_progress_comes_first_and_then_text_and_bytes_as_they_are(working: Working) -> None:
    for words in (("a", "b"), ()):  # and again
        first, second, (head, rest) = working.ask("works", *words)
        assert (first[0]["words"], second[0]["words"]) == ("first", "x" * 200)
        assert head["kind"] == "done" and head["text_bytes"] == len(f"small {' '.join(words)}")
        assert rest == f"small {' '.join(words)}".encode() + b"\x00\n\xff"


def test_a_refusal_is_told_with_all_that_it_says_and_the_next_task_is_done(working: Working) -> None:
    ((head, rest),) = working.ask("refuses")
    assert rest == b"" and head["kind"] == "refused" and head["code"] == BadInput.code
    said = (head["problem"], head["where"], head["remedy"], head["source"])
    assert said == ("no wall", "house", "Draw one", "a table")
    assert working.ask("cannot save")[0][0]["code"] == CannotSave.code != BadInput.code
    assert working.ask("works")[-1][0]["kind"] == "done"


def test_what_is_refused_at_length_is_cut_to_what_the_server_takes(working: Working) -> None:
    ((head, _),) = working.ask("refuses at length")
    assert {name: len(head[name]) for name in ("problem", "where", "remedy", "source")} == {
        "problem": 2000,
        "where": 1000,
        "remedy": 1000,
        "source": 400,
    }


def test_too_little_memory_is_refused_by_how_much_it_may_take(working: Working) -> None:
    ((head, _),) = working.ask("needs too much")
    assert head["kind"] == "refused" and head["problem"]["says"] == str(module.short_of_memory(123).problem)


def test_a_fault_is_told_by_its_end(working: Working) -> None:
    ((head, _),) = working.ask("breaks")
    assert head["kind"] == "fault" and len(head["detail"]) == LONGEST_DETAIL
    assert head["detail"].endswith("of that\n")
    ((head, _),) = working.ask("no such task")
    assert head["kind"] == "fault" and "KeyError" in head["detail"]


def test_what_the_server_makes_of_it(working: Working, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "TAKERS", {"works": lambda text, beside: (text, beside)})
    told: list[str] = []
    worker = Worker()
    monkeypatch.setattr(worker, "_start", lambda: working.pipe)

    def run(task: str, *words: str) -> Any:
        return asyncio.run(worker.run(task, JOB, *words, seconds=20, progress=told.append))

    assert run("works", "a") == (b"small a", b"\x00\n\xff")
    assert told == ["first", "x" * 200]
    with pytest.raises(Refusal, match="no wall") as caught:
        run("refuses")
    assert (caught.value.where, caught.value.remedy, caught.value.source) == ("house", "Draw one", "a table")
    assert caught.value.code == BadInput.code
    with pytest.raises(WorkerFault, match="of that"):
        run("breaks")


def test_a_part_is_told_before_the_rest_and_taken_by_its_own_taker(
    working: Working, monkeypatch: pytest.MonkeyPatch
) -> None:
    def tells(job: Job, *words: str, progress: Any, part: Any) -> tuple[bytes, bytes]:
        part((b"half", b"\x00"))
        return b"whole", b""

    monkeypatch.setitem(module.TASKS, "tells", tells)  # type: ignore[arg-type]
    monkeypatch.setattr(module, "TAKERS", {"tells": lambda text, beside: text, "works": lambda *all: all})
    monkeypatch.setattr(module, "PART_TAKERS", {"tells": lambda text, beside: (text, beside)})
    worker, told = Worker(), []
    monkeypatch.setattr(worker, "_start", lambda: working.pipe)
    found = asyncio.run(worker.run("tells", JOB, seconds=20, part=told.append))
    assert (told, found) == ([(b"half", b"\x00")], b"whole")
    with pytest.raises(ValueError, match="has none"):
        module._heard(_saying(b'{"kind": "part", "text_bytes": 0}\n'), "works")


def _saying(message: bytes) -> Any:
    return SimpleNamespace(recv_bytes=lambda most: message)


def test_garbage_is_collected_between_questions_and_as_before_once_the_process_ends(
    working: Working, monkeypatch: pytest.MonkeyPatch
) -> None:
    during: list[bool] = []

    def looks(job: Job, *words: str, progress: Any) -> tuple[bytes, bytes]:
        during.append(gc.isenabled())
        return b"", b""

    assert working.ask("works")[-1][0]["kind"] == "done"
    monkeypatch.setitem(module.TASKS, "looks", looks)  # type: ignore[arg-type]
    assert working.ask("looks")[-1][0]["kind"] == "done" and during == [False]
    working.pipe.close()
    working.thread.join(20)
    assert gc.isenabled()


def test_what_nobody_waits_for_is_left_between_two_stages_and_the_next_task_is_done(
    working: Working, monkeypatch: pytest.MonkeyPatch
) -> None:
    stages: list[str] = []

    def told_to_leave(job: Job, *words: str, progress: Callable[[str], None]) -> tuple[bytes, bytes]:
        working.pipe.send_bytes(LEAVE)  # as the server would, while this goes on
        for stage in ("first", "second"):
            progress(stage)
            stages.append(stage)
        return b"made", b""

    monkeypatch.setitem(module.TASKS, "leaves", told_to_leave)  # type: ignore[arg-type]
    assert [head["kind"] for head, _ in working.ask("leaves")] == ["left"] and stages == []
    assert working.ask("works")[-1][0]["kind"] == "done"
    working.pipe.send_bytes(LEAVE)  # too late: there is nothing to leave, and the next task is no such thing
    assert working.ask("works")[-1][0]["kind"] == "done"
