"""The papers of a whole plan: complete, true to scale, the same bytes each time, readable without rehaul."""

from __future__ import annotations

import csv
import errno
import io
import os
from pathlib import Path

import numpy as np
import pypdf
import pypdfium2
import pytest
import zxingcpp

import sample_plan
from rehaul.errors import CannotSave
from rehaul.house import dump_job, parse_job
from rehaul.sheets import Paper, handover_files, labels_pdf, papers, pdf, tables, write_papers
from rehaul.sheets.files import write_all
from rehaul.sheets.layout import lay
from rehaul.sheets.record import door_words, record_only
from rehaul.sheets.walls import wall_thickness_m

MM_PER_POINT = 25.4 / 72  # a PDF point is 1/72 inch (ISO 32000-1, 8.3.2.3)


@pytest.fixture(scope="module", params=["A4", "Letter"])
def paper(request: pytest.FixtureRequest) -> Paper:
    chosen: Paper = request.param
    return chosen


@pytest.fixture(scope="module")
def made(paper: Paper) -> bytes:
    return pdf(sample_plan.plan(), paper)


@pytest.fixture(scope="module")
def words(made: bytes) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(made)).pages]


def test_sheets_have_the_size_of_the_paper_lying(made: bytes, paper: Paper) -> None:
    size_mm = {"A4": (297.0, 210.0), "Letter": (279.4, 215.9)}[paper]  # ISO 216; ANSI Y14.1 size A
    for page in pypdf.PdfReader(io.BytesIO(made)).pages:
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        assert (width * MM_PER_POINT, height * MM_PER_POINT) == pytest.approx(size_mm, abs=0.05)


def test_every_sheet_names_the_job_itself_and_its_number(words: list[str]) -> None:
    for number, page in enumerate(words, 1):
        assert "House with the blue door" in page
        assert f"{number} of {len(words)}" in page
        assert "2026-03-02" in page


@pytest.mark.parametrize(
    "said",
    [
        "Plan of Ground floor",
        "Mb/s on Upper floor, today",
        "Mb/s on Upper floor, after the work",
        "Cable schedule",
        "Termination: T568B",
        "Port map",
        "Rack, power and heat",
        "Channel plan",
        "Address sheet",
        "Takeoff",
        "Quote",
        "Asked at the door",
        "Before anything is cut",
        "Order of work",
        "What is still unknown",
        "Who still depends on a pair",
        "Acceptance test sheet",
        "never located",
        "far end not found",
        "an invented example",
        "Prices are invented",
    ],
)
def test_the_set_is_complete(words: list[str], said: str) -> None:
    assert said in " ".join(page.replace("\n", " ") for page in words)


def test_a_held_task_is_locked_and_its_cautions_stand_with_it(words: list[str]) -> None:
    plan = sample_plan.plan()
    order = " ".join(" ".join(page for page in words if "Order of work" in page).split())
    held = [task for task in plan.order if task.held]
    assert order.count("HELD, do not start.") == len(held) == 1
    start = order.index(f"{held[0].id} {held[0].title}")
    assert held[0].held in order[start:]
    for task in plan.order:
        for caution in task.cautions:
            assert caution in order


def test_the_job_document_lies_inside_the_pdf_and_opens(made: bytes) -> None:
    inside = pypdf.PdfReader(io.BytesIO(made)).attachments
    (content,) = inside["sample-1.rehaul.json"]
    assert parse_job(content) == sample_plan.job()
    assert content.decode() == dump_job(sample_plan.job())


def test_it_says_it_is_an_archive_file_that_can_be_read_aloud(made: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(made))
    assert reader.xmp_metadata is not None
    claims = reader.xmp_metadata.rdf_root.toxml()
    # ISO 19005-3 (PDF/A-3, level A) and ISO 14289-1 (PDF/UA-1) claim themselves in XMP by these names
    assert "<pdfaid:part>3</pdfaid:part>" in claims
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in claims
    assert "<pdfuaid:part>1</pdfuaid:part>" in claims
    assert "/OutputIntents" in reader.root_object
    for page in reader.pages:
        fonts = page["/Resources"].get("/Font", {})  # type: ignore[union-attr]
        for font in fonts.values():
            (inner,) = font.get_object()["/DescendantFonts"]
            descriptor = inner.get_object()["/FontDescriptor"].get_object()
            assert "/FontFile2" in descriptor or "/FontFile3" in descriptor


def test_a_ruler_on_the_printed_sheet_measures_the_house(made: bytes, words: list[str]) -> None:
    """Outer wall to outer wall, measured in ink on the rendered page, times the scale."""
    number = next(i for i, page in enumerate(words) if "Plan of Upper floor" in page)
    dots_per_mm = 8.0
    page = pypdfium2.PdfDocument(made)[number]
    grey = page.render(scale=dots_per_mm * MM_PER_POINT).to_pil().convert("L")
    dark = np.asarray(grey) < 90
    house = sample_plan.house()
    layout = lay(house, house.storeys[2], "metric")
    across_m = sample_plan.WIDTH_M + wall_thickness_m(
        house.walls[0].model_copy(update={"construction": "brick-cavity"})
    )
    # the unbroken upper edge of the outer wall is the longest stretch of ink but for frame and title block
    spans_mm = {round(_longest_run(line) / dots_per_mm, 1) for line in dark}
    wanted_mm = across_m * 1000 / layout.view.ratio
    assert min(abs(span - wanted_mm) for span in spans_mm) < 0.3


