"""The log of one job with its texts erased: every row stays, says who, when and which way, and nothing more.

What happened is a row of the log itself, so that it stands in the chain: when, by whom, and how much went.
"""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any

from rehaul.house import Job, whole_document
from rehaul.jobs.chain import ERASE, GONE, OF_FILE, OLD_PARTS, RawRow, chained, first_link, link_of, new_salt
from rehaul.jobs.databases import Database
from rehaul.jobs.personal import Household, PersonalText, without_personal
from rehaul.jobs.state import JobState, LogRow
from rehaul.jobs.store import ERASING, KEY, WRITTEN, Store, insert_row, raw_row

LABEL = "Personal data erased"


@dataclass(frozen=True)
class ErasedCounts:
    """How much goes, or went."""

    edits: int = 0  # whose texts go
    fields: int = 0  # of the job as it stands, and of what was taken away
    pictures: int = 0
    notices: int = 0
    states: int = 0  # kept of the job, beyond the newest

    @property
    def any(self) -> bool:
        """Whether there is anything."""
        return any(asdict(self).values())

    @property
    def words(self) -> str:
        """`3 edits, 2 fields and 1 picture`."""
        kinds = [(count, name[:-1] if count == 1 else name) for name, count in asdict(self).items() if count]
        parts = [f"{count} {'earlier ' if name.startswith('state') else ''}{name}" for count, name in kinds]
        return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts) or "nothing"


@dataclass(frozen=True)
class Going:
    """What an erasure takes from a log, and the state that it leaves."""

    counts: ErasedCounts
    found: tuple[PersonalText, ...]
    state: JobState
    before: JobState


def going_of_file(job: Job, household: Household, *, keep_signer: bool) -> Going:
    """What would go of a job that has no log yet; nothing is written.

    `keep_signer`: the name of who accepted an offer stays. Raises BadInput where what is left would not
    open.
    """
    state = JobState(0, job)
    new, found = without_personal(state, household, keep_signer=keep_signer)
    whole_document(new.job, where=job.id)
    return Going(ErasedCounts(fields=len(found)), found, new, state)


def going(store: Store, job: str, household: Household, *, keep_signer: bool) -> Going:
    """What would go of a log; nothing is written.

    Counts are of rows that lose a text, fields of the present document, pictures, notices nobody has seen,
    and kept states but the newest. `keep_signer` as for a file. Raises BadInput where what is left would
    not open again, Damaged. **Source**: docs/security.md, "A household's data, erased for good".
    """
    head = store.head(job)
    state = store.state_at(job, head)
    new, found = without_personal(state, household, keep_signer=keep_signer)
    whole_document(new.job, where=job)  # or nothing is begun
    rows, _ = erased_rows(job, store.raw_rows(job, 0), household)
    database = store.database
    counts = ErasedCounts(
        edits=len(rows),
        fields=len(found),
        pictures=_count(database, "picture", job),
        notices=_count(database, "notice", job, " AND body <> ''"),
        states=_count(database, "snapshot", job) - 1,
    )
    return Going(counts, found, new, state)


