"""The handover record: one that opens without rehaul, and outlives the people who made it."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from rehaul.house import dump_job, held_on
from rehaul.house.record_place import require_place
from rehaul.planning import Plan
from rehaul.predict.size import require_papers_memory
from rehaul.sheets import record_tables, words
from rehaul.sheets.accepted import accepted_section, accepted_table
from rehaul.sheets.blocks import Beside, Bullets, Drawing, Facts, Form, Prose, Rows, Section
from rehaul.sheets.document import csv_files, drawing_files, job_enclosure, workbook
from rehaul.sheets.labels import labels_pdf, labels_table
from rehaul.sheets.qr import qr_svg
from rehaul.sheets.readers import read_by
from rehaul.sheets.schedules import tables
from rehaul.sheets.sections import sections
from rehaul.sheets.spreadsheet import csv_text
from rehaul.sheets.table import Table
from rehaul.sheets.tables_network import device_name
from rehaul.sheets.typeset import Paper, typeset
from rehaul.words import Language, say

RECORD_KEYS = (
    "summary",
    "rooms",
    "plan-",
    "map-",
    "cables",
    "access-points",
    "ports",
    "rack",
    "addresses",
    "ticks",
    "open",
    "acceptance",
)
RECORD_ZIP = "handover.zip"
EPOCH = (1980, 1, 1, 0, 0, 0)  # the least a zip file can say: the same record gives the same bytes
MOST_QR_CHARACTERS = 900  # a code that a telephone still reads from a door
QR_MM = 78.0


class Photo(NamedTuple):
    """A photo of a step of the work: the step's key, its file in the record, and the picture."""

    step: str
    file: str
    data: bytes


def handover_files(
    plan: Plan,
    paper: Paper | None = None,
    *,
    kept_at: str = "",
    photos: Sequence[Photo] = (),
    language: Language | None = None,
) -> dict[str, bytes | str]:
    """The handover record by file name, the sheets first; photos of steps last.

    Parameters
    ----------
    paper : A4 or Letter; the job's own where left out
    kept_at : where the record is kept, in words, printed on the closet door
    photos : of steps of the work
    language : what it is written in, the present reader's where left out; names of files are the same in each

    Raises BadInput for words of `kept_at` that are too many or on several lines, TooMuchMemory where it
    would not end in the memory that this process was given.
    """
    kept_at = require_place(kept_at, where="kept_at")
    require_papers_memory(plan.job)
    with read_by(plan, language) as plan:
        return _handover_files(plan, paper or plan.job.paper, kept_at, photos)


def _handover_files(
    plan: Plan, paper: Paper, kept_at: str, photos: Sequence[Photo]
) -> dict[str, bytes | str]:
    shown = [(photo.step, photo.file) for photo in photos]
    extra = record_only(plan, shown)
    every = sections(plan)
    return {
        "handover.pdf": handover_pdf(plan, paper, every, shown),
        "closet-door.pdf": _closet_door_pdf(plan, paper, kept_at=kept_at),
        "secrets-apart.pdf": _secrets_pdf(plan, paper),
        "labels.pdf": labels_pdf(plan, paper),
        "plain/READ-ME-FIRST.txt": read_me(plan),
        f"plain/{plan.job.id}.rehaul.json": dump_job(plan.job),
        "plain/tables.xlsx": workbook(plan, extra),
        **{f"plain/{name}": text for name, text in csv_files(plan).items()},
        **{f"plain/csv/{table.name}.csv": csv_text(table) for table in extra},
        **{f"plain/{name}": text for name, text in drawing_files(every).items()},
        **{photo.file: photo.data for photo in photos},
    }


def zipped(contents: Mapping[str, bytes | str]) -> bytes:
    """Files by name as one zip file; the same files in the same order give the same bytes.

    Names may hold `/` for folders. Texts are UTF-8; every file is dated 1 January 1980, the least that a
    zip can say. **Source**: PKWARE APPNOTE, years from 1980 (from memory); docs/papers.md, "Handover record".

    >>> zipped({"a.txt": "one"}) == zipped({"a.txt": b"one"})
    True
    """
    found = io.BytesIO()
    with zipfile.ZipFile(found, "w", zipfile.ZIP_DEFLATED) as folder:
        for name, content in contents.items():
            folder.writestr(zipfile.ZipInfo(name, EPOCH), content, zipfile.ZIP_DEFLATED)
    return found.getvalue()


Shown = Sequence[tuple[str, str]]  # of each photo its step and its file


def record_only(plan: Plan, shown: Shown = ()) -> tuple[Table, ...]:
    """Tables that the record has beyond the plan's own, in the order of docs/papers.md.

    `shown`: of each photo of the work its step and its file.
    """
    return (
        accepted_table(plan),
        record_tables.readings(plan),
        record_tables.left_cables(plan),
        record_tables.reversible(plan),
        record_tables.holes(plan),
        record_tables.photos(plan),
        record_tables.taken(plan, shown),
        record_tables.serials(plan),
        record_tables.change_log(plan),
        labels_table(plan),
    )


def handover_pdf(plan: Plan, paper: Paper, every: Sequence[Section], shown: Shown = ()) -> bytes:
    """The record as one PDF/A-3a with the job document inside, from the plan's sections (`every`).

    Of these only what somebody may want in years (`RECORD_KEYS`), then what only the record has.

    **Source**: docs/papers.md, "Handover record" and its limits.
    """
    kept = [section for section in every if section.key.startswith(RECORD_KEYS)]
    return typeset(
        plan.job,
        (*kept, *_record_sections(plan, shown)),
        paper=paper,
        title=say("record.title_of_record", job=plan.job.title),
        enclosures=[job_enclosure(plan)],
    )


