"""A job's file and the log beside it.

While a server works on a job, the log is what counts and the file follows it within a second or so.
When no server runs the file is what people mail, diff and edit; what they changed in it comes into
the log as one edit when the log is next opened.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import secrets
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

from rehaul.errors import BadInput, CannotSave, Refusal
from rehaul.house import Job, dump_job, require_no_new_odd_values, whole_document
from rehaul.jobs.chain import OF_FILE, salted
from rehaul.jobs.differences import difference
from rehaul.jobs.edits import edit_from_data
from rehaul.jobs.files import keep_job, open_job
from rehaul.jobs.ledger import Ledger
from rehaul.jobs.logs import SIDES, lock_path, log_path, require_no_other
from rehaul.jobs.pictures import Shelf
from rehaul.jobs.sql import ReadOnly, connect, damaged
from rehaul.jobs.store import ERASING, KEY, WRITTEN, Store
from rehaul.words import say

FROM_FILE = "the file"  # the person in whose name changes of the file come in


class LogBeside:
    """A job file with its log, open.

    `take_in`: look for changes made to the file elsewhere; left to the server where one is running.
    """

    def __init__(
        self, path: Path | str, *, name_of: Callable[[str], str] = str, take_in: bool = True
    ) -> None:
        self.path = Path(path)
        self._digest_seen = ""
        require_no_other(self.path)
        file_job = open_job(self.path) if self.path.exists() else None
        self.store = Store(connect(log_path(self.path)))
        known = [row[0] for row in self.store.jobs()]
        if not known:
            if self.store.database.witness and self.store.database.witness.heads():
                raise damaged(str(log_path(self.path)), say("refused_log.no_job_any_more"))
            first = file_job or open_job(self.path)
            self.store.create(first)
            self._put_written([(0, job_digest(first))])
            known = [first.id]
        self.ledger = Ledger(self.store, known[0], name_of=name_of)
        if file_job is not None and take_in:
            self._take_in(file_job)

    def export(self) -> None:
        """Bring the file up to the log, after taking in what was changed in it elsewhere.

        Raises CannotSave; the file is then as it was.
        """
        if self.path.exists():
            self._take_in(open_job(self.path))
        state = self.ledger.state
        written = self._written()
        new = (state.revision, job_digest(state.job))
        if self.path.exists() and self._digest_seen == new[1]:
            return
        self._put_written([new, *written[:1]])  # both count until the next time: the rename may not happen
        try:
            keep_job(self.path, state.job)
        except CannotSave:
            self._put_written(written)
            raise

    def close(self) -> None:
        """Let go of the log. The file is not written: that is `export`'s.

        What was acknowledged is in the log, and comes into the file at the next export.
        """
        self.store.close()

    def _written(self) -> list[tuple[int, str]]:
        """Revision and digest of what the file got from the log, newest first."""
        lines = (self.store.remark(self.ledger.job_id, WRITTEN) or "").splitlines()
        return [(int(revision), digest) for revision, digest in map(str.split, lines)]

    def _put_written(self, written: list[tuple[int, str]]) -> None:
        job_id = self.store.jobs()[0][0]
        self.store.put_remark(job_id, WRITTEN, "\n".join(f"{number} {digest}" for number, digest in written))

    def _digest_at(self, revision: int) -> str:
        """The digest of an earlier state; nothing where that is no longer kept."""
        with contextlib.suppress(BadInput):
            return job_digest(self.ledger.at_revision(revision).job)
        return ""

    def _id_of_edit(self, base: int) -> str:
        """The same for the same file, whoever takes it in; without the log's key it tells nothing of it."""
        key = self.store.remark(self.ledger.job_id, KEY)
        if not key:
            key = secrets.token_hex(16)
            self.store.put_remark(self.ledger.job_id, KEY, key)
        return f"{OF_FILE}{salted(key, self._digest_seen)[:24]}-{base}"

    def _take_in(self, file_job: Job) -> None:
        """Changes made to the file since the log last wrote it, as one edit."""
        self._digest_seen = job_digest(file_job)
        written = self._written()
        if self._digest_seen in {job_digest(self.ledger.job), *(digest for _, digest in written)}:
            return
        if file_job.id != self.ledger.job_id:
            raise BadInput(
                say("refused_jobs.file_holds_job_log", id=file_job.id, job_id=self.ledger.job_id),
                where=str(self.path),
                remedy=say("refused_jobs.keep_two_jobs_folders"),
            )
        if self.store.remark(self.ledger.job_id, ERASING):
            raise BadInput(
                say("refused_jobs.file_changed_while_erasure"),
                where=str(self.path),
                remedy=say("refused_jobs.give_file_another_name"),
            )
        if any(self._digest_seen == self._digest_at(number) for number, _ in written):
            return  # what the log wrote under an earlier schema version
        base = written[0][0] if written else 0
        changes = difference(self.ledger.at_revision(base).job, file_job)
        if not changes:
            return
        edit = {"edit": self._id_of_edit(base), "base": base, "changes": changes}
        try:
            self.ledger.submit(
                FROM_FILE, edit_from_data({**edit, "label": "Changed in the file"}), from_file=True
            )
        except Refusal as refusal:
            raise BadInput(
                say("refused_jobs.change_does_not_fit_log", problem=refusal.problem),
                where=say("refused_common.place_in", where=str(self.path), place=refusal.where),
                remedy=say("refused_jobs.give_file_another_name_opening"),
            ) from None


