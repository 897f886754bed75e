"""Blocks into one PDF through typst, with the fonts that typst carries: the same bytes on every machine."""

from __future__ import annotations

import datetime
import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

import typst

from rehaul.house import Job
from rehaul.sheets.blocks import (
    Beside,
    Block,
    Bullets,
    Drawing,
    Facts,
    Form,
    Prose,
    Rows,
    Section,
    TaskBlock,
    Warning,
    section_in_units,
)
from rehaul.sheets.svg import clean
from rehaul.sheets.table import Table, is_loud, printed
from rehaul.sheets.words import id_ranges, sentence, visit_words
from rehaul.takeoff.results import Task
from rehaul.words import Saying, reader, say, term

Paper = Literal["A4", "Letter"]
SIZES_MM: dict[Paper, tuple[float, float]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
UNDATED = datetime.date(2000, 1, 1)  # an undated job still gives the same bytes every time
Standard = Literal["a-3a", "ua-1"]
_PAPER_NAMES = {"metric": "typeset.paper_metric", "imperial": "typeset.paper_imperial"}
STANDARDS: list[Standard] = ["a-3a", "ua-1"]  # archive with files inside, and readable aloud
MISSING_LETTER = "could not be displayed"  # typst's words for a letter that no font has


@dataclass(frozen=True)
class Attachment:
    """A file carried inside the PDF."""

    name: str
    text: str
    mime: str
    about: str
    relation: Literal["source", "data", "alternative", "supplement"]


def typeset(
    job: Job,
    sections: Sequence[Section],
    *,
    paper: Paper,
    title: str = "",
    enclosures: Sequence[Attachment] = (),
) -> bytes:
    """A PDF/A-3a of the sections, lying on A4 or Letter, dated as the job is: the same input, the same bytes.

    Parameters
    ----------
    title : on every sheet; the job's own where left out
    enclosures : files that are attached inside

    People's words go in as data and are set as text. `typst.TypstError` where the typesetter refuses: a
    fault of ours.

    **Validity**: a script that neither carried font covers takes the machine's fonts (docs/papers.md,
    "Limits").
    """
    day = job_day(job)
    short, long = SIZES_MM[paper]
    data = {
        "title": title or job.title,
        "date-words": job.date or say("record.undated"),
        "words": _sheet_words(invented=job.invented),
        "drawn-for": job.contacts.household or job.house.name,
        "paper-name": say(_PAPER_NAMES[job.units], paper=paper),
        "width-mm": long,
        "height-mm": short,
        "sections": [_section(section_in_units(section, job.units)) for section in sections],
        "files": [
            {"name": e.name, "text": e.text, "mime": e.mime, "about": e.about, "relation": e.relation}
            for e in enclosures
        ],
    }
    return compile_typst("sheets.typ", data, day)


def _sheet_words(*, invented: bool) -> dict[str, str]:
    """What stands on every sheet beside what the sections say. Braces are filled by the template."""
    return {
        "job": say("typeset.invented_job" if invented else "typeset.job"),
        "sheet": say("typeset.sheet"),
        "paper": say("typeset.paper"),
        "drawn-for": say("papers_page.drawn_for"),
        "date": say("papers_page.date"),
        "number": say("typeset.number"),
        "number-of": say("cells.of", part="{page}", whole="{pages}"),
        "none": say("papers_page.none"),
        "held": say("papers_page.held"),
        "photograph-first": say("typeset.photograph_first"),
    }


def job_day(job: Job) -> datetime.date:
    """The day of the job, or 1 January 2000 where it has none that can be read.

    What papers are dated by, so that the same job gives the same bytes on every day. **Source**:
    docs/papers.md, "How it is made": same input, same bytes.
    """
    try:
        return datetime.date.fromisoformat(job.date[:10])
    except ValueError:
        return UNDATED


def compile_typst(template: str, data: dict[str, Any], day: datetime.date) -> bytes:
    """A template with its data. Words reach typst as data only, so nothing in them can act as markup.

    Letters that the carried fonts lack are taken from the machine's fonts; where those lack them too the
    PDF is a plain one with a hollow box for each, since an archive file may not hold a letter it cannot show.
    **Source**: docs/papers.md, "How it is made": same input, same bytes.
    """
    data = {**data, "date": [day.year, day.month, day.day], "lang": reader().language}
    source = files("rehaul.sheets").joinpath("templates", template).read_bytes()
    noon = datetime.datetime(day.year, day.month, day.day, 12, tzinfo=datetime.UTC)
    sent = json.dumps(_clean(data), ensure_ascii=False)
    for system_fonts, standards in ((False, STANDARDS), (True, STANDARDS)):
        try:
            return _compile(source, sent, noon, system_fonts=system_fonts, standards=standards)
        except typst.TypstError as error:
            if MISSING_LETTER not in error.message:
                raise
    return _compile(source, sent, noon, system_fonts=True, standards=[])


def _compile(
    source: bytes, data: str, noon: datetime.datetime, *, system_fonts: bool, standards: list[Standard]
) -> bytes:
    result = _compiler(system_fonts).compile(
        input=source,
        format="pdf",
        sys_inputs={"data": data},
        pdf_standards=[*standards],
        timestamp=int(noon.timestamp()),
    )
    assert isinstance(result, bytes)
    return result


@cache
def _compiler(system_fonts: bool) -> typst.Compiler:
    return typst.Compiler(font_paths=typst.Fonts(include_system_fonts=system_fonts))


def _clean(value: Any) -> Any:
    """The same data without characters that no font or XML can hold."""
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, dict):
        return {key: _clean(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_clean(item) for item in value]
    return value


def _section(section: Section) -> dict[str, Any]:
    bare = any(isinstance(block, Drawing) and block.whole_sheet for block in section.blocks)
    return {
        "title": section.title,
        "bare": bare,
        "blocks": [_block(block, section) for block in section.blocks],
    }


def _block(block: Block, section: Section) -> dict[str, Any]:
    match block:
        case Prose(paragraphs, lead):
            return {"kind": "prose", "paragraphs": paragraphs, "lead": lead}
        case Bullets(heading, items):
            return {"kind": "points", "heading": heading, "items": items}
        case Facts(pairs):
            return {"kind": "facts", "pairs": pairs}
        case Rows(table):
            return {"kind": "rows", "alone": table.title == section.title, **_table(table)}
        case Drawing(svg, shows, width_mm, height_mm, whole_sheet):
            return {
                "kind": "drawing",
                "svg": svg,
                "shows": shows,
                "width-mm": width_mm,
                "height-mm": height_mm,
                "whole-sheet": whole_sheet,
            }
        case TaskBlock(tasks):
            return {"kind": "steps", "tasks": [_task(task) for task in tasks]}
        case Warning(heading, sentences):
            return {"kind": "warning", "heading": heading, "sentences": sentences}
        case Form(captions):
            return {"kind": "form", "captions": captions}
        case Beside(left, right, share):
            return {
                "kind": "beside",
                "left": _block(left, section),
                "right": [_block(one, section) for one in right],
                "share": share,
            }


def _table(table: Table) -> dict[str, Any]:
    columns, rows = printed(table)
    blanks = sum(1 for column in columns if column.kind == "blank")
    return {
        "title": table.title,
        "note": table.note if table.rows else "",
        "tall": blanks > 1,
        "columns": [{"head": column.head, "kind": column.kind, "share": column.share} for column in columns],
        "rows": [[{"words": cell, "loud": is_loud(cell)} for cell in row] for row in rows],
    }


def _task(task: Task) -> dict[str, Any]:
    return {
        "id": task.id,
        "title": task.title,
        "visit": visit_words(task.visit),
        "meta": task_meta(task),
        "held": sentence(task.held),
        "photo": task.photo,
        "cautions": task.cautions,
    }


def task_meta(task: Task) -> Saying:
    """Where, how long, after what, with what: one line below the title of a task.

    What a task does not have is left out.
    """
    longer = task.minutes_90 > task.minutes
    time = "typeset.minutes_90" if longer else "typeset.minutes"
    said = {"minutes": task.minutes, **({"minutes_90": task.minutes_90} if longer else {})}
    parts = [task.place, say(time, **said)]
    if task.person:
        parts.append(say("typeset.person", person=task.person))
    if task.needs:
        parts.append(say("typeset.after", tasks=id_ranges(task.needs)))
    if task.tools:
        parts.append(say("words.joined", parts=[term(tool) for tool in task.tools]))
    if task.because:
        parts.append(say("typeset.because", things=id_ranges(task.because)))
    return say("typeset.task", parts=parts)
