"""A damaged log put right: what was salvaged becomes the log, and the damaged one keeps another name."""

from __future__ import annotations

import secrets
import shutil
from pathlib import Path

from rehaul.errors import BadInput, CannotSave
from rehaul.house import dump_job
from rehaul.jobs.beside import is_served, job_digest
from rehaul.jobs.chain import first_link, seal
from rehaul.jobs.copying import JobRows, drop_rows, job_rows, put_job, put_rows
from rehaul.jobs.files import open_job
from rehaul.jobs.logs import SIDES, log_path
from rehaul.jobs.salvage import Salvage, salvage_stored
from rehaul.jobs.sql import connect
from rehaul.jobs.state import dump_state
from rehaul.jobs.store import WRITTEN, Store
from rehaul.saving import flush_folder, write_whole
from rehaul.words import say


def mend(path: Path, kept: Salvage) -> Path | None:
    """Make the log of a job anew from what was salvaged; where the damaged one went.

    Raises CannotSave; the damaged log is then as it was. What the job's file holds beyond the log comes in
    as an edit of the file when it is next opened. **Source**: docs/sharing.md, "What was written is what is
    read": `rehaul repair`.
    """
    if is_served(path):
        raise CannotSave(
            say("refused_common.server_works_on"),
            where=str(path),
            remedy=say("refused_common.stop_server_first"),
        )
    log = log_path(path)
    fresh = log.with_name(f".{log.name}.{secrets.token_hex(4)}.mended")
    try:
        _write(fresh, path, kept)
        aside = _put_aside(log)
        fresh.replace(log)  # until here the damaged one stands, and is refused
        if (head := fresh.with_name(f"{fresh.name}-head")).exists():
            head.replace(log.with_name(f"{log.name}-head"))
        flush_folder(log.parent)
    except OSError as error:
        raise CannotSave(
            say("refused_store.log_could_not_be_made_anew", error=error),
            where=str(log),
            remedy=say("refused_store.make_room_then_try"),
        ) from error
    finally:
        for side in ("", *SIDES):
            fresh.with_name(fresh.name + side).unlink(missing_ok=True)
    if not path.exists():
        write_whole(path, dump_job(kept.state.job).encode())
    return aside


def mend_stored(store: Store, kept: Salvage, aside: Path) -> None:
    """Make a job of a database anew from what was salvaged, in one transaction.

    `aside`: a file for the log of that one job as it was. Raises BadInput where something stands there, and
    CannotSave, also where the job was worked on meanwhile; the database is then as it was.
    """
    if aside.exists():
        raise BadInput(
            say("refused_store.file_stands_there"),
            where=str(aside),
            remedy=say("refused_store.give_another_name_aside"),
        )
    job = kept.job_id
    made = _made(kept, None)
    with store.writing() as database:
        if salvage_stored(store, job) != kept:
            raise CannotSave(
                say("refused_store.somebody_works_on_meanwhile"),
                where=store.where,
                remedy=say("refused_store.stop_servers_first"),
            )
        keep = Store(connect(aside))  # all else waits, so this is what goes
        try:
            put_job(keep, job, job_rows(store, job, kept.state.job.title))
        finally:
            keep.close()
        flush_folder(aside.parent)
        drop_rows(database, job)
        put_rows(database, job, made)
    if store.database.witness:
        store.database.witness.reset(store.database.witness.heads() | {job: (made.head, made.link)})


def _write(fresh: Path, path: Path, kept: Salvage) -> None:
    """The new log: the edits that continue one another, and the state they lead to."""
    store = Store(connect(fresh))
    try:
        put_job(store, kept.job_id, _made(kept, path))
        store.database.shrink()
    finally:
        store.close()


def _made(kept: Salvage, path: Path | None) -> JobRows:
    """What the new log holds; `path` is the job's file."""
    job, state = kept.job_id, kept.state
    rows, link = list(kept.rows), first_link(job)
    if rows and rows[0].revision == 1:
        link = rows[-1].link
    else:  # the first edits are gone, and with them what the others continue: the state alone begins anew
        rows = []
    states = [row for row in kept.beside.get("snapshot", []) if row[1] <= state.revision and rows]
    if not rows and state.revision:
        state = type(state)(0, state.job, state.dropped, {})
    body = dump_state(state)
    states = [row for row in states if row[1] != state.revision]
    states.append((job, state.revision, body, seal(job, state.revision, body)))
    written = f"{state.revision} {job_digest(state.job)}"
    if kept.file_at is not None and path and path.exists():
        written += f"\n{kept.file_at} {job_digest(open_job(path))}"
    beside = {
        **kept.beside,
        "snapshot": states,
        "remark": [
            *[row for row in kept.beside.get("remark", []) if row[1] != WRITTEN],
            (job, WRITTEN, written, seal(job, WRITTEN, written)),
        ],
    }
    return JobRows(state.revision, state.job.title, link, rows, beside)


def _put_aside(log: Path) -> Path | None:
    """Give a damaged log a second name, and what goes with it that name alone.

    The log keeps its own until another takes its place: with none there, the file would begin a new one.
    The witness stays too, so that what is left without its write-ahead log is not taken for whole.
    """
    if not log.exists():
        return None
    number = 1
    while (aside := log.with_name(f"{log.name}.damaged-{number}")).exists():
        number += 1
    try:
        aside.hardlink_to(log)
    except OSError:  # no such links on this disk
        shutil.copyfile(log, aside)
    for side in SIDES:
        part, target = log.with_name(log.name + side), aside.with_name(aside.name + side)
        if part.exists() and side == "-head":
            shutil.copyfile(part, target)
        elif part.exists():
            part.rename(target)
    return aside