def erase_texts(
    store: Store,
    job: str,
    household: Household,
    *,
    by: str,
    at: str,
    keep_signer: bool = False,
    first: Job | None = None,
    written: Sequence[tuple[int, str]] = (),
) -> tuple[JobState, ErasedCounts]:
    """Erase what is personal in the log of a job, in one transaction; the state and how much went.

    Parameters: `first`, the job where there is no log yet; `written`, revisions and digests by which its file
    is known until it is written anew. Nothing is written where there is nothing to erase. **Source**:
    docs/security.md, "A household's data, erased for good".
    """
    store.database.overwriting()
    with store.writing() as database:
        store.bring_up()
        if first is None:
            database.run(
                "UPDATE job SET head = head WHERE id = %s", (job,)
            )  # other writers wait from here on
            plan = going(store, job, household, keep_signer=keep_signer)
        else:
            plan = going_of_file(first, household, keep_signer=keep_signer)
        if not plan.counts.any:
            return plan.before, plan.counts
        if first is not None:
            store.begin(plan.state.job)
        head, link = store.head_link(job)
        rows, anew = erased_rows(job, store.raw_rows(job, 0), household)
        for row in rows:
            _put(database, job, row)
        record: dict[str, Any] = {"erased": asdict(plan.counts)}
        if anew:
            record["before"] = [head, link]
            link = anew
        raw = raw_row(_row(head + 1, by, at, record), link)
        insert_row(database, job, raw)
        database.run("DELETE FROM picture WHERE job = %s", (job,))
        database.run("UPDATE notice SET body = '', seal = '' WHERE job = %s", (job,))
        for (person,) in database.run("SELECT DISTINCT person FROM notice WHERE job = %s", (job,)):
            if household.is_of_it(str(person)):
                database.run("DELETE FROM notice WHERE job = %s AND person = %s", (job, person))
        database.run("DELETE FROM snapshot WHERE job = %s", (job,))
        state = replace(plan.state, revision=raw.revision)
        store.keep_state(job, state)
        sql = "UPDATE job SET head = %s, title = %s, link = %s WHERE id = %s"
        database.run(sql, (raw.revision, state.job.title, raw.link, job))
        store.set_remark(job, WRITTEN, "\n".join(f"{number} {digest}" for number, digest in written))
        store.set_remark(job, KEY, "")
        store.set_remark(job, ERASING, at)
    if store.database.witness:
        store.database.witness.saw(job, raw.revision, raw.link)
    return state, plan.counts


def erased_rows(job: str, rows: Sequence[RawRow], household: Household) -> tuple[list[RawRow], str]:
    """Those rows that change, as they are then, and the newest link where links had to be made anew.

    That is so where a row of format 2 is among them: its digests are of texts alone, and whoever guesses one
    could try it. Else every link stays. **Source**: docs/security.md, "A household's data, erased for good".
    """
    anew = any(_is_old(row) for row in rows)
    link, changed = first_link(job), []
    for row in rows:
        new = _erased(row, household)
        if _is_old(row):
            salt = new_salt()
            if new.edit.startswith(OF_FILE):  # with a part of the file's digest
                new = replace(new, edit=f"{OF_FILE}{secrets.token_hex(12)}")
            new = chained(replace(new, digest=GONE, salt=salt), link)
            own = salt.partition(":")[2] if new.person else ""
            new = replace(new, salt=f":{own}" if row.way != ERASE else salt)
        elif anew:
            new = replace(new, link=link_of(link, new))
        link = new.link
        if new != row:
            changed.append(new)
    return changed, link if anew else ""


def _erased(row: RawRow, household: Household) -> RawRow:
    if row.way == ERASE:
        return row
    _, colon, own = row.salt.partition(":")
    person = GONE if household.is_of_it(row.person) else row.person
    salt = f":{own if person else ''}" if colon else ""
    return replace(row, label=GONE, changes=GONE, inverse=GONE, told=GONE, person=person, salt=salt)


def _is_old(row: RawRow) -> bool:
    return len(row.parts.split(" ")) <= OLD_PARTS


def _row(revision: int, by: str, at: str, record: dict[str, Any]) -> LogRow:
    return LogRow(
        revision, secrets.token_hex(12), by, at, LABEL, ERASE, None, [], [], [record], secrets.token_hex(8)
    )


def _put(database: Database, job: str, row: RawRow) -> None:
    names = ("edit", "person", "label", "changes", "inverse", "told", "digest", "parts", "link", "salt")
    sets = ", ".join(f"{name} = %s" for name in names)
    values = [getattr(row, name) for name in names]
    database.run(f"UPDATE edit SET {sets} WHERE job = %s AND revision = %s", (*values, job, row.revision))


def _count(database: Database, table: str, job: str, more: str = "") -> int:
    return int(database.run(f"SELECT COUNT(*) FROM {table} WHERE job = %s{more}", (job,))[0][0])
