"""A log made small: texts of old edits go, who did what when stays, and the chain still holds."""

from __future__ import annotations

from rehaul.jobs.chain import ERASE, GONE
from rehaul.jobs.state import JobState
from rehaul.jobs.store import WRITTEN, Store


def compact(store: Store, job: str, state: JobState, since: str) -> int:
    """Take away the texts of edits made before `since`; the state as it is now is kept first.

    Edits that what the file got last may still be compared with keep theirs. Returns the bytes gone.
    **Source**: docs/sharing.md, "Where it is kept": a log over 20 MB is made small.
    """
    before = store.database.size_bytes()
    first = _first_kept(store, job, state.revision, since)
    if first > 1:
        base = store.state_at(job, first - 1)
        with store.writing() as database:
            store.keep_state(job, base)
            store.keep_state(job, state)
            database.run("DELETE FROM snapshot WHERE job = %s AND revision < %s", (job, first - 1))
            database.run(
                "UPDATE edit SET changes = %s, inverse = %s, told = %s "
                "WHERE job = %s AND revision < %s AND way <> %s",
                (GONE, GONE, GONE, job, first, ERASE),
            )
    store.database.shrink()
    return max(0, before - store.database.size_bytes())


def _first_kept(store: Store, job: str, head: int, since: str) -> int:
    """The first edit whose texts stay."""
    run = store.database.run
    rows = run("SELECT MIN(revision) FROM edit WHERE job = %s AND at >= %s", (job, since))
    first = int(rows[0][0]) if rows and rows[0][0] is not None else head + 1
    written = (store.remark(job, WRITTEN) or "").split()[::2][:1]
    return min([first, *(int(number) + 1 for number in written)])
