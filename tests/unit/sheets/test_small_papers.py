"""Labels, tables, ports, codes and pins of the papers, each figure worked out beside it."""

from __future__ import annotations

import datetime
import io
import re
import zipfile
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.errors import BadInput
from rehaul.house import Storey, Wall
from rehaul.sheets import labels, svg
from rehaul.sheets.blocks import Bullets, Rows
from rehaul.sheets.pins import colour_code, pins_svg
from rehaul.sheets.placing import box_round
from rehaul.sheets.portmap import ports_svg
from rehaul.sheets.qr import qr_svg
from rehaul.sheets.spreadsheet import csv_text, harmless, xlsx_bytes
from rehaul.sheets.summary import _feeds, rooms_section
from rehaul.sheets.table import Column, Table
from rehaul.sheets.typeset import job_day, task_meta
from rehaul.sheets.walls import is_unknown, wall_thickness_m
from rehaul.takeoff.labels import LabelLine
from rehaul.takeoff.results import Task

thing: Any = SimpleNamespace
STOREY = Storey(id="1", name="One", elevation_m=0)


def numbers(text: str) -> list[float]:
    return [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", text)]


def test_strips_for_a_tape_hold_every_label() -> None:
    every = (
        LabelLine(id="C1", alias="to Hall", on="cable end", place="Closet", wrap=True),
        LabelLine(id="AP1", alias="Hall", on="box", place="Hall"),
    )
    found = labels._strips(every, 0.009)
    assert found["width"] == 9.0 and "9 mm" in found["heading"]
    assert [
        strip["lines"][0].startswith(words)
        for strip, words in zip(found["strips"], ("C1  C1  C1", "AP1"), strict=True)
    ] == [True, True]
    fitted = [labels.on_tape(label, 0.009).capital_m * 1000 for label in every]
    assert [strip["capital"] for strip in found["strips"]] == pytest.approx(fitted) and min(fitted) > 1.8


def test_labels_are_printed_on_the_paper_that_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    every = (LabelLine(id="C1", alias="to Hall", on="cable end", place="Closet", wrap=True),)
    told: dict[str, Any] = {}
    monkeypatch.setattr(labels, "compile_typst", lambda name, data, day: told.update(data) or b"%PDF")
    monkeypatch.setattr(labels, "job_day", lambda job: None)
    plan = thing(job=thing(paper="A4", title="Invented"), labels=every)
    for asked, paper in ((None, "a4"), ("A4", "a4"), ("Letter", "us-letter")):
        assert labels.labels_pdf(plan, asked) == b"%PDF"
        assert told["paper"] == paper and told["title"].startswith("Invented")
    width_mm = told["grid"]["width"] * told["grid"]["columns"]
    assert 150 < width_mm < 216 and told["grid"]["pitch-x"] >= told["grid"]["width"], "within a Letter"
    (row,) = told["labels"]
    assert (row["id"], row["alias"], row["wrap"]) == ("C1", "to Hall", True) and "Closet" in row["note"]
    assert [tape["width"] for tape in told["tapes"]] == [6.0, 9.0, 12.0]


def test_what_the_rooms_sheet_holds() -> None:
    every: Any = {name: Table(name, name, (), ()) for name in ("rooms", "rooms_up", "shortfalls")}

    def blocks(notes: tuple[str, ...], shortfalls: tuple[int, ...]) -> list[Any]:
        plan: Any = thing(after=thing(notes=notes), choice=thing(shortfalls=shortfalls))
        return list(rooms_section(plan, every).blocks)

    assert blocks((), ()) == [Rows(every["rooms"]), Rows(every["rooms_up"])]
    full = blocks(("a note",), (1,))
    assert (
        isinstance(full[2], Bullets)
        and full[2].items == ("a note.",)
        and full[3] == Rows(every["shortfalls"])
    )


def test_how_access_points_are_fed_in_words() -> None:
    def fed(*kinds: str) -> str:
        sites = {
            "old": thing(run="C1", new_pull_m=0.0, hop=False),
            "other": thing(run="C2", new_pull_m=0.0, hop=False),
            "new": thing(run="", new_pull_m=3.0, hop=False),
            "hop": thing(run="", new_pull_m=0.0, hop=True),
            "cord": thing(run="", new_pull_m=0.0, hop=False),
        }
        return str(_feeds([thing(site=sites[kind]) for kind in kinds]))

    assert fed("old", "old", "other").startswith("over 2 old cables") and "radio" not in fed("old")
    assert (
        "1 new pull" in fed("new")
        and "1 old cable" in fed("old", "new")
        and "1 new pull" in fed("old", "new")
    )
    assert "cord" in fed("cord") and "cord" not in fed("new", "hop", "old")
    assert "radio" in fed("hop") and "over" not in fed("hop") and fed("hop", "cord") != fed("hop")


COLUMNS = (
    Column("a", "A"),
    Column("n", "N", "number", 1),
    Column("w", "W", "whole"),
    Column("m", "M", "money"),
    Column("k", "K", "number"),
)


def test_cells_in_files_keep_their_numbers() -> None:
    made = Table(
        "t",
        "T",
        COLUMNS,
        (("=1+1", 2.26, 3.0, 1.005, 0.04), ("x", None, 7, 2, 3.14), ("-1", 1.0, 2.4, 0.1, 5.0)),
    )
    assert csv_text(made).split("\r\n") == [
        "a,n,w,m,k", "'=1+1,2.3,3,1.0,0.0", "x,,7,2,3.1", "'-1,1.0,2.4,0.1,5.0", "",
    ]  # fmt: skip
    assert [harmless(text) for text in ("@a", "a@", "+1", "\t1", "")] == ["'@a", "a@", "'+1", "'\t1", ""]


def test_a_workbook_shows_as_many_digits_as_its_columns_say() -> None:
    long = "x" * 32_001
    made = Table("t" * 40, "T", COLUMNS, ((long, 2.26, 3.0, 1.5, 0.04),))
    when = datetime.datetime(2026, 1, 2, 3, tzinfo=datetime.UTC)
    book = xlsx_bytes([made], title="T", created=when)
    assert book == xlsx_bytes([made], title="T", created=when)
    files = zipfile.ZipFile(io.BytesIO(book))
    styles, sheet = (files.read(f"xl/{name}.xml").decode() for name in ("styles", "worksheets/sheet1"))
    assert set(re.findall(r'formatCode="([^"]+)"', styles)) == {"0.0", "0.00"}, (
        "whole numbers have one built in"
    )
    assert f'name="{"t" * 31}"' in files.read("xl/workbook.xml").decode()
    words = files.read("xl/sharedStrings.xml").decode()
    assert "x" * 32_000 in words and long not in words
    assert 'ySplit="1"' in sheet and "xSplit" not in sheet
    widths = [float(width) for width in re.findall(r'<col min="\d+" max="\d+" width="([\d.]+)"', sheet)]
    assert 48 < widths[0] < 50 and 8 < widths[1] < 10, "as wide as its words, from 8 to 48"


def test_ports_of_a_switch_with_a_ruler() -> None:
    def port(number: int, **more: Any) -> Any:
        given = {
            "poe_class": 0,
            "poe_w": 0.0,
            "device": "AP1",
            "panel_port": None,
            "run": "",
            "rate_mbps": 940.0,
        }
        return thing(port=number, **{**given, **more})

    drawn = ports_svg([port(1, poe_class=4, poe_w=12.4, panel_port=3, run="C1"), port(10)], 0)
    assert svg.drawing_size(drawn) == (244.0, 64.0), "ten ports: two rows of eight"
    assert drawn.count("stroke-dasharray") == 8 and drawn.count("12 W") == 1 and "C1" in drawn
    assert svg.drawing_size(ports_svg([port(1)], 2)) == (94.0, 34.0)
    assert svg.drawing_size(ports_svg([], 0)) == (34.0, 34.0)
    eight, nine = (ports_svg([port(1)], spare) for spare in (7, 8))
    assert svg.drawing_size(eight) == (244.0, 34.0) and svg.drawing_size(nine) == (244.0, 64.0)
    assert ports_svg([port(1)], 0) != ports_svg([port(1)], 0, of="router")


def test_a_code_keeps_four_modules_of_paper_about_it() -> None:
    drawn = qr_svg("A", 29.0, shows="code")  # 21 modules and eight of paper: a millimetre each
    assert svg.drawing_size(drawn) == (29.0, 29.0) and "scale(1.000000)" in drawn
    bars = re.findall(r"M(\d+) (\d+)h(\d+)v1h-(\d+)z", drawn)
    assert bars[0] == ("4", "4", "7", "7"), "the first corner's mark is seven wide"
    assert all(width == back for _, _, width, back in bars)
    assert (
        max(int(x) + int(width) for x, _, width, _ in bars) == 25 and max(int(y) for _, y, _, _ in bars) == 24
    )
    with pytest.raises(BadInput):
        qr_svg("x" * 4000, 29.0, shows="code")


def pin(number: int, base: str, stripe: str = "", pair_number: int = 1) -> Any:
    return thing(pin=number, base=base, stripe=stripe, colour=f"{stripe or base}", pair=pair_number)


def test_conductors_on_their_pins() -> None:
    codes = [
        colour_code(pin(1, *colours)) for colours in (("white", "orange"), ("orange",), ("green", "green"))
    ]
    assert codes == ["W/O", "O", "G"]
    four = thing(title="S", rows=(pin(3, "white", "green"), pin(6, "green"), pin(1, "red", "", 2)))
    drawn = pins_svg(four)
    assert svg.drawing_size(drawn) == (76.0, 82.0), "six contacts of 11 mm, 5 beside them"
    assert drawn.count('height="42"') == 3 and drawn.count('height="9"') == 6
    way = r'd="(M[\d.]+ [\d.]+V[\d.]+H[\d.]+V[\d.]+)" fill="none"'
    _, bracket = re.findall(way, drawn)  # the first is the housing
    assert numbers(bracket) == [32.5, 71.0, 72.0, 65.5, 71.0], "from pin 3 to pin 6"
    assert svg.drawing_size(pins_svg(thing(title="S", rows=(pin(7, "red"),)))) == (98.0, 82.0)


def test_one_line_below_a_step() -> None:
    step = Task.model_construct(
        id="T1", place="Hall", minutes=5.0, minutes_90=5.0, person=None, needs=(), tools=(), because=()
    )
    plain = str(task_meta(step))
    assert plain.startswith("Hall") and "5" in plain
    more = step.model_copy(
        update={
            "minutes_90": 9.0,
            "person": 2,
            "needs": ("T02", "T01"),
            "tools": ("tape",),
            "because": ("C1",),
        }
    )
    said = str(task_meta(more))
    for words in ("9", "2", "T01", "tape", "C1"):
        assert words in said.removeprefix(plain[:4]), words
    assert len(said.split(",")) > len(plain.split(","))
    assert job_day(thing(date="2026-03-02T10:00")) == datetime.date(2026, 3, 2)
    assert job_day(thing(date="")) == datetime.date(2000, 1, 1)


def test_how_thick_a_wall_is_drawn() -> None:
    from rehaul.house.model import Layer

    wall = Wall(id="w", storey="1", start=(0, 0), end=(1, 0))
    layered = wall.model_copy(
        update={"layers": (Layer(material="x", thickness_m=0.1), Layer(material="y", thickness_m=0.05))}
    )
    assert wall_thickness_m(wall) == 0.12 and is_unknown(wall)
    assert wall_thickness_m(layered) == pytest.approx(0.15) and not is_unknown(layered)
    assert wall_thickness_m(layered.model_copy(update={"thickness_m": 0.3})) == 0.3
    assert not is_unknown(wall.model_copy(update={"construction": "brick-half"}))
    assert wall_thickness_m(wall.model_copy(update={"construction": "brick-half"})) != 0.12
    assert box_round((0.0, 0.0), 2.0, 4.0) == (-1.0, -2.0, 1.0, 2.0)