def _record_sections(plan: Plan, shown: Shown = ()) -> tuple[Section, ...]:
    """The sheets that only the record has."""
    promises = words.promises(plan, record=True)
    return (
        Section(
            "promises",
            say("record.promises"),
            (
                Bullets(say("record.by_cable"), promises or (say("record.no_cable_judged"),)),
                Facts(
                    (
                        (say("record.country"), plan.job.country),
                        (
                            say("record.house_built"),
                            str(plan.job.house.built_year or say("record.built_unknown")),
                        ),
                    )
                ),
                Form(
                    (
                        say("record.rules_followed"),
                        say("record.compliance"),
                        say("record.trades"),
                        say("record.handed_over"),
                        say("record.received"),
                    )
                ),
            ),
        ),
        accepted_section(plan),
        Section("readings", say("record.readings"), (Rows(record_tables.readings(plan)),)),
        Section("left", say("record.left_cables"), (Rows(record_tables.left_cables(plan)),)),
        Section("reversible", say("record.reversible"), (Rows(record_tables.reversible(plan)),)),
        Section(
            "photos",
            say("record.photographs"),
            (
                Rows(record_tables.photos(plan)),
                *((Rows(record_tables.taken(plan, shown)),) if shown else ()),
            ),
        ),
        Section("holes", say("record.holes"), (Rows(record_tables.holes(plan)),)),
        Section("serials", say("record.serials"), (Rows(record_tables.serials(plan)),)),
        Section("changes", say("record.change_log"), (Rows(record_tables.change_log(plan)),)),
    )


def door_words(plan: Plan, kept_at: str = "") -> str:
    """What the code on the closet door says: the port map, short enough to be read from a door.

    At most 900 characters and three dots: ports that find no room are left out from the end. Cables that
    must not be cut come before the ports. `kept_at`: where the record is kept, in words. **Source**:
    docs/papers.md, "Handover record": the port map itself.
    """
    date = plan.job.date or say("record.undated")
    head = [plan.job.title, say("record.job_of", job=plan.job.id, date=date)]
    if kept_at:
        head.append(say("record.door_kept", place=kept_at))
    held = sorted(run.id for run in plan.job.house.runs if held_on(plan.job, run.id))
    if held:
        head.append(say("record.do_not_cut_these", cables=held))
    lines = [
        " ".join(filter(None, (f"{port.port}:", device_name(plan, port), port.run, port.outlet)))
        for port in plan.network.ports
    ]
    text = "\n".join(head)[:MOST_QR_CHARACTERS]
    for line in lines:
        if len(text) + len(line) + 1 > MOST_QR_CHARACTERS:
            return f"{text}\n..."
        text += f"\n{line}"
    return text


def _closet_door_pdf(plan: Plan, paper: Paper, *, kept_at: str = "") -> bytes:
    """One sheet for the inside of the closet door: the code, and the same port map to read."""
    shows = say("record.code_shows")
    drawing = Drawing(
        qr_svg(door_words(plan, kept_at), QR_MM, shows=say("record.code_title")), shows, QR_MM, QR_MM
    )
    held = tuple(
        words.sentence(say("record.do_not_cut", cable=run.id, reasons=reasons))
        for run in plan.job.house.runs
        if (reasons := words.hold_words(plan, run.id))
    )
    facts = Facts(
        (
            (say("record.kept"), kept_at or say("record.write_it_here")),
            (say("record.technician"), plan.job.contacts.technician or " "),
        )
    )
    right = (facts, *((Bullets(say("record.mind"), held),) if held else ()))
    ports = tables(plan)["ports"]
    section = Section("door", say("record.door"), (Beside(drawing, right), Rows(ports)))
    return typeset(plan.job, (section,), paper=paper, title=say("record.title_of_door", job=plan.job.title))


def _secrets_pdf(plan: Plan, paper: Paper) -> bytes:
    """An empty form for passwords: filled in by hand, sealed, kept apart. rehaul never holds a secret."""
    names = [subnet.name for subnet in plan.network.subnets]
    captions = (
        *(say("record.secret_network", network=name) for name in names),
        say("record.secret_router"),
        say("record.secret_switch"),
        say("record.secret_provider"),
        say("record.secret_others"),
        say("record.sealed"),
    )
    blocks = (
        Prose((say("record.secrets_how"),)),
        Form(captions),
    )
    section = Section("secrets", say("record.secrets"), blocks)
    return typeset(
        plan.job, (section,), paper=paper, title=say("record.title_of_secrets", job=plan.job.title)
    )


def read_me(plan: Plan) -> str:
    """What lies in the folder and how to read it without rehaul, as plain text.

    Cables that must not be cut and what is still unknown stand in it as well.
    """
    job = plan.job
    open_lines = [
        say("readme.open", question=question.question, settle=question.settle)
        for question in plan.open_questions
    ]
    held = [
        say("readme.held", cable=run.id, why=why)
        for run in job.house.runs
        if (why := words.hold_words(plan, run.id))
    ]
    return "\n".join(
        (
            job.title,
            say("readme.record_of", date=job.date or say("record.undated"), job=job.id),
            "",
            say("readme.no_program"),
            say("readme.handover"),
            say("readme.door"),
            say("readme.labels"),
            say("readme.secrets"),
            say("readme.csv"),
            say("readme.workbook"),
            say("readme.drawings"),
            say("readme.photos"),
            say("readme.job", job=job.id),
            "",
            say("readme.must_not_be_cut") if held else say("readme.nothing_waits"),
            *held,
            "",
            say("readme.still_unknown") if open_lines else say("readme.nothing_unknown"),
            *open_lines,
            "",
        )
    )
