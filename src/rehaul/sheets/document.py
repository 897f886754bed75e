"""The papers of a plan: one PDF, one page, drawings and tables, written into a folder."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence
from pathlib import Path

from rehaul.house import dump_job
from rehaul.planning import Plan
from rehaul.predict.size import require_papers_memory
from rehaul.sheets.blocks import Drawing, Section
from rehaul.sheets.files import write_all
from rehaul.sheets.labels import labels_pdf, labels_table
from rehaul.sheets.page import page_html
from rehaul.sheets.readers import read_by
from rehaul.sheets.schedules import tables
from rehaul.sheets.sections import sections
from rehaul.sheets.spreadsheet import csv_text, xlsx_bytes
from rehaul.sheets.table import Table
from rehaul.sheets.typeset import Attachment, Paper, job_day, typeset
from rehaul.words import Language, say


def pdf(plan: Plan, paper: Paper | None = None, every: Sequence[Section] | None = None) -> bytes:
    """All sheets of a plan in one PDF/A-3a with the job document inside, for the present reader.

    `paper` is A4 or Letter, the job's own where left out; `every` the plan's sections where they are made
    already. The same plan gives the same bytes.
    """
    every = sections(plan) if every is None else every
    return typeset(plan.job, every, paper=paper or plan.job.paper, enclosures=[job_enclosure(plan)])


def write_papers(
    plan: Plan, out_dir: str | Path, paper: Paper | None = None, *, language: Language | None = None
) -> list[Path]:
    """Write page, PDF, labels, drawings and tables into a folder and return the files, the page first.

    Everything is made before anything is written; what stands there under those names is written over.
    Raises CannotSave, and TooMuchMemory where they would not end in the memory that this process was given.
    """
    return write_all(Path(out_dir), papers(plan, paper, language=language))


def papers(
    plan: Plan, paper: Paper | None = None, *, language: Language | None = None
) -> dict[str, bytes | str]:
    """Page, PDF, labels, drawings and tables by file name, the page first.

    Parameters
    ----------
    paper : A4 or Letter; the job's own where left out
    language : what they are written in, the present reader's where left out; names of files and of columns
        in CSV are the same in each

    Raises TooMuchMemory where they would not end in the memory that this process was given.
    """
    require_papers_memory(plan.job)
    with read_by(plan, language) as plan:
        return _papers(plan, paper or plan.job.paper)


def _papers(plan: Plan, paper: Paper) -> dict[str, bytes | str]:
    every = sections(plan)
    job_name = f"{plan.job.id}.rehaul.json"
    links = (
        ("plan.pdf", say("papers_page.plan_pdf", paper=paper)),
        ("labels.pdf", say("papers_page.labels_pdf")),
        ("tables.xlsx", say("papers_page.workbook")),
        ("csv/rooms.csv", say("papers_page.rooms_csv")),
        (job_name, say("papers_page.job")),
    )
    return {
        "index.html": page_html(plan, links, every),
        "plan.pdf": pdf(plan, paper, every),
        "labels.pdf": labels_pdf(plan, paper),
        "tables.xlsx": workbook(plan),
        job_name: dump_job(plan.job),
        **csv_files(plan),
        **drawing_files(every),
    }


def job_enclosure(plan: Plan) -> Attachment:
    """The job document as a file for inside a PDF."""
    return Attachment(
        name=f"{plan.job.id}.rehaul.json",
        text=dump_job(plan.job),
        mime="application/json",
        about=say("papers_page.job_inside"),
        relation="source",
    )


def csv_files(plan: Plan) -> dict[str, str]:
    """Every table of the plan as CSV, by file name under `csv/`.

    Lengths are in metres, whatever the household reads. The labels are among them. **Source**:
    docs/papers.md, "Tables".
    """
    return {f"csv/{name}.csv": csv_text(table) for name, table in (tables(plan) | _labels(plan)).items()}


def workbook(plan: Plan, extra: Iterable[Table] = ()) -> bytes:
    """Every table as one XLSX, those of `extra` last; one of the same name replaces the plan's own.

    Dated as the job is, at noon, so the same plan gives the same bytes.
    """
    every = tables(plan) | _labels(plan) | {table.name: table for table in extra}
    noon = datetime.datetime.combine(job_day(plan.job), datetime.time(12))
    return xlsx_bytes(every.values(), title=plan.job.title, created=noon)


def drawing_files(every: Iterable[Section]) -> dict[str, str]:
    """Every plan sheet and map among the sections as SVG, by file name under `drawings/`.

    Small drawings that stand among words (ports, rack, pins) are left out.
    """
    return {
        f"drawings/{section.key}.svg": block.svg
        for section in every
        for block in section.blocks
        if isinstance(block, Drawing) and block.whole_sheet
    }


def _labels(plan: Plan) -> dict[str, Table]:
    table = labels_table(plan)
    return {table.name: table}
