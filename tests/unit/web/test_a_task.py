"""What the worker's tasks make anew and what they keep from one to the next; plans are stood in for."""

from __future__ import annotations

import io
import json
import zipfile
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.house import Job, Tick
from rehaul.web import tasks
from rehaul.web.made import take_papers

JOB = Job(id="mill", title="Mill house", paper="Letter")


@dataclass(frozen=True)
class Planned:
    weighed: str
    job: Job | None = None


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[tuple[Any, ...]]:
    """Every call of what takes long, in order."""
    calls: list[tuple[Any, ...]] = []

    def weigh(job: Job, kept: Any, progress: Any, told: Any) -> str:
        calls.append(("weigh", job.title, job.ticks))
        return f"weighed {job.title}"

    def in_force(job: Job, weighed: str, progress: Any) -> Planned:
        calls.append(("in force", weighed))
        return Planned(weighed)

    monkeypatch.setattr("rehaul.planning.weigh", weigh)
    monkeypatch.setattr("rehaul.planning.in_force", in_force)
    monkeypatch.setattr("rehaul.predict.size.require_papers_memory", lambda job: calls.append(("memory",)))
    monkeypatch.setattr(tasks, "_lasts", [])
    monkeypatch.setattr(tasks, "pack_plan", lambda plan: (plan, b""))
    return calls


def test_an_answer_alone_breaks_off_once_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    steps: list[str] = []

    def weigh(job: Job, kept: Any, progress: Any, told: Any) -> None:
        progress("what stands where")
        steps.append(job.title)
        told(f"answer of {job.title}")
        steps.append("the rest")

    monkeypatch.setattr("rehaul.planning.weigh", weigh)
    monkeypatch.setattr(tasks, "pack_answer", lambda answer: (answer.encode(), b""))
    words: list[str] = []
    assert tasks.answer_task(JOB, progress=told(words)) == (b"answer of Mill house", b"")
    assert (steps, words) == (["Mill house"], ["what stands where"])


def told(words: list[str]) -> Any:
    return words.append


def test_a_plan_is_made_once_until_something_but_ticks_changes(made: list[tuple[Any, ...]]) -> None:
    words: list[str] = []
    found: Any = tasks.plan_task(JOB, progress=told(words), part=print)[0]
    assert (found.weighed, found.job) == ("weighed Mill house", JOB)
    assert made == [("weigh", "Mill house", ()), ("in force", "weighed Mill house")]
    ticked = JOB.model_copy(update={"ticks": (Tick(id="t1", task="T01"),)})
    found = tasks.plan_task(ticked, progress=told(words), part=print)[0]
    assert found.job == ticked and len(made) == 2
    other = ticked.model_copy(update={"title": "Other"})
    assert tasks.plan_task(other, progress=told(words), part=print)[0].weighed == "weighed Other"
    assert made[2:] == [("weigh", "Other", ()), ("in force", "weighed Other")]
    assert tasks.plan_task(JOB, progress=told(words), part=print)[0].weighed == "weighed Mill house", (
        "undo comes back to it"
    )
    assert len(made) == 4


def test_the_last_few_jobs_are_kept_the_one_asked_for_longest_ago_goes(made: list[tuple[Any, ...]]) -> None:
    def ask(title: str) -> bool:
        """Whether it was made anew."""
        before = len(made)
        tasks.plan_task(JOB.model_copy(update={"title": title}), progress=print, part=print)
        return len(made) > before

    assert all(ask(title) for title in "abcd")
    assert not ask("a"), "asked for again: it is the newest now"
    assert ask("e") and not ask("a") and ask("b"), "b was the oldest"


def test_where_an_offer_was_accepted_the_plan_is_put_in_force_anew_and_not_weighed(
    made: list[tuple[Any, ...]],
) -> None:
    tasks.plan_task(JOB, progress=print, part=print)
    accepted = JOB.model_copy(update={"accepted_offers": (SimpleNamespace(id="A1"),)})
    found: Any = tasks.plan_task(accepted, progress=print, part=print)[0]
    assert [call[0] for call in made] == ["weigh", "in force", "in force"] and found.job is accepted


def test_an_offer_is_accepted_with_its_own_plan(
    made: list[tuple[Any, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    quote = object()
    weighed = SimpleNamespace(fresh=SimpleNamespace(takeoff=SimpleNamespace(quote=quote)))
    asked: list[tuple[Any, ...]] = []

    def noted(gives: Any) -> Any:
        def stand(*given: Any, **named: Any) -> Any:
            asked.append(given)
            return gives

        return stand

    monkeypatch.setattr("rehaul.planning.weigh", noted(weighed))
    monkeypatch.setattr("rehaul.planning.signed_offer", noted("its plan"))
    monkeypatch.setattr("rehaul.takeoff.signature", noted("signed"))
    monkeypatch.setattr("rehaul.takeoff.signed_plan_text", noted("text"))
    monkeypatch.setattr("rehaul.takeoff.accept", noted(JOB))
    text, beside = tasks.accept_task(JOB, "Good", "Ann", "2026-01-02", "agreed", progress=print)
    assert (text, beside) == (b"[]", b"")
    assert asked == [
        ("Ann", "2026-01-02", "agreed"),
        (JOB,),
        (weighed, "Good"),
        ("its plan",),
        (JOB, quote, "Good", "signed", "text"),
    ]


def test_papers_are_all_files_of_the_folder_in_the_language_asked_for(
    made: list[tuple[Any, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Any] = []

    def write_papers(plan: Any, folder: Path, paper: str, language: str) -> list[Path]:
        asked.append((plan.job, paper, language, folder.is_dir()))
        (folder / "a.pdf").write_bytes(b"pdf")
        (folder / "more").mkdir()
        return [folder / "a.pdf", folder / "more"]

    monkeypatch.setattr("rehaul.sheets.write_papers", write_papers)
    words: list[str] = []
    assert take_papers(*tasks.papers_task(JOB, "fr", progress=told(words))) == {"a.pdf": b"pdf"}
    assert asked == [(JOB, "Letter", "fr", True)] and words == ["papers"]
    assert [call[0] for call in made] == ["memory", "weigh", "in force"]  # refused before it is begun


def test_the_record_is_one_file_without_the_photos_themselves(
    made: list[tuple[Any, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    def handover_files(plan: Any, photos: Any, kept_at: str, language: str) -> dict[str, bytes]:
        assert kept_at == "meter cupboard"
        assert [(one.step, one.file, one.data) for one in photos] == [("T01", "photos/1.jpg", b"")]
        return {"READ-ME-FIRST.txt": language.encode(), "photos/1.jpg": b""}

    monkeypatch.setattr("rehaul.sheets.handover_files", handover_files)
    words: list[str] = []
    photos = json.dumps([["id1", "T01", "photos/1.jpg"]])
    found = take_papers(*tasks.handover_task(JOB, photos, "meter cupboard", "fr", progress=told(words)))
    (record,) = found.values()
    with zipfile.ZipFile(io.BytesIO(record)) as file:
        assert {name: file.read(name) for name in file.namelist()} == {"READ-ME-FIRST.txt": b"fr"}
    assert words == ["record"] and made[0] == ("memory",)
