"""Every reader of a stranger's file: small files to begin with, and what a reader makes of one."""

from __future__ import annotations

import io
import json
import tempfile
from functools import cache
from pathlib import Path

from rehaul.errors import Refusal
from rehaul.printable import printable

CORPUS = Path(__file__).parent / "corpus"
HOUSES = ("ifc", "dxf", "txt", "csv", "json")
PICTURES = ("png", "jpg", "gif", "bmp", "tiff", "webp")
READERS = {
    "ifc": ("ifc",),
    "dxf": ("dxf",),
    "room list": ("txt", "csv"),
    "readings": ("tsv",),
    "job": ("json",),
    "picture": PICTURES,
    "pdf": ("pdf",),
    "log": ("rehaul-log",),
    "edit": ("edit",),  # as an address of the server takes it
}
ENDED_OUTSIDE = {"ifc": ("crash", "slow")}  # by the door: the library cannot be kept from it

EDITS: tuple[dict[str, object], ...] = (
    {"do": "set", "kind": "wall", "id": "wB0", "fields": {"thickness_m": 0.3, "note": "x"}},
    {"do": "set", "kind": "service", "fields": {"down_mbps": 160.0, "up_mbps": 20.0}},
    {"do": "put", "kind": "reading", "entity": {"id": "RD99", "quantity": "down_mbps", "value": 120.0,
     "room": "rB0", "time": "2026-03-01T10:00", "repeats": 3, "height_m": 1.2, "spread": 4.0}},
    {"do": "put", "kind": "reading", "entity": {"id": "RD98", "quantity": "power_dbm", "value": -61.0,
     "room": "rB0", "band": "5", "position": [2.0, 1.0], "storey": "B"}},
    {"do": "put", "kind": "meeting_point", "entity": {"id": "MP9", "name": "Can", "storey": "B",
     "position": [1.0, 1.0], "power_sockets": 2, "inside_m": [0.3, 0.4, 0.1]}},
    {"do": "set", "kind": "room", "id": "rB0", "fields": {"polygon": [[0, 0], [4, 0], [4, 5], [0, 5]]}},
    {"do": "put", "kind": "heard", "entity": {"id": "H1", "channel": 6, "band": "2.4", "power_dbm": -70}},
    {"do": "set", "kind": "house", "fields": {"built_year": 1934}},
    {"do": "set", "kind": "choices", "fields": {"budget": 900.0, "margin_pct": 20.0}},
    {"do": "drop", "kind": "outlet", "id": "B-01"},
)  # fmt: skip


def seeds(reader: str) -> list[tuple[str, bytes]]:
    """Ending and content of the files that are spoiled: small, invented, and those found since."""
    kinds = READERS[reader]
    made = {"log": _logs, "edit": _edits}.get(reader)
    found = [*([] if made else sorted(CORPUS.iterdir())), *sorted((CORPUS / "found").glob("*"))]
    kept = [(file.suffix, file.read_bytes()) for file in found if file.suffix[1:] in kinds]
    return [*(made() if made else ()), *kept]


def _edits() -> list[tuple[str, bytes]]:
    rows = [{"edit": f"edit-{number:04d}", "base": 0, "changes": [row]} for number, row in enumerate(EDITS)]
    return [(".edit", json.dumps(row).encode()) for row in [*rows, {**rows[0], "changes": EDITS[:4]}]]


def outcome(path: Path) -> str:
    """What a reader makes of a file: a kind, and where there is more to say a colon and words."""
    try:
        return _reader(path.suffix[1:])(path)
    except Refusal as refusal:
        if not (refusal.problem and refusal.remedy):
            return "nonsense: a refusal without a word on what to do"
        if printable(str(refusal)) != str(refusal):
            return f"nonsense: a refusal that is not one line: {ascii(refusal.problem)[:60]}"
        return f"refused: {refusal.problem[:60]}"
    except MemoryError:
        return "memory"
    except Exception as error:
        frame = error.__traceback__
        while frame is not None and frame.tb_next is not None:
            frame = frame.tb_next
        place = f"{frame.tb_frame.f_code.co_filename}:{frame.tb_lineno}" if frame else ""
        return f"traceback: {type(error).__name__} at {place[-50:]}"


