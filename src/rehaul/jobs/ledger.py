"""The log of one job: edits come in, are checked, committed to disk, and only then acknowledged.

Memory is never ahead of the disk. Where a commit failed or may have failed, memory is built anew
from what the disk says before the next edit is looked at.
"""

from __future__ import annotations

import contextlib
import datetime
import threading
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Literal

from rehaul.errors import BadInput, CannotSave, Refusal
from rehaul.house import SCHEMA_VERSION, Job
from rehaul.jobs.apply import EditOutcome, NothingToUndo, Overtaken, apply_edit, apply_undo
from rehaul.jobs.chain import ERASED
from rehaul.jobs.compacting import compact
from rehaul.jobs.edits import Edit
from rehaul.jobs.integrity import require_whole_log
from rehaul.jobs.state import JobState, LogRow, replay, revision_of
from rehaul.jobs.store import Behind, Store, digest_in
from rehaul.words import say

EDITS_BETWEEN_SNAPSHOTS = 500
EDITS_BETWEEN_SIZES = 20
LARGE_BYTES = 20_000_000  # from here on a log is made small when it is put away
LARGEST_BYTES = 400_000_000
ROWS_IN_MEMORY = 2000
UNDO_DEPTH = 200
MOST_TRIES = 20  # against other writers; each try means one of them got through


@dataclass(frozen=True)
class Receipt:
    """What the author of an edit gets once it is on the disk."""

    edit: str
    revision: int
    told: list[dict[str, Any]]
    free: tuple[str, ...] = ()  # ids that an undo gave back: nobody else was told of them


@dataclass(frozen=True)
class UndoList:
    """A person's own gestures, oldest first, by revision."""

    undo: tuple[int, ...] = ()
    redo: tuple[int, ...] = ()

    def after(self, row: LogRow) -> UndoList:
        """The list once a row of this person was added; the list itself stays as it is.

        A new gesture ends what could be done again. Only the newest 200 gestures (`UNDO_DEPTH`) are kept,
        and a row whose texts are gone takes all before it along. **Source**: docs/sharing.md, "Where two
        edits meet": undo is per person.
        """
        if row.gone:  # and with it all before it
            return UndoList()
        if row.way == "edit":
            return UndoList((*self.undo, row.revision)[-UNDO_DEPTH:], ())
        undo = tuple(revision for revision in self.undo if revision != row.undoes)
        redo = tuple(revision for revision in self.redo if revision != row.undoes)
        if row.way == "undo":
            return UndoList(undo, (*redo, row.revision))
        return UndoList((*undo, row.revision), redo)

    def without_last(self, way: Literal["undo", "redo"]) -> UndoList:
        """The list without its newest gesture to undo, or to redo.

        For one that cannot be turned back: it would stand in the way of those before it for ever.
        """
        if way == "undo":
            return UndoList(self.undo[:-1], self.redo)
        return UndoList(self.undo, self.redo[:-1])


def utc_now() -> str:
    """The time now, in UTC, to the second, as the log writes times.

    ISO 8601 with its offset, such as `2026-01-31T08:15:00+00:00`. Nothing is put in order by it: that is
    what revisions are for.
    """
    return datetime.datetime.now(datetime.UTC).isoformat(timespec="seconds")