def _longest_run(line: np.ndarray) -> int:  # type: ignore[type-arg]
    edges = np.flatnonzero(np.diff(np.concatenate(([0], line.astype(np.int8), [0]))))
    return int((edges[1::2] - edges[::2]).max(initial=0))


def test_the_same_plan_gives_the_same_bytes() -> None:
    plan = sample_plan.plan()
    for make in (papers, handover_files):
        first, second = make(plan), make(plan)
        assert list(first) == list(second)
        for name in first:
            assert first[name] == second[name], name


def test_the_folder_holds_page_pdf_labels_tables_and_drawings(tmp_path: Path) -> None:
    written = {path.relative_to(tmp_path).as_posix() for path in write_papers(sample_plan.plan(), tmp_path)}
    assert {"index.html", "plan.pdf", "labels.pdf", "tables.xlsx", "sample-1.rehaul.json"} <= written
    assert {f"csv/{name}.csv" for name in tables(sample_plan.plan())} <= written
    assert {
        f"drawings/map-{storey}-{when}.svg" for storey in "BGU" for when in ("before", "after")
    } <= written
    assert not list(tmp_path.rglob("*.part"))


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("record")
    write_all(folder, handover_files(sample_plan.plan(), kept_at="the drawer under the cellar board"))
    return folder


def text_of(path: Path) -> str:
    pages = pypdf.PdfReader(path).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_the_record_holds_what_outlives_everyone(record: Path) -> None:
    said = text_of(record / "handover.pdf")
    for title in (
        "What is promised, and under which rules",
        "Cable left in the walls, tagged",
        "What was done, and how to undo it",
        "Hole and fire-block log",
        "Photographs",
        "Serial numbers",
        "Change log",
        "Address sheet",
        "Who still depends on a pair",
        "What is still unknown",
    ):
        assert title in said
    assert "Quote" not in said
    assert "sample-1.rehaul.json" in pypdf.PdfReader(record / "handover.pdf").attachments


def test_the_record_opens_without_rehaul(record: Path) -> None:
    plain = record / "plain"
    first = (plain / "READ-ME-FIRST.txt").read_text(encoding="utf-8")
    assert "Cable C02: an alarm is on it and monitored alarm" in first
    assert "Where does cable C08 come out?" in first
    for table in (*tables(sample_plan.plan()).values(), *record_only(sample_plan.plan())):
        with (plain / "csv" / f"{table.name}.csv").open(encoding="utf-8", newline="") as file:
            assert len(list(csv.reader(file))) == len(table.rows) + 1
    assert parse_job((plain / "sample-1.rehaul.json").read_bytes()) == sample_plan.job()


def test_a_telephone_reads_the_port_map_from_the_closet_door(record: Path) -> None:
    page = pypdfium2.PdfDocument((record / "closet-door.pdf").read_bytes())[0]
    (code,) = zxingcpp.read_barcodes(page.render(scale=2).to_pil())
    assert code.text == door_words(sample_plan.plan(), "the drawer under the cellar board")
    assert "1: AP1 Sewing room C01 U-01" in code.text
    assert "DO NOT CUT C02" in code.text


def test_secrets_are_asked_for_apart_and_never_held(record: Path) -> None:
    apart = text_of(record / "secrets-apart.pdf")
    assert "Network guests: name on the air, and its key" in apart
    assert "Fill in by hand" in apart
    assert "password" not in text_of(record / "handover.pdf").replace("No password stands here", "")


def test_labels_are_printed_at_true_size() -> None:
    """The first two labels of a row stand one label width apart on A4: 70 mm."""
    page = pypdfium2.PdfDocument(labels_pdf(sample_plan.plan(), "A4"))[0]
    searcher = page.get_textpage().search("C0", match_case=True)
    lefts = []
    while (found := searcher.get_next()) is not None:
        left, _, _, top = page.get_textpage().get_charbox(found[0])
        lefts.append((round(top), left))
    row = sorted(left for top, left in lefts if top == max(t for t, _ in lefts))
    assert (row[1] - row[0]) * MM_PER_POINT == pytest.approx(70, abs=0.3)


def test_a_disk_that_is_full_leaves_the_old_papers_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_papers(sample_plan.plan(), tmp_path)
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(CannotSave, match="the disk is full"):
        write_papers(sample_plan.plan(), tmp_path, "Letter")
    after = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    assert after == before


def test_a_folder_that_is_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "papers").write_text("mine")
    with pytest.raises(CannotSave):
        write_papers(sample_plan.plan(), tmp_path / "papers")
    assert (tmp_path / "papers").read_text() == "mine"


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_both_unit_systems_print(units: str) -> None:
    plan = sample_plan.plan()
    job = plan.job.model_copy(update={"units": units})
    text = " ".join(
        page.extract_text()
        for page in pypdf.PdfReader(io.BytesIO(pdf(type(plan)(**{**vars(plan), "job": job})))).pages
    )
    assert ("sq ft" in text) == (units == "imperial")
    assert ("m²" in text) == (units == "metric")
