"""What stands in the handover record's plain files, its zip, its workbook and on the closet door."""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace

import pytest

import sample_plan
from rehaul.apart.limits import MEMORY_BY_NAME, TooMuchMemory
from rehaul.house import Job, dump_job
from rehaul.planning import Plan
from rehaul.sheets import handover_files, papers
from rehaul.sheets.blocks import Beside, Drawing, Prose, Section
from rehaul.sheets.document import csv_files, drawing_files, job_enclosure, workbook
from rehaul.sheets.record import door_words, read_me, record_only, zipped
from rehaul.sheets.table import Table
from rehaul.sheets.typeset import job_day

PLAN = sample_plan.plan()
EMPTY = replace(
    PLAN,
    job=Job(id="e", title="Empty"),
    network=PLAN.network.model_copy(update={"ports": ()}),
    open_questions=(),
)


def undated() -> Plan:
    return replace(PLAN, job=PLAN.job.model_copy(update={"date": ""}))


def test_a_zip_holds_each_file_whole_in_order_and_dated_alike() -> None:
    contents = {"b/two.bin": bytes(range(256)) * 40, "a.txt": "häuser\n"}
    with zipfile.ZipFile(io.BytesIO(zipped(contents))) as made:
        assert made.namelist() == ["b/two.bin", "a.txt"]
        assert made.read("b/two.bin") == contents["b/two.bin"]
        assert made.read("a.txt").decode("utf-8") == "häuser\n"
        assert {one.date_time for one in made.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        packed = made.getinfo("b/two.bin")
        assert packed.compress_size < packed.file_size / 4


@pytest.mark.parametrize("make", [handover_files, papers])
def test_papers_that_would_not_end_in_the_memory_given_do_not_begin(
    monkeypatch: pytest.MonkeyPatch, make: object
) -> None:
    monkeypatch.setenv(MEMORY_BY_NAME, "1000000")
    with pytest.raises(TooMuchMemory, match="are given"):
        make(EMPTY)  # type: ignore[operator]


def test_the_first_page_says_the_day_what_is_held_and_what_is_unknown() -> None:
    lines = read_me(PLAN).splitlines()
    assert lines[:3] == [
        "House with the blue door", "Handover record, 2026-03-02. Job sample-1.", ""
    ]  # fmt: skip
    held = lines.index("Must not be cut before somebody signs:")
    unknown = lines.index("Still unknown:")
    assert "C02" in lines[held + 1] and "alarm" in lines[held + 1]
    assert lines[unknown - 1] == ""
    assert len(lines[unknown + 1 :]) == len(PLAN.open_questions)
    assert "Nothing waits for a signature." not in lines and "Nothing is listed as unknown." not in lines


def test_the_first_page_of_a_house_where_nothing_waits() -> None:
    lines = read_me(EMPTY).splitlines()
    assert lines[1] == "Handover record, undated. Job e."
    assert {"Nothing waits for a signature.", "Nothing is listed as unknown."} <= set(lines)
    assert "Still unknown:" not in lines and "Must not be cut before somebody signs:" not in lines


def test_the_door_names_house_job_day_and_place() -> None:
    head = door_words(PLAN, "the drawer").splitlines()[:4]
    assert head[:3] == ["House with the blue door", "job sample-1, 2026-03-02", "record: the drawer"]
    assert "C02" in head[3]
    assert door_words(undated()).splitlines()[1] == "job sample-1, undated"
    assert "record:" not in door_words(PLAN)
    assert door_words(EMPTY) == "Empty\njob e, undated"


def test_a_door_with_more_ports_than_a_code_holds_leaves_the_last_ones_out() -> None:
    port = PLAN.network.ports[0]
    many = tuple(port.model_copy(update={"port": number}) for number in range(1, 101))
    text = door_words(replace(PLAN, network=PLAN.network.model_copy(update={"ports": many})))
    *kept, last = text.splitlines()
    assert last == "..." and len(text) <= 904
    shown = [line.split(":")[0] for line in kept if line[0].isdigit()]
    assert shown == [str(number) for number in range(1, len(shown) + 1)] and 10 < len(shown) < 100
    following = len(f"{len(shown) + 1}: " + kept[-1].split(": ", 1)[1]) + 1
    assert len("\n".join(kept)) + following > 900, "one more would not have found room"


@pytest.mark.parametrize(("spare", "whole"), [(0, True), (-1, False)])
def test_a_door_that_is_just_full_is_whole(spare: int, whole: bool) -> None:
    """900 characters are the most; the title is made as long as it takes."""
    full = 900 - spare
    title = PLAN.job.title + "x" * (full - len(door_words(PLAN)))
    text = door_words(replace(PLAN, job=PLAN.job.model_copy(update={"title": title})))
    assert text.endswith("...") != whole
    assert len(text) == 900 if whole else len(text) < 900


def test_drawings_are_the_whole_sheets_and_nothing_else() -> None:
    sheet, small = Drawing("<svg>a</svg>", "a", 10, 10, whole_sheet=True), Drawing("<svg>b</svg>", "b", 9, 9)
    made = drawing_files(
        [
            Section("plan-G", "Plan", (Prose(("words",)), sheet)),
            Section("rack", "Rack", (small, Beside(small, ()))),
        ]
    )
    assert made == {"drawings/plan-G.svg": "<svg>a</svg>"}


def test_a_workbook_is_dated_noon_of_the_job_s_day_and_holds_each_table_once() -> None:
    first, *_ = record_only(PLAN)
    double = Table("parts", "Parts", first.columns, first.rows)
    made = zipfile.ZipFile(io.BytesIO(workbook(PLAN, (first, double))))
    core = made.read("docProps/core.xml").decode()
    assert "2026-03-02T12:00:00Z" in core and "House with the blue door" in core
    sheets = made.read("xl/workbook.xml").decode()
    names = [part.split('"')[0] for part in sheets.split('<sheet name="')[1:]]
    assert len(names) == len(set(names)) and {first.name, "parts", "labels"} <= set(names)
    assert set(names) == {name.removeprefix("csv/").removesuffix(".csv") for name in csv_files(PLAN)} | {
        first.name
    }


def test_the_job_lies_inside_the_pdf_under_its_own_name() -> None:
    inside = job_enclosure(PLAN)
    assert (inside.name, inside.mime, inside.relation) == (
        "sample-1.rehaul.json", "application/json", "source"
    )  # fmt: skip
    assert inside.text == dump_job(PLAN.job) and inside.about


@pytest.mark.parametrize(
    ("date", "day"),
    [("2026-03-02", "2026-03-02"), ("2026-03-02T23:59", "2026-03-02"), ("", "2000-01-01")],
)
def test_papers_are_dated_by_the_job(date: str, day: str) -> None:
    assert job_day(Job(id="e", title="E").model_copy(update={"date": date})).isoformat() == day
