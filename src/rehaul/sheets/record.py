"""The handover record: one that opens without rehaul, and outlives the people who made it."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from rehaul.house import dump_job, held_on
from rehaul.planning import Plan
from rehaul.predict.size import require_papers_memory
from rehaul.sheets import record_tables, words
from rehaul.sheets.accepted import accepted_section, accepted_table
from rehaul.sheets.blocks import Beside, Bullets, Drawing, Facts, Form, Prose, Rows, Section
from rehaul.sheets.document import csv_files, drawing_files, job_enclosure, workbook
from rehaul.sheets.labels import labels_pdf, labels_table
from rehaul.sheets.qr import qr_svg
from rehaul.sheets.schedules import tables
from rehaul.sheets.sections import sections
from rehaul.sheets.spreadsheet import csv_text
from rehaul.sheets.table import Table
from rehaul.sheets.tables_network import device_name
from rehaul.sheets.typeset import Paper, typeset

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
    plan: Plan, paper: Paper | None = None, *, kept_at: str = "", photos: Sequence[Photo] = ()
) -> dict[str, bytes | str]:
    """The handover record by file name, the sheets first; photos of steps last.

    Parameters
    ----------
    paper : A4 or Letter; the job's own where left out
    kept_at : where the record is kept, in words, printed on the closet door
    photos : of steps of the work

    Raises TooMuchMemory where it would not end in the memory that this process was given.
    """
    require_papers_memory(plan.job)
    paper = paper or plan.job.paper
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
    zip can say.

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
        title=f"{plan.job.title}: handover record",
        enclosures=[job_enclosure(plan)],
    )


def _record_sections(plan: Plan, shown: Shown = ()) -> tuple[Section, ...]:
    """The sheets that only the record has."""
    promises = words.promises(plan, record=True)
    return (
        Section(
            "promises",
            "What is promised, and under which rules",
            (
                Bullets("By cable, by how well it is known", promises or ("No cable was judged.",)),
                Facts(
                    (
                        ("Country", plan.job.country),
                        ("House built", str(plan.job.house.built_year or "not known")),
                    )
                ),
                Form(
                    (
                        "Rules followed, with their edition",
                        "Compliance form and its number, where one is asked for",
                        "Licensed trades that worked here, and their numbers",
                        "Handed over by, date, signature",
                        "Received by, date, signature",
                    )
                ),
            ),
        ),
        accepted_section(plan),
        Section("readings", "Readings", (Rows(record_tables.readings(plan)),)),
        Section("left", "Cable left in the walls, tagged", (Rows(record_tables.left_cables(plan)),)),
        Section("reversible", "What was done, and how to undo it", (Rows(record_tables.reversible(plan)),)),
        Section(
            "photos",
            "Photographs",
            (
                Rows(record_tables.photos(plan)),
                *((Rows(record_tables.taken(plan, shown)),) if shown else ()),
            ),
        ),
        Section("holes", "Hole and fire-block log", (Rows(record_tables.holes(plan)),)),
        Section("serials", "Serial numbers", (Rows(record_tables.serials(plan)),)),
        Section("changes", "Change log", (Rows(record_tables.change_log(plan)),)),
    )


def door_words(plan: Plan, kept_at: str = "") -> str:
    """What the code on the closet door says: the port map, short enough to be read from a door.

    At most 900 characters and three dots: ports that find no room are left out from the end. Cables that
    must not be cut come before the ports. `kept_at`: where the record is kept, in words.
    """
    head = [plan.job.title, f"job {plan.job.id}, {plan.job.date or 'undated'}"]
    if kept_at:
        head.append(f"record: {kept_at}")
    held = sorted(run.id for run in plan.job.house.runs if held_on(plan.job, run.id))
    if held:
        head.append(f"DO NOT CUT {' '.join(held)}")
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
    shows = "Any telephone reads the port map from this code; no network is needed."
    drawing = Drawing(
        qr_svg(door_words(plan, kept_at), QR_MM, shows="Port map as a QR code"), shows, QR_MM, QR_MM
    )
    held = tuple(
        words.sentence(f"Do not cut {run.id}: {reasons}")
        for run in plan.job.house.runs
        if (reasons := words.hold_words(plan, run.id))
    )
    facts = Facts(
        (("Record kept", kept_at or "write it here"), ("Technician", plan.job.contacts.technician or " "))
    )
    right = (facts, *((Bullets("Mind", held),) if held else ()))
    ports = tables(plan)["ports"]
    section = Section("door", "For the closet door", (Beside(drawing, right), Rows(ports)))
    return typeset(plan.job, (section,), paper=paper, title=f"{plan.job.title}: closet door")


def _secrets_pdf(plan: Plan, paper: Paper) -> bytes:
    """An empty form for passwords: filled in by hand, sealed, kept apart. rehaul never holds a secret."""
    names = [subnet.name for subnet in plan.network.subnets]
    captions = (
        *(f"Network {name}: name on the air, and its key" for name in names),
        "Router: who signs in, and the password",
        "Switch and access points: who signs in, and the password",
        "Provider: customer number and password",
        "Recorder, alarm and other accounts",
        "Sealed by, date; opened by, date",
    )
    blocks = (
        Prose(("Fill in by hand. Seal it, keep it apart from the record, and do not photograph it.",)),
        Form(captions),
    )
    section = Section("secrets", "Secrets, apart from the record", blocks)
    return typeset(plan.job, (section,), paper=paper, title=f"{plan.job.title}: secrets")


def read_me(plan: Plan) -> str:
    """What lies in the folder and how to read it without rehaul, as plain text.

    Cables that must not be cut and what is still unknown stand in it as well.
    """
    job = plan.job
    open_lines = [
        f"- {question.question} {words.sentence(question.settle)}" for question in plan.open_questions
    ]
    held = [f"- Cable {run.id}: {why}" for run in job.house.runs if (why := words.hold_words(plan, run.id))]
    return "\n".join(
        (
            f"{job.title}",
            f"Handover record, {job.date or 'undated'}. Job {job.id}.",
            "",
            "Nothing here needs a special program:",
            "- handover.pdf: everything on sheets; the job document is attached inside it",
            "- closet-door.pdf: for the inside of the closet door",
            "- labels.pdf: labels, to be printed again when one falls off",
            "- secrets-apart.pdf: an empty form; filled in by hand and kept elsewhere",
            "- plain/csv: each table as plain text, cells split by commas",
            "- plain/tables.xlsx: the same tables in one workbook",
            "- plain/drawings: each sheet as SVG, which every browser opens",
            "- photos: of steps of the work, where any were taken; plain/csv/photos_taken.csv says of which",
            f"- plain/{job.id}.rehaul.json: the whole job as readable text; lengths in metres",
            "",
            "Must not be cut before somebody signs:" if held else "Nothing waits for a signature.",
            *held,
            "",
            "Still unknown:" if open_lines else "Nothing is listed as unknown.",
            *open_lines,
            "",
        )
    )
