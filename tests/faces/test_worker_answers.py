"""Whatever the plan's process says, the server runs none of it; what ours says arrives as it was made."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path

import misbehaving_worker
import numpy as np
import pytest

from plans_once import made_plan, made_weighed
from rehaul.house import Job
from rehaul.jobs import demo_job, open_job
from rehaul.planning import Answer, Plan, plan_data
from rehaul.web import worker as module
from rehaul.web.answers import compact
from rehaul.web.made import (
    pack_answer,
    pack_papers,
    pack_plan,
    take_answer,
    take_papers,
    take_plan,
)
from rehaul.web.rasters import RATES
from rehaul.web.worker import Stopped, Worker, WorkerFault
from rehaul.words import LANGUAGES, Reader, again

SMALL = Path(__file__).parents[2] / "examples" / "1974-flat-old-laptop.rehaul.json"  # planned in a moment
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").rglob("*.rehaul.json"))


WAYS = [
    misbehaving_worker.an_object,
    misbehaving_worker.an_object_as_text,
    misbehaving_worker.a_plan_without_maps,
    misbehaving_worker.a_head_without_end,
    misbehaving_worker.a_kind_of_its_own,
    misbehaving_worker.a_path_for_a_paper,
]
# What the head says is the same for all tasks; what stands behind it, each takes in its own way.
IN_EVERY_RUN = {(way.__name__, "plan") for way in WAYS} | {
    (way, task) for way in ("an_object_as_text", "a_path_for_a_paper") for task in ("papers", "accept")
}


@pytest.mark.parametrize(
    ("way", "task"),
    [
        pytest.param(way, task, marks=() if (way.__name__, task) in IN_EVERY_RUN else pytest.mark.long)
        for way in WAYS
        for task in ("plan", "papers", "accept")
    ],
)
def test_nothing_that_it_says_is_run(
    way: Callable[[Connection, int], None], task: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "serve_tasks", way)
    written = tmp_path / "w"
    monkeypatch.chdir(tmp_path)
    worker = Worker()
    try:
        with pytest.raises((WorkerFault, Stopped)):
            asyncio.run(worker.run(task, Job(id="job", title="w"), seconds=60))
    finally:
        worker.stop()
    assert not written.exists()


@pytest.fixture(scope="module")
def found() -> Plan:
    return made_plan(demo_job())


def test_a_plan_arrives_as_it_was_made(found: Plan) -> None:
    made = take_plan(*pack_plan(found))
    assert set(made.texts) == set(LANGUAGES)
    for language, text in made.texts.items():
        assert text == compact(plan_data(again(found, Reader(language, found.job.units))))
    assert made.texts["fr"] != made.texts["en"]
    assert made.order == found.order and made.radiators == found.radiators
    for maps, coverage in ((made.before, found.before), (made.after, found.after)):
        assert maps.bands == tuple(str(band) for band in coverage.bands)
        for row, was in zip(maps.storeys, coverage.maps, strict=True):
            assert (row.storey, row.x0_m, row.y0_m) == (was.storey.id, was.x0_m, was.y0_m)
            for name, field in RATES.items():
                assert np.array_equal(row.rates[name], getattr(was, field), equal_nan=True)
            assert np.array_equal(row.power_dbm, was.power_dbm, equal_nan=True)
            assert np.array_equal(row.power_sd_db, was.power_sd_db, equal_nan=True)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_plans_of_the_examples_arrive(path: Path) -> None:
    made = made_plan(open_job(path))
    read = again(made, Reader("en", made.job.units))
    assert take_plan(*pack_plan(made)).texts["en"] == compact(plan_data(read))


def test_an_answer_arrives_as_it_was_told() -> None:
    answers: list[Answer] = []
    made = made_weighed(demo_job(), told=answers.append).fresh
    (answer,) = answers
    taken = take_answer(*pack_answer(answer))
    assert set(taken.texts) == set(LANGUAGES) and taken.radiators == made.radiators
    whole = {language: json.loads(text) for language, text in take_plan(*pack_plan(made)).texts.items()}
    for language, text in taken.texts.items():
        said = json.loads(text)
        for name in ("before", "after", "notes", "channels"):
            assert said[name] == whole[language][name]
        assert said["price"]["total"] == whole[language]["takeoff"]["quote"]["total"]
    with pytest.raises(ValueError, match="beside the answer"):
        take_answer(pack_answer(answer)[0], b"more")
    with pytest.raises(ValueError):
        take_answer(b"{}", b"")


def test_too_few_or_too_many_bytes_are_no_plan(found: Plan) -> None:
    text, beside = pack_plan(found)
    for wrong in (beside[:-4], beside + b"1234", b""):
        with pytest.raises(ValueError, match="beside the plan"):
            take_plan(text, wrong)


def test_papers_arrive_as_they_were_made() -> None:
    papers = {"quote.pdf": b"%PDF-1.7", "parts.csv": b"", "index.html": b"<p>"}
    assert take_papers(*pack_papers(papers)) == papers
    with pytest.raises(ValueError, match="other sizes"):
        take_papers(pack_papers(papers)[0], b"%PDF")


def test_work_that_nobody_waits_for_is_left_and_the_process_stays_for_the_next() -> None:
    """Cancelled at any moment: while it begins, between two stages, as it answers."""
    job = open_job(SMALL)

    async def talk() -> None:
        worker = Worker()
        try:
            await worker.run("plan", job, seconds=60)
            process = worker._process
            assert process is not None
            for wait_s in (0.0, 0.005, 0.02, 0.05, 0.1, 0.2):
                other = job.model_copy(update={"title": f"After {wait_s} s"})
                told: list[str] = []
                task = asyncio.create_task(worker.run("plan", other, seconds=60, progress=told.append))
                await asyncio.sleep(wait_s)
                task.cancel()
                await asyncio.wait([task])
                if not wait_s:
                    continue  # it had not begun
                made = await worker.run("plan", job, seconds=60)
                assert f'"title":"{job.title}"' in made.texts["en"]
                assert worker._process is process, f"cancelled after {wait_s} s"
        finally:
            worker.stop()

    asyncio.run(talk())
