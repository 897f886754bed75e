"""One door for every file: what it is shows in its first bytes, not in its name."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from pydantic import ValidationError

from rehaul.errors import BadInput
from rehaul.house.base import UNKNOWN
from rehaul.house.document import LARGEST_DOCUMENT_BYTES, parse_job
from rehaul.house.integrity import require_whole
from rehaul.house.job import Job
from rehaul.house.model import House, OpeningKind
from rehaul.house.readers.report import ElementCounts, ReadReport
from rehaul.house.readers.room_list import read_room_list
from rehaul.words import fault_words, say

LARGEST_LIST_BYTES = 1024 * 1024
READABLE = "refused_house.give_job_rehaul_json"


def read_house(path: Path | str) -> ReadReport:
    """The house in a job document, an IFC model, a DXF drawing or a room list, recognised by content.

    Raises BadInput, in one sentence, for a file that is missing, too large, cut short or something else.
    """
    path = Path(path)
    size = require_file(path)
    try:
        return _read(path, size)
    except ValidationError as error:  # what a model of a tower or a town holds, and a house does not
        first = error.errors(include_url=False)[0]
        field = ".".join(str(part) for part in first["loc"])
        raise BadInput(
            say(
                "refused_house.file_holds_what_no_house_has",
                title=error.title,
                field=field,
                fault=fault_words(first),
            ),
            where=path.name,
            remedy=say("refused_house.export_one_house_alone"),
        ) from None


def _read(path: Path, size: int) -> ReadReport:
    with path.open("rb") as file:
        head = file.read(4096).removeprefix(b"\xef\xbb\xbf").lstrip()
    if head.startswith(b"ISO-10303-21") or path.suffix.lower() == ".ifc":
        from rehaul.house.readers.ifc import read_ifc  # costs half a second to import

        return read_ifc(path)
    if path.suffix.lower() == ".dxf" or _looks_like_dxf(head):
        from rehaul.house.readers.dxf import read_dxf  # imported when needed, like the one above

        return read_dxf(path)
    if head.startswith((b"{", b"[")) or path.suffix.lower() == ".json":
        return house_of_job(read_job_file(path))
    if head.startswith(b"PK"):
        raise BadInput(
            say("refused_house.packed_file"), where=path.name, remedy=say("refused_house.unpack_first")
        )
    return read_room_list(_text(path, size), where=path.name)


def read_job_file(path: Path) -> Job:
    """The job document at `path`. A file too large to be one is not even read.

    Raises BadInput for a file that is missing, empty, unreadable or over 64 MB, and for what `parse_job`
    refuses.
    """
    size = require_file(path)
    if size > LARGEST_DOCUMENT_BYTES:
        raise BadInput(
            say(
                "refused_house.file_larger_than_a_job",
                size_mb=size / 1e6,
                most_mb=LARGEST_DOCUMENT_BYTES / 1e6,
            ),
            where=path.name,
            remedy=say("refused_common.give_job_document_photos"),
        )
    return parse_job(path.read_bytes(), where=path.name)


def house_of_job(job: Job) -> ReadReport:
    """The house of a job, reported like any other reading: with its counts, nothing left out and no notes.

    What else the job holds does not come along.
    """
    return ReadReport(job.house, counts_of(job.house))


def counts_of(house: House) -> ElementCounts:
    """How much of everything stands in a house of our own: storeys, walls, doors, windows, rooms.

    Openings that are mere gaps count as neither doors nor windows.
    """
    kinds = Counter(opening.kind for opening in house.openings)
    return ElementCounts(
        storeys=len(house.storeys),
        walls=len(house.walls),
        doors=kinds[OpeningKind.DOOR],
        windows=kinds[OpeningKind.WINDOW],
        rooms=len(house.rooms),
    )


SURVEYED = ("bodies", "outlets", "meeting_points", "splitters", "runs", "hazards", "bells", "built_year")


def with_house(job: Job, report: ReadReport, *, where: str = "") -> Job:
    """The job with the house as read. What the file does not hold (outlets, runs, hazards, ...) stays.

    Raises BadInput where what stays does not fit the new house.
    """
    old, new = job.house, report.house
    kept = {name: getattr(new, name) or getattr(old, name) for name in SURVEYED}
    kept["tenure"] = old.tenure if new.tenure == UNKNOWN else new.tenure
    kept["entry_filter"] = old.entry_filter if new.entry_filter is None else new.entry_filter
    changed = job.model_copy(update={"house": new.model_copy(update=kept)})
    require_whole(changed, where=where or f"job {job.id}")
    return changed


def require_file(path: Path) -> int:
    """The size of a file that is there and can be opened, in bytes.

    Raises BadInput, which says why, for a name without a file, a folder, a file that may not be read, an
    empty one.
    """
    try:
        if not path.is_file():
            problem = (
                say("refused_house.is_a_folder") if path.is_dir() else say("refused_common.no_such_file")
            )
            raise BadInput(problem, where=str(path), remedy=say("refused_common.check_name"))
        size = path.stat().st_size
        with path.open("rb"):
            pass
    except OSError as error:
        reason = (error.strerror or "unreadable").lower()
        raise BadInput(
            say("refused_house.cannot_be_read", reason=reason),
            where=str(path),
            remedy=say("refused_house.check_file"),
        ) from None
    if size == 0:
        raise BadInput(say("refused_house.file_empty"), where=path.name, remedy=say(READABLE))
    return size


def _looks_like_dxf(head: bytes) -> bool:
    """True for the group code 0 and a section, or the mark of a binary drawing."""
    return head.split()[:2] == [b"0", b"SECTION"] or head.startswith(b"AutoCAD Binary DXF")


def _text(path: Path, size: int) -> str:
    if size > LARGEST_LIST_BYTES:
        raise BadInput(
            say("refused_house.kind_of_file_unknown_mb", size_mb=size / 1e6),
            where=path.name,
            remedy=say(READABLE),
        )
    data = path.read_bytes()
    if b"\0" in data:
        raise BadInput(say("refused_house.kind_of_file_unknown"), where=path.name, remedy=say(READABLE))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")
