"""The papers of the demo job, from the job document to the folder."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pypdfium2
import pytest

from plans_once import made_plan
from rehaul.house import held_on
from rehaul.jobs import demo_job
from rehaul.planning import Plan
from rehaul.sheets import pdf, write_papers


@pytest.fixture(scope="module")
def made() -> Plan:
    return made_plan(demo_job())


@pytest.fixture(scope="module")
def paper(made: Plan) -> bytes:
    return pdf(made)


@pytest.fixture(scope="module")
def words(paper: bytes) -> str:
    pages = pypdf.PdfReader(io.BytesIO(paper)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_every_room_is_named_with_what_it_gets_and_what_sets_it(made: Plan, words: str) -> None:
    for rate in (*made.before.rooms, *made.after.rooms):
        assert rate.name in words
    assert "air 2.4 GHz from" in words and "the rate paid for" in words


def test_nothing_sticks_out_of_a_sheet(paper: bytes) -> None:
    for number, page in enumerate(pypdfium2.PdfDocument(paper), start=1):
        wide, high = page.get_size()
        text = page.get_textpage()
        for place in range(text.count_chars()):
            if text.get_text_range(place, 1).strip():
                left, bottom, right, top = text.get_charbox(place)
                assert 10 < left < right < wide - 10, (number, text.get_text_range(place, 20))
                assert 10 < bottom <= top < high - 10, (number, text.get_text_range(place, 20))


def test_what_is_not_known_stays_listed(made: Plan, words: str) -> None:
    assert "never located" in words and "far end not found" in words
    for question in made.open_questions:
        assert question.question in words


def test_no_paper_orders_the_alarm_cut(made: Plan, words: str) -> None:
    held = {verdict.run for verdict in made.cabling if verdict.held_by}
    assert held
    for run in held:
        assert f"Cable {run} may not be cut" in words
        assert not [t for t in made.order if run in t.because and t.stage == "terminate" and not t.held]


def test_a_cable_that_may_not_be_cut_is_not_tagged_as_free(made: Plan) -> None:
    tags = {task.because[0]: task.title for task in made.order if task.title.startswith("Tag ")}
    held = {run for run in tags if held_on(made.job, run)}
    assert {"C08", "C10"} <= held, "damaged and untested; far end not found"
    for run in held:
        assert "do not cut" in tags[run] or "leave it whole" in tags[run], tags[run]


def test_the_folder_opens_with_a_page(made: Plan, tmp_path: Path) -> None:
    first, *rest = write_papers(made, tmp_path)
    assert first.name == "index.html" and "Invented example" in first.read_text(encoding="utf-8")
    assert sum(path.stat().st_size for path in rest) < 5_000_000
