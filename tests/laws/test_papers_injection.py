"""Whatever people write stays words: in drawings, on the page, in the PDF and in tables."""

from __future__ import annotations

import csv
import datetime
import io
import xml.etree.ElementTree as ET
from functools import cache
from html.parser import HTMLParser
from typing import Any

import openpyxl
import pypdf
from hypothesis import given, settings
from hypothesis import strategies as st

import sample_plan
from counts import counted
from rehaul.planning import Plan
from rehaul.sheets import Column, Table, csv_text, map_svg, page_html, sheet_svg, xlsx_bytes
from rehaul.sheets.blocks import Bullets, Facts, Prose, Rows, Section, TaskBlock, Warning
from rehaul.sheets.svg import clean
from rehaul.sheets.typeset import typeset
from rehaul.takeoff.results import Task

NASTY = st.sampled_from(
    [
        "</text></svg><script>alert(1)</script>",
        '"><img src=x onerror=alert(1)>',
        "&amp;&lt;&#0;]]>",
        '#panic("x")',
        '#read("/etc/passwd")',
        "$ x_1 $ *bold* _italic_ `raw` @label <label> = heading",
        '"; #import "@preview/x:1.0.0": *; "',
        "\\u{41} \\",
        "=HYPERLINK(1)",
        "{{x}} {% y %} ${z}",
        "\u202egnp.exe",
    ]
)
WORDS = st.one_of(NASTY, st.text(min_size=1, max_size=40)).filter(lambda text: clean(text).strip() != "")


def spoiled(words: str) -> Plan:
    """The sample plan with the words in every place where a person may write."""
    plan = sample_plan.plan()
    job = plan.job
    house = job.house.model_copy(
        update={
            "name": words,
            "storeys": tuple(s.model_copy(update={"name": words}) for s in job.house.storeys),
            "rooms": tuple(r.model_copy(update={"name": words}) for r in job.house.rooms),
            "outlets": tuple(
                o.model_copy(update={"note": words, "old_label": words}) for o in job.house.outlets
            ),
            "meeting_points": tuple(m.model_copy(update={"name": words}) for m in job.house.meeting_points),
            "runs": tuple(r.model_copy(update={"sheath_print": words}) for r in job.house.runs),
        }
    )
    spoiled_job = job.model_copy(update={"title": words, "house": house})
    return Plan(**{**vars(plan), "job": spoiled_job})


class Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append(tag)
        self.found += [f"{tag}.{name}" for name, _ in attrs if name.startswith("on")]


def tags_of(html: str) -> dict[str, int]:
    parser = Tags()
    parser.feed(html)
    return {tag: parser.found.count(tag) for tag in sorted(set(parser.found))}


@cache
def innocent() -> dict[str, int]:
    return tags_of(page_html(spoiled("Plain")))


def elements(picture: str) -> set[str]:
    return {element.tag.rpartition("}")[2] for element in ET.fromstring(picture).iter()}


@given(WORDS)
@settings(max_examples=counted(20, 40), deadline=None)
def test_drawings_stay_well_formed_and_hold_only_shapes(words: str) -> None:
    plan = spoiled(words)
    allowed = {"svg", "g", "path", "circle", "rect", "text", "clipPath"}
    for picture in (sheet_svg(plan, "G"), map_svg(plan, "G"), sheet_svg(plan.job.house, "U")):
        assert elements(picture) <= allowed


@given(WORDS)
@settings(max_examples=8, deadline=None)
def test_the_page_grows_no_element_and_no_handler(words: str) -> None:
    found, plain = tags_of(page_html(spoiled(words))), innocent()
    # longer words may move labels and leaders about in the drawings, never what the page is made of
    drawn = {"text", "path", "g"}
    assert {t: n for t, n in found.items() if t not in drawn} == {
        t: n for t, n in plain.items() if t not in drawn
    }


@given(WORDS)
@settings(max_examples=counted(24, 60), deadline=None)
def test_words_in_the_pdf_are_set_as_they_are(words: str) -> None:
    task = Task(
        id="T01",
        title=words,
        stage="gate",
        visit=1,
        place=words,
        minutes=1,
        cautions=(words,),
        held=words,
        tools=(words,),
    )
    table = Table("t", words, (Column("a", words), Column("b", "B", "blank")), ((words, ""),), words)
    section = Section(
        "s",
        words,
        (
            Prose((words,)),
            Bullets(words, (words,)),
            Facts(((words, words),)),
            Rows(table),
            TaskBlock((task,)),
            Warning(words, (words,)),
        ),
    )
    job = sample_plan.job().model_copy(update={"title": words})
    made = typeset(job, [section], paper="A4")
    assert len(pypdf.PdfReader(io.BytesIO(made)).pages) >= 1


def test_markup_in_a_name_is_printed_letter_by_letter() -> None:
    words = '#panic("x") $a$ *b* <c> \\n'
    made = typeset(sample_plan.job(), [Section("s", "S", (Prose((words,)),))], paper="A4")
    assert words in pypdf.PdfReader(io.BytesIO(made)).pages[0].extract_text()


def test_letters_that_no_carried_font_has_do_not_stop_the_papers() -> None:
    """Hebrew, Han, an emblem, a rare script, and a place of the private area that no font fills."""
    for words in ("\u05e9\u05dc\u05d5\u05dd", "\u5bb6", "\U0001f3e0", "\U00012000", "a\ue123"):
        made = typeset(sample_plan.job(), [Section("s", words, (Prose((words,)),))], paper="A4")
        assert len(pypdf.PdfReader(io.BytesIO(made)).pages) == 1


CELLS = st.one_of(WORDS, st.integers(-1000, 1000), st.floats(-1e6, 1e6), st.none())


@given(st.lists(st.tuples(CELLS, CELLS), min_size=1, max_size=5))
@settings(max_examples=counted(24, 60), deadline=None)
def test_no_cell_of_a_table_is_a_formula(rows: list[tuple[Any, Any]]) -> None:
    table = Table("t", "T", (Column("a", "A", digits=3), Column("b", "B", digits=3)), tuple(rows))
    back = list(csv.reader(io.StringIO(csv_text(table), newline="")))[1:]
    assert len(back) == len(rows)
    for read, row in zip(back, rows, strict=True):
        for cell, value in zip(read, row, strict=True):
            if isinstance(value, str):
                assert not cell.startswith(("=", "+", "-", "@", "\t", "\r"))
                assert cell.removeprefix("'") == clean(value).removeprefix("'")
    noon = datetime.datetime(2026, 1, 1)
    book = openpyxl.load_workbook(io.BytesIO(xlsx_bytes([table], title="t", created=noon)))
    assert all(cell.data_type != "f" for line in book["t"].iter_rows() for cell in line)