def _reader(kind: str):  # type: ignore[no-untyped-def]
    if kind in HOUSES:
        return _read_house
    other = {"tsv": _read_readings, "rehaul-log": _read_log, "edit": _read_edit}
    return other.get(kind, _read_picture)


def _read_house(path: Path) -> str:
    """Read it, and look whether what was read can be kept: it comes back from the door and from a file."""
    from nonsense import nonsense
    from rehaul.house import Job, require_no_new_odd_values
    from rehaul.house.integrity import require_house
    from rehaul.house.readers import apart

    answer = apart._Answer.model_validate_json(apart.inside(path, {})[0])
    require_house(answer.house, where=path.name)
    job = Job(id="job", title="Invented", house=answer.house)
    require_no_new_odd_values(job, None, where=path.name)  # as before it is saved
    for fault in nonsense(job):
        return f"nonsense: {fault}"
    counts, told = answer.counts, (len(answer.notes), len(answer.not_understood))
    return f"read: {min(counts.walls, 3)} {min(counts.rooms, 3)} {told}"


@cache
def _known_job():  # type: ignore[no-untyped-def]
    from rehaul.jobs import demo_job

    job = demo_job()
    return job.model_copy(update={"readings": job.readings[:2]})


def _read_readings(path: Path) -> str:
    """As the verb does, on the demo job."""
    from nonsense import nonsense
    from rehaul.cli.readings import _text
    from rehaul.house import require_whole
    from rehaul.proof import readings_from_table

    found = readings_from_table(_text(path), _known_job())
    job = _known_job().model_copy(update={"readings": found.readings})
    require_whole(job)  # as before anything is written
    for fault in nonsense(job):
        return f"nonsense: {fault}"
    return f"read: {min(len(found.readings), 3)} {min(len(found.left_out), 3)} {len(found.ignored)}"


def _read_log(path: Path) -> str:
    """As opening does: the log is looked at whole, then the job is what it says."""
    from nonsense import nonsense
    from rehaul.jobs import Store, connect
    from rehaul.jobs.integrity import require_whole_log

    with tempfile.TemporaryDirectory(dir=path.parent) as folder:  # what stands beside a log counts too
        store = Store(connect(path.rename(Path(folder) / path.name)))
        try:
            jobs = store.jobs()
            for name, *_ in jobs:
                require_whole_log(store, name)
                for fault in nonsense(store.state_at(name, store.head_link(name)[0]).job):
                    return f"nonsense: {fault}"
            return f"read: {len(jobs)}"
        finally:
            store.close()


@cache
def _small_state():  # type: ignore[no-untyped-def]
    from rehaul.house import parse_job
    from rehaul.jobs import JobState

    return JobState(0, parse_job((CORPUS / "job.json").read_bytes()))


def _read_edit(path: Path) -> str:
    """As the server does before it writes one down."""
    from nonsense import nonsense
    from rehaul.jobs import edit_from_data
    from rehaul.jobs.apply import apply_edit

    try:
        data = json.loads(path.read_bytes())
    except (ValueError, RecursionError):
        return "refused: no JSON"
    found = apply_edit(_small_state(), edit_from_data(data), "p1", str)
    for fault in nonsense(found.state.job):
        return f"nonsense: {fault}"
    return f"read: {len(found.changes)} {len(found.told)}"


def _logs() -> list[tuple[str, bytes]]:
    from rehaul.house import Job
    from rehaul.jobs import Store, connect

    with tempfile.TemporaryDirectory(prefix="fuzz-log-") as folder:
        path = Path(folder) / "job.rehaul-log"
        store = Store(connect(path))
        store.create(Job(id="job", title="Invented"))
        store.close()
        return [(path.suffix, path.read_bytes())]


def _read_picture(path: Path) -> str:
    from PIL import Image

    from rehaul.web.pictures import inside

    about, data = inside(path, {"page": 1, "longest_px": 512})
    said = json.loads(about)
    with Image.open(io.BytesIO(data), formats=("PNG", "JPEG")) as kept:
        if kept.size != (said["width_px"], said["height_px"]):
            return "nonsense: a picture of another size than said"
        return f"read: {kept.mode} {min(kept.size) // 64}"