class Ledger:
    """One job's log, open for reading and writing; safe to use from several threads."""

    def __init__(
        self,
        store: Store,
        job_id: str,
        *,
        name_of: Callable[[str], str] = str,
        clock: Callable[[], str] = utc_now,
    ) -> None:
        self.store = store
        self.job_id = job_id
        self._name_of = name_of
        self._clock = clock
        self._lock = threading.RLock()
        self._state: JobState
        self._recent: deque[LogRow]
        self._lists: dict[str, UndoList]
        self._doubtful: bool
        self._free: set[str]
        require_whole_log(store, job_id)
        self._rebuild()

    @property
    def state(self) -> JobState:
        return self._state

    @property
    def job(self) -> Job:
        return self._state.job

    @property
    def revision(self) -> int:
        return self._state.revision

    def submit(self, person: str, edit: Edit, *, from_file: bool = False) -> Receipt:
        """Take one edit whole, or refuse it whole; it is on the disk when its receipt is returned.

        Parameters
        ----------
        person : id of its author, who alone can undo it
        from_file : the changes were found in a job's file that was edited elsewhere (see `apply_edit`)

        Returns
        -------
        the revision that it made, and what its author should be told; of an edit that came before, the same
        again, and nothing is done a second time

        Raises BadInput where it does not fit the document as it now is, or its id was used for something
        else; CannotSave where it may not be on the disk: send it again with the same id. Where others write
        at once it is tried on what they left, at most 20 times.

        **Source**: docs/sharing.md, "Where two edits meet".
        """

        def make(state: JobState) -> tuple[EditOutcome, LogRow | None]:
            free = frozenset(self._free)
            return apply_edit(state, edit, person, self._name_of, from_file=from_file, free=free), None

        return self._commit(person, edit.edit, edit.digest(), edit.label, "edit", make)

    def undo(self, person: str, edit_id: str, *, unseen: Callable[[int], bool] | None = None) -> Receipt:
        """Turn back the person's last gesture, as far as everything still stands as that gesture left it.

        `edit_id` is this undo's own id: with the same one nothing is undone twice. `unseen` says whether
        nobody else can have been told of an edit, by its revision: the ids of things that it made are then
        free again, until this log is read anew, and the receipt names them; never those of a log that other
        servers may have open. The receipt names what others changed since, which stays theirs. Raises
        NothingToUndo, Overtaken where others changed all of it, BadInput where the document would not be
        whole; the gesture is then passed over. CannotSave as `submit` does.
        """
        with self._lock:
            receipt = self._turn_back(person, edit_id, "undo")
            row = self._row(receipt.revision)
            undone = self._row(row.undoes) if row and row.undoes is not None else None
            if unseen is None or self.store.database.witness is None or undone is None:
                return receipt
            if undone.way != "edit" or not unseen(undone.revision):  # done again: seen before, it may be
                return receipt
            made = {change["entity"]["id"] for change in undone.changes if change["do"] == "put"}
            free = made & set(self._state.dropped)
            self._free |= free
            return replace(receipt, free=tuple(sorted(free)))

    def redo(self, person: str, edit_id: str) -> Receipt:
        """Do again what the person last undid, as far as nobody changed it since.

        An edit of theirs in between ends that. Ids, receipt and refusals as of `undo`.
        """
        return self._turn_back(person, edit_id, "redo")

    def undo_labels(self, person: str) -> dict[str, str | None]:
        """What undo and redo would do for a person: the label of the gesture by `undo` and `redo`.

        None where there is nothing; "change" where the gesture has no label.
        """
        with self._lock:
            mine = self._lists.get(person, UndoList())
            rows = {"undo": mine.undo[-1:], "redo": mine.redo[-1:]}
            found = {way: self._row(top[0]) if top else None for way, top in rows.items()}
            return {way: (row.label or "change") if row else None for way, row in found.items()}

    def rows_since(self, revision: int) -> list[LogRow] | None:
        """Rows after a revision, in order; none where the reader is up to date.

        None where the reader should start from the whole document instead: it is more than 2000 rows behind
        or ahead of this log, or of a row since then the texts are gone or were written under another schema
        version.
        """
        with self._lock:
            if revision > self.revision or revision < self.revision - ROWS_IN_MEMORY:
                return None
            rows = list(self._recent)
            if not rows or rows[0].revision > revision + 1:
                rows = self.store.rows(self.job_id, revision)
            rows = [row for row in rows if row.revision > revision]
            # what was taken away for good, or written otherwise, is in the document alone
            unfit = any(row.schema_version != SCHEMA_VERSION or row.gone for row in rows)
            return None if unfit else rows

    def refresh(self) -> bool:
        """Take in what other writers have committed; True where there was something.

        Costs one short question where there was nothing. Also mends memory after a commit that may have
        failed. Raises CannotSave, or Damaged; memory is then as it was.
        """
        with self._lock:
            before = self.revision
            if self._doubtful or self.store.head(self.job_id) != before:
                self._rebuild()
            return self.revision != before

    def at_revision(self, revision: int) -> JobState:
        """The job as it was after an edit, with what was dropped and who touched what.

        Raises BadInput where that is no longer kept: of a log that was made small, or had personal data
        erased.
        """
        return self.store.state_at(self.job_id, revision)

    def keep_snapshot(self) -> None:
        """Make the next opening quick, and a log that has grown over 20 MB small again.

        No edit depends on it. Raises CannotSave; the log is then as good as before. **Source**:
        docs/sharing.md, "Where it is kept": every 500 edits, and over 20 MB.
        """
        with self._lock:
            self.store.put_snapshot(self.job_id, self._state)
            if self.store.database.size_bytes() > LARGE_BYTES:
                self.compact()

    def compact(self, *, keep_since: str | None = None) -> int:
        """Take away the texts of edits older than a day, which the state holds anyway; how many bytes went.

        Who changed what sort of thing when stays, and so does all that the last day can still undo.
        """
        with self._lock:
            since = keep_since or _a_day_before(self._clock())
            gone = compact(self.store, self.job_id, self._state, since)
            self._rebuild()
            return gone

    def _turn_back(self, person: str, edit_id: str, way: Literal["undo", "redo"]) -> Receipt:
        def make(state: JobState) -> tuple[EditOutcome, LogRow | None]:
            mine = self._lists.get(person, UndoList())
            stack = mine.undo if way == "undo" else mine.redo
            row = self._row(stack[-1]) if stack else None
            if row is None:
                raise NothingToUndo(say("refused_jobs.nothing_of_yours", way=way), where=way)
            try:
                return apply_undo(state, row, person, self._name_of), row
            except (BadInput, Overtaken):
                self._lists[person] = mine.without_last(way)  # or it would stand in the way for ever
                raise

        return self._commit(person, edit_id, way, None, way, make)

    def _commit(
        self,
        person: str,
        edit_id: str,
        digest: str,
        label: str | None,
        way: str,
        make: Callable[[JobState], tuple[EditOutcome, LogRow | None]],
    ) -> Receipt:
        with self._lock:
            for _ in range(MOST_TRIES):
                if self._doubtful:
                    self._rebuild()
                earlier = self.store.row_of_edit(self.job_id, edit_id)
                if earlier:
                    return _same(earlier, person, digest)
                self._require_room()
                outcome, undoes = make(self._state)
                row = LogRow(
                    revision=outcome.state.revision,
                    edit=edit_id,
                    person=person,
                    at=self._clock(),
                    label=label if label is not None else (undoes.label if undoes else ""),
                    way=way,
                    undoes=undoes.revision if undoes else None,
                    changes=outcome.changes,
                    inverse=outcome.inverse,
                    told=outcome.told,
                    digest=digest,
                )
                try:
                    self.store.append(self.job_id, row, outcome.state.job.title, outcome.notices)
                except Behind:
                    self._rebuild()
                    continue
                except BaseException:
                    self._doubtful = True
                    raise
                self._take(row, outcome.state)
                return Receipt(edit_id, row.revision, row.told)
            raise CannotSave(
                say("refused_jobs.too_many_others_are"),
                where=self.job_id,
                remedy=say("refused_jobs.try_again_moment"),
            )

    def _require_room(self) -> None:
        """Refuse an edit that would let the log grow beyond all use."""
        if self.revision % EDITS_BETWEEN_SIZES or self.store.database.size_bytes() < LARGEST_BYTES:
            return
        self.compact()
        if self.store.database.size_bytes() >= LARGEST_BYTES:
            raise CannotSave(
                say("refused_jobs.log_job_reached_mb", most_mb=LARGEST_BYTES / 1e6),
                where=self.job_id,
                remedy=say("refused_jobs.take_photos_away_wait"),
            )

    def _take(self, row: LogRow, state: JobState) -> None:
        self._state = state
        self._recent.append(row)
        self._lists[row.person] = self._lists.get(row.person, UndoList()).after(row)
        self._free -= {change["entity"]["id"] for change in row.changes if change["do"] == "put"}
        if row.revision % EDITS_BETWEEN_SNAPSHOTS == 0:
            with contextlib.suppress(Refusal):  # the rows are safe; opening will only take longer
                self.store.put_snapshot(self.job_id, state)

    def _row(self, revision: int) -> LogRow | None:
        found = next((row for row in reversed(self._recent) if row.revision == revision), None)
        return found or self.store.row(self.job_id, revision)

    def _rebuild(self) -> None:
        """Memory anew from the disk: after a doubtful commit, or where others have written."""
        snapshot = self.store.snapshot(self.job_id)
        begins = revision_of(snapshot)
        window = max(0, min(begins, self.store.head(self.job_id) - EDITS_BETWEEN_SNAPSHOTS))
        rows = self.store.rows(self.job_id, window)
        self._state = replay(snapshot, [row for row in rows if row.revision > begins])
        self._recent = deque(rows, maxlen=ROWS_IN_MEMORY)
        self._lists = _undo_lists(rows)
        self._free = set()  # others may have been told
        self._doubtful = False


def _a_day_before(now: str) -> str:
    """A time as the log writes them, a day earlier."""
    then = datetime.datetime.fromisoformat(now) - datetime.timedelta(days=1)
    return then.isoformat(timespec="seconds")


def _undo_lists(rows: list[LogRow]) -> dict[str, UndoList]:
    lists: dict[str, UndoList] = {}
    for row in rows:
        lists[row.person] = lists.get(row.person, UndoList()).after(row)
    return lists


def _same(earlier: LogRow, person: str, digest: str) -> Receipt:
    unknown = earlier.gone and not earlier.salt.partition(":")[0]  # nothing is left to compare with
    alike = earlier.digest in (digest, digest_in(digest, earlier.salt))
    if earlier.person not in (person, ERASED) or not (alike or unknown):
        raise BadInput(
            say("refused_jobs.edit_id_already_used", edit=earlier.edit),
            where="edit",
            remedy=say("refused_jobs.make_new_id_every"),
        )
    return Receipt(earlier.edit, earlier.revision, earlier.told)
