"""Everything that is held about a job, as files that anybody can read: for the household that asks."""

from __future__ import annotations

import datetime
import json
import os
import secrets
import shutil
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from rehaul.errors import BadInput, CannotSave
from rehaul.house import Job
from rehaul.jobs import roll
from rehaul.jobs.happenings import events_of
from rehaul.jobs.integrity import require_whole_log
from rehaul.jobs.ledger import utc_now
from rehaul.jobs.personal import PersonalText, household_of, without_personal
from rehaul.jobs.pictures import Shelf
from rehaul.jobs.state import JobState, LogRow, dump_state
from rehaul.jobs.store import Store
from rehaul.printable import printable
from rehaul.saving import flush_folder, reason_of, write_new
from rehaul.words import say

Files = dict[str, bytes]
ENDINGS = {"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp"}
INDEX = "index.txt"
LONGEST_SHOWN = 2000  # as a note may be


@dataclass
class Disclosed:
    """The files, by their names under a folder, and what the index says of each."""

    title: str
    files: Files = field(default_factory=dict)
    lines: list[str] = field(default_factory=list)
    personal: tuple[PersonalText, ...] = ()
    others: int = 0  # people who paired and have nothing to do with the job

    def add(self, name: str, data: object, words: str) -> None:
        """A file of plain data, as JSON, and a line of the index that says in words what it is.

        A file of that name that was added before is replaced. ValueError for a number that is none (NaN).
        """
        self.files[name] = _json(data)
        self.lines.append(f"{name}: {words}")

    def add_bytes(self, name: str, data: bytes, words: str = "") -> None:
        """A file as it is; a line of the index only where `words` are given.

        For pictures, of which one line says where all of them stand.
        """
        self.files[name] = data
        if words:
            self.lines.append(f"{name}: {words}")


def of_job(job: Job, names: Sequence[str] = ()) -> Disclosed:
    """What the document alone holds: job.json, and which of its fields are personal.

    `names`: of people of the household, beyond those that the job has. Nothing is written.
    """
    found = Disclosed(job.title)
    found.add("job.json", job.model_dump(mode="json"), "the job as it stands, every field")
    found.personal = without_personal(JobState(0, job), household_of(job, names))[1]
    return found


def of_log(store: Store, job: str, people: Store | None, names: Sequence[str] = ()) -> Disclosed:
    """What a log holds of a job, and what `people`, the store of those who paired, holds of who worked on it.

    Raises Damaged where the log is not what was written. **Source**: docs/security.md, "A household's data,
    handed over".
    """
    require_whole_log(store, job)
    state = store.state_at(job, store.head(job))
    rows = store.rows(job, 0)
    changes = [change for row in rows for change in (*row.changes, *row.inverse)]
    household = household_of(state.job, names, changes)
    found = of_job(state.job, names)
    found.personal = without_personal(state, household)[1]
    known = _people(people)
    called = {row["id"]: row["name"] for row in known}
    found.add("edits.json", [_edit(row, called) for row in rows], f"{len(rows)} edits: who, when, and what")
    _add_states(found, store, job, state)
    _add_notices(found, store, job, called)
    _add_pictures(found, store, job)
    theirs = {row.person for row in rows} | {touch.person for touch in state.touched.values()}
    mine = [row for row in known if row["id"] in theirs or household.is_of_it(row["name"])]
    found.others = len(known) - len(mine)
    if mine or theirs - set(called):
        unpaired = [{"id": None, "name": name} for name in sorted(theirs - set(called))]
        found.add("people.json", [*mine, *unpaired], "who worked on it, with the devices they paired")
    events = [
        asdict(event)
        for event in (events_of(people.database) if people else [])
        if any(row["name"] in event.words for row in mine)
    ]
    if events:
        found.add("happenings.json", events, f"{len(events)} happenings at the door that name one of them")
    return found


def put_under(found: Disclosed, folder: str, part: Disclosed, words: str) -> None:
    """Add all of another copy of the job under a folder of its own, with an index of its own.

    `words`: what the index says of the folder. Its personal texts are told in its own index alone.
    """
    found.lines.append(f"{folder}/: {words}")
    for name, data in part.files.items():
        found.files[f"{folder}/{name}"] = data
    found.files[f"{folder}/{INDEX}"] = index_of(part).encode()


def index_of(found: Disclosed) -> str:
    """What is there, in words, and every personal text with where it stands; ends with a line break.

    Texts of more than 2000 letters are only counted. What cannot be printed is shown by its code, so that a
    text of the job cannot write lines of its own.
    """
    lines = [
        f"Everything held about the job {printable(found.title)!r}",
        f"Written on {utc_now()[:16].replace('T', ' at ')} UTC by rehaul.",
        "",
        "Files",
        *(f"  {line}" for line in found.lines),
        "",
        "What is personal in the job as it stands, field by field",
        *(f"  {one.at}: {_shown(one.was)}" for one in found.personal),
    ]
    if not found.personal:
        lines.append("  nothing")
    return "\n".join([*lines, ""])


