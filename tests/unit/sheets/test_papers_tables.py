"""Tables: what a plan says, in rows; no cell that acts."""

from __future__ import annotations

import csv
import dataclasses
import datetime
import io

import openpyxl

import sample_plan
from rehaul.facts.promises import grade_promises
from rehaul.house import Tick
from rehaul.sheets import Column, Table, csv_text, tables, xlsx_bytes
from rehaul.sheets.sections import sections
from rehaul.sheets.table import in_units, printed
from rehaul.sheets.tables_house import verdicts_in_brief
from rehaul.sheets.words import id_ranges, listed, promises, sentence

NOON = datetime.datetime(2026, 3, 2, 12)
NASTY = ("=1+1", "+1", "-1", "@x", "\t=1", "\r=1", '=HYPERLINK("http://x")')


def rows_of(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(csv_text(tables(sample_plan.plan())[name]))))


def test_every_table_has_a_row_length_that_fits_and_columns_of_their_own() -> None:
    for table in tables(sample_plan.plan()).values():
        keys = [column.key for column in table.columns]
        assert len(set(keys)) == len(keys)
        assert all(len(row) == len(keys) for row in table.rows), table.name


def test_rooms_say_now_and_after_with_the_narrowest_link() -> None:
    sewing = next(row for row in rows_of("rooms") if row["room"] == "Sewing room")
    plan = sample_plan.plan()
    before = next(rate for rate in plan.before.rooms if rate.name == "Sewing room")
    assert float(sewing["now_mbps"]) == round(before.median_mbps, 1)
    assert sewing["now_narrowest"] == before.narrowest


def test_a_plate_that_was_never_located_stays_listed() -> None:
    (row,) = [row for row in rows_of("outlets") if row["id"] == "U-04"]
    assert row["place"] == "never located"
    assert row["x_m"] == ""


def test_ticks_say_what_was_open_and_which_steps_are_gone() -> None:
    plan = sample_plan.plan()
    ticks = (
        Tick(id="K2", task="jack:C9", by="Ben", time="2026-03-03T09:00:00"),
        Tick(id="K1", task="T02", by="Ann", note="four joints", despite="T01 Ask at the door"),
    )
    worked = dataclasses.replace(plan, job=plan.job.model_copy(update={"ticks": ticks}))
    rows = list(csv.DictReader(io.StringIO(csv_text(tables(worked)["ticks"]))))
    assert [(row["id"], row["despite"]) for row in rows] == [("T02", "T01 Ask at the door"), ("", "")]
    assert rows[1]["step"] == "jack:C9: no longer in the plan"
    keys = [[section.key for section in sections(one)] for one in (plan, worked)]
    assert [("ticks" in one) for one in keys] == [False, True]


def test_a_far_end_that_was_not_found_stays_listed() -> None:
    (row,) = [row for row in rows_of("runs") if row["id"] == "C08"]
    assert row["ends"] == "M1 – far end not found"


def test_an_obligation_without_a_sign_off_shouts() -> None:
    assert [row["sign_off"].split(",")[0] for row in rows_of("obligations")] == [
        "NOBODY YET",
        "The household",
    ]


def test_formulas_are_disarmed_in_csv_and_stay_words_in_xlsx() -> None:
    table = Table("t", "T", (Column("a", "A"), Column("b", "B", "number", 1)), tuple((w, 1.5) for w in NASTY))
    for row in list(csv.reader(io.StringIO(csv_text(table))))[1:]:
        assert row[0].startswith("'") and row[1] == "1.5"
    sheet = openpyxl.load_workbook(io.BytesIO(xlsx_bytes([table], title="=T", created=NOON))).active
    assert sheet is not None
    for row in sheet.iter_rows(min_row=2):
        assert row[0].data_type == "s" and row[1].value == 1.5


def test_a_workbook_has_a_sheet_for_each_table_with_the_same_cells() -> None:
    every = tables(sample_plan.plan())
    book = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(every.values(), title="t", created=NOON)))
    assert book.sheetnames == list(every)
    ports = every["ports"]
    assert [cell.value for cell in book["ports"][2]][:2] == list(ports.rows[0][:2])


def test_the_same_tables_give_the_same_bytes() -> None:
    every = tables(sample_plan.plan())
    first, second = (xlsx_bytes(every.values(), title="t", created=NOON) for _ in range(2))
    assert first == second


def test_verdicts_in_brief_hold_every_rate() -> None:
    plan = sample_plan.plan()
    brief = verdicts_in_brief(plan)
    assert len(brief.rows) <= len(tables(plan)["verdicts"].rows)
    assert {row[0] for row in brief.rows} == {verdict.run for verdict in plan.cabling}


def test_promises_follow_the_evidence() -> None:
    said = promises(sample_plan.plan())
    assert said[0].startswith("Measured: C01 at 1 000 Mb/s")
    assert said[-1].startswith("Unknown: ") and "C02" in said[-1] and "Nothing is promised" in said[-1]
    record = promises(sample_plan.plan(), record=True)
    for words, kept, grade in ((said[0], record[0], "measured"), (said[-1], record[-1], "unknown")):
        row = grade_promises()[grade]
        assert words.endswith(f"{row.promise}.") and kept.endswith(f"{row.handover}.")


def test_words() -> None:
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert sentence("It is so") == "It is so." and sentence("Is it?") == "Is it?" and sentence("") == ""
    assert id_ranges(("T41", "T02", "T01", "T03", "G-01")) == "G-01, T01–T03, T41"
    assert id_ranges(("C01", "C02")) == "C01, C02"


def test_walls_are_gathered_by_what_they_are_taken_to_be() -> None:
    rows = rows_of("walls")
    assert sum(int(row["count"]) for row in rows) == len(sample_plan.house().walls)
    (unknown,) = [row for row in rows if str(row["construction"]).startswith("not named; ")]
    assert unknown["thickness_mm"] == "" and unknown["length_m"] == "5.2"
    assert unknown["storeys"] == "Upper floor"


def test_a_question_that_nobody_asked_shouts() -> None:
    answers = {row["question"]: row["answer"] for row in rows_of("gate")}
    assert answers["Is there asbestos in boards, tiles, lagging?"] == "NOT ASKED"
    assert answers["Is there lead paint where holes are made?"] == "yes"
    assert answers["Does the owner agree, where the house is rented?"] == "does not apply"


def test_every_cable_has_its_checks_before_cutting() -> None:
    rows = rows_of("live_checks")
    assert rows[0]["runs"] == "every cable"
    assert any("C02" in row["runs"] and "monitoring" in row["do"] for row in rows)


def test_paper_speaks_feet_and_inches_where_the_household_does_and_files_keep_metres() -> None:
    table = Table(
        "t",
        "T",
        (
            Column("pull_m", "New pull m", "number", 1),
            Column("thick_mm", "Thick mm", "whole"),
            Column("n", "m"),
        ),
        ((3.048, 254, "m"), (None, None, "")),
    )
    imperial = in_units(table, "imperial")
    assert [column.head for column in imperial.columns] == ["New pull ft", "Thick in", "m"]
    assert printed(imperial)[1] == (("10.0", "10.0", "m"), ("", "", ""))
    assert in_units(table, "metric") is table
    assert csv_text(table).splitlines()[1] == "3.0,254,m"