@contextlib.contextmanager
def serving(path: Path) -> Iterator[None]:
    """Held by the one server of a job file, for as long as the context lasts.

    Raises BadInput where there is one already; of two that begin at once one gets it. The lock is the
    system's: a server that was killed holds nothing. The empty lock file stays where it is.
    """
    handle = os.open(lock_path(path), os.O_RDWR | os.O_CREAT, 0o600)
    try:
        if not _lock(handle):
            raise BadInput(
                say("refused_jobs.job_being_served_already"),
                where=str(path),
                remedy=say("refused_jobs.use_address_server_shows"),
            )
        yield
    finally:
        os.close(handle)


def is_served(path: Path) -> bool:
    """Whether a server works on the job file right now; a server that was killed does not.

    True says nothing of the next moment: whoever must be alone holds `serving`.
    """
    try:
        handle = os.open(lock_path(path), os.O_RDWR)
    except OSError:
        return False
    try:
        return not _lock(handle)
    finally:
        os.close(handle)


def job_of_log(path: Path) -> Job:
    """The job as the log beside a file has it, and as `current_job` tells."""
    try:
        beside = LogBeside(path, take_in=not is_served(path))
    except CannotSave:  # only reading, perhaps from a disk that may not be written
        return _job_read_only(path)
    try:
        return beside.ledger.job
    finally:
        beside.close()


def photos_beside(path: Path | str) -> tuple[tuple[str, str, bytes], ...]:
    """Photos of steps, kept in the log beside a job's file: the step's key, a file's name, the picture.

    None of them where there is no log; also while the job is served. Raises Damaged.
    """
    with store_to_read(log_path(Path(path))) as store:
        if store is None:
            return ()
        shelves = [Shelf(store, row[0]) for row in store.jobs()]
        return tuple(
            (step, name, shelf.get(picture)[0]) for shelf in shelves for picture, step, name in shelf.photos()
        )


@contextlib.contextmanager
def store_to_read(place: Path) -> Iterator[Store | None]:
    """A store in a file, to read from, closed at the end; None where there is no file.

    Also while it is served, and on a disk that may not be written. Raises Damaged, and CannotSave where
    edits stand beside it that only a disk that may be written can take in.
    """
    if not place.exists():
        yield None
        return
    try:
        store = Store(connect(place))
        store.jobs()
    except CannotSave:  # perhaps on a disk that may not be written
        store = Store(ReadOnly(place))
    try:
        yield store
    finally:
        store.close()


def _job_read_only(path: Path) -> Job:
    """The job from a log that may not be written. Raises CannotSave where it cannot be read either."""
    log = log_path(path)
    store = Store(ReadOnly(log))
    try:
        return Ledger(store, store.jobs()[0][0]).job
    finally:
        store.close()


def edit_job(
    path: Path | str, change: Callable[[Job], Job], *, person: str = "the command line", label: str = ""
) -> Job:
    """Change a job by a function, through its log where there is one, else in its file.

    Those who work on it in a browser see the change within a second, and can undo nothing of it:
    it is this person's own. Raises BadInput, and changes nothing, where the job would not open again.
    """
    path = Path(path)
    if not log_path(path).exists():
        keep_job(path, _changed(open_job(path), change, path))
        return open_job(path)
    served = is_served(path)
    beside = LogBeside(path, take_in=not served)
    try:
        before = beside.ledger.state
        after = _changed(before.job, change, path)
        changes = difference(before.job, whole_document(after, where=path.name)[0])
        if changes:
            edit = {
                "edit": secrets.token_hex(12),
                "base": before.revision,
                "label": label,
                "changes": changes,
            }
            beside.ledger.submit(person, edit_from_data(edit), from_file=True)
        if not served:
            beside.export()
        return beside.ledger.job
    finally:
        beside.close()


def _changed(job: Job, change: Callable[[Job], Job], path: Path) -> Job:
    after = change(job)
    require_no_new_odd_values(after, job, where=path.name)
    return after


def job_digest(job: Job) -> str:
    """The digest by which a job's file is known again: 64 hexadecimal digits of its document.

    Of what the document says, not of how a file is written: blanks and the order of keys do not count.

    **Source**: SHA-256.
    """
    return hashlib.sha256(dump_job(job).encode()).hexdigest()


def _lock(handle: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def remove_log(log: Path) -> None:
    """Take a log away with all that goes with it; nothing happens where there is none.

    For one that was just made and is not wanted: whoever has it open loses what is written to it.
    """
    for side in ("", *SIDES):
        log.with_name(log.name + side).unlink(missing_ok=True)