def _shown(text: str) -> str:
    return printable(text) if len(text) <= LONGEST_SHOWN else f"{len(text)} letters, in job.json"


def write_private(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files under a new folder for its owner alone, all of them or none.

    Raises BadInput where something stands there, CannotSave where the disk does not take them. **Source**:
    docs/security.md, "A household's data, handed over".
    """
    require_new(folder)
    beside = folder.with_name(f".{folder.name[:200]}.{secrets.token_hex(4)}.new")
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        beside.mkdir(mode=0o700)
        for name, data in files.items():
            file = beside.joinpath(*name.split("/"))
            for parent in reversed(file.relative_to(beside).parents):
                (beside / parent).mkdir(mode=0o700, exist_ok=True)
            write_new(file, data, mode=0o600)
        if folder.exists():
            folder.rmdir()  # it is empty
        beside.replace(folder)
        flush_folder(folder.parent)
    except OSError as error:
        raise CannotSave(
            say("refused_common.could_not_be_saved", reason=reason_of(error)),
            where=str(folder),
            remedy=say("refused_jobs.make_room_choose_another"),
        ) from None
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def require_new(folder: Path) -> None:
    """Raise BadInput where something stands at `folder` already; an empty folder may.

    A link that leads nowhere counts as something.
    """
    if os.path.lexists(folder) and not (folder.is_dir() and not any(folder.iterdir())):
        raise BadInput(
            say("refused_common.something_stands_there"),
            where=str(folder),
            remedy=say("refused_jobs.name_folder_new_empty"),
        )


def _edit(row: LogRow, called: Mapping[str, str]) -> dict[str, Any]:
    data = asdict(row)
    texts = (
        "erased" if row.gone and not row.label else "made small: who and when alone" if row.gone else "kept"
    )
    kept = ("revision", "edit", "at", "way", "undoes", "label", "changes", "told", "schema_version")
    return {
        **{name: data[name] for name in kept},
        "before": row.inverse,
        "person": row.person,
        "name": called.get(row.person, row.person),
        "texts": "kept" if row.way == "erase" else texts,
    }


def _add_states(found: Disclosed, store: Store, job: str, state: JobState) -> None:
    now = json.loads(dump_state(state))
    if now["dropped"]:
        found.add("taken-away.json", now["dropped"], "what was taken away and would come back by undo")
    rows = store.database.run("SELECT revision, body FROM snapshot WHERE job = %s ORDER BY revision", (job,))
    for revision, body in rows:
        found.add(
            f"states/edit-{revision}.json", json.loads(body), f"the job after edit {revision}, as it was kept"
        )


def _add_notices(found: Disclosed, store: Store, job: str, called: Mapping[str, str]) -> None:
    sql = "SELECT person, number, body FROM notice WHERE job = %s AND body <> '' ORDER BY person, number"
    notices = [
        {"person": person, "name": called.get(person, person), "number": number, **json.loads(body)}
        for person, number, body in store.database.run(sql, (job,))
    ]
    if notices:
        found.add("notices.json", notices, f"{len(notices)} notices that somebody has yet to see")


def _add_pictures(found: Disclosed, store: Store, job: str) -> None:
    shelf = Shelf(store, job)
    pictures = shelf.list()
    for about in pictures:
        data, kind = shelf.get(about["picture"])
        about["file"] = f"pictures/{about['picture']}{ENDINGS.get(kind, '.bin')}"
        about["type"] = kind
        found.add_bytes(about["file"], data)
    if pictures:
        found.add("pictures.json", pictures, f"{len(pictures)} pictures and photos, which stand in pictures/")


def _people(store: Store | None) -> list[dict[str, Any]]:
    """People with their devices; never a token or its digest."""
    if store is None or "pass" not in store.database.tables():
        return []
    run = store.database.run
    passes = {row[0]: row[1:] for row in run("SELECT device, began, changed, used FROM pass")}
    devices: dict[str, list[dict[str, Any]]] = {}
    for name, person, mark, since, forgotten in run(
        "SELECT id, person, mark, since, forgotten FROM device ORDER BY since"
    ):
        times = dict(
            zip(("began", "token_changed", "last_used"), map(_time, passes.get(name, ())), strict=False)
        )
        one = {"device": name, "mark": mark, "paired": since, "let_in": not forgotten, **times}
        devices.setdefault(person, []).append(one)
    return [
        {"id": name, "name": said, "devices": devices.get(name, [])}
        for name, said in run(f"SELECT {', '.join(roll.COLUMNS['person'][:2])} FROM person ORDER BY id")
    ]


def _time(seconds: int) -> str:
    return datetime.datetime.fromtimestamp(seconds, datetime.UTC).isoformat(timespec="seconds")


def _json(data: object) -> bytes:
    return (json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode()
