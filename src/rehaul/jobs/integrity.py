"""Whether a log is what was written: what opening checks, and what `rehaul verify` says of it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.jobs.chain import ERASE, GONE, RawRow, first_broken, first_link, seal
from rehaul.jobs.sql import damaged
from rehaul.jobs.store import ERASING, Store
from rehaul.words import say


@dataclass(frozen=True)
class Erasure:
    """One time that personal data were erased, as the log says."""

    edit: int  # its own revision
    at: str
    by: str
    edits: int  # whose texts went
    fields: int
    pictures: int
    notices: int
    states: int


@dataclass(frozen=True)
class Health:
    """What stands in a log of one job."""

    job: str
    head: int  # the newest edit, as the log has it
    edits: int  # that are there
    compacted: int  # of these, those whose texts were taken away
    whole_to: int  # the last edit that continues all before it
    faults: tuple[str, ...]  # in words; none: it is whole
    erasures: tuple[Erasure, ...] = ()
    unfinished: str = ""  # since when an erasure has not come to its end


LOOKS = 5  # at a log that somebody writes, before a fault is believed


def health_of(store: Store, job: str) -> Health:
    """Look at everything that a log holds of a job; nothing is changed.

    What is wrong is in `faults`, in words. Raises Damaged where not even its tables can be read, BadInput
    where there is no such job.

    **Validity**: several questions to the store, not one transaction: edits that another program adds
    meanwhile are left out, and where it made the log anew it is looked at again. What a fault of the disk
    alters is seen; a whole older copy only by the witness beside a log in a file.

    **Source**: docs/sharing.md, "What was written is what is read".
    """
    try:
        for _ in range(LOOKS):
            before = store.head_link(job)
            found = _health_of(store, job)
            if not found.faults or store.head_link(job) == before:
                break
        return found
    except (TypeError, AttributeError, ValueError, OverflowError):  # a damaged value changes its type too
        return Health(job, 0, 0, 0, 0, (say("refused_log.value_of_another_kind"),))


def _health_of(store: Store, job: str) -> Health:
    faults = [unsound] if (unsound := store.database.unsound()) else []
    seen = (
        store.database.witness.heads().get(job) if store.database.witness else None
    )  # never ahead of the head
    head, link = store.head_link(job)
    rows = store.raw_rows(job, 0)
    newest, _ = store.head_link(job)
    rows = [row for row in rows if not head < row.revision <= newest]  # added meanwhile
    broken, last = first_broken(first_link(job), 0, rows)
    if broken and broken <= head:
        faults.append(say("refused_log.edit_of_not_written", edit=broken, head=head))
    elif broken:
        faults.append(say("refused_log.edit_beyond_newest", edit=broken, head=head))
    elif len(rows) > head:
        faults.append(say("refused_log.edit_beyond_newest", edit=head + 1, head=head))
    elif len(rows) < head:
        faults.append(say("refused_log.edits_missing", first=len(rows) + 1, last=head))
    elif last != link:
        faults.append(say("refused_log.newest_is_another"))
    faults += _beside(store, job)
    faults += _erased_for_a_reason(rows)
    if seen and seen[0] > head:
        faults.append(say("refused_log.acknowledged_and_missing", first=head + 1, last=seen[0]))
    elif seen and not faults and seen[0] > _made_anew(rows) and rows[seen[0] - 1].link != seen[1]:
        faults.append(say("refused_log.another_than_acknowledged", edit=seen[0]))
    erased = () if faults else tuple(_erasure(row) for row in rows if row.way == ERASE)
    return Health(
        job,
        head,
        len(rows),
        sum(row.changes == GONE for row in rows),
        broken - 1 if broken else min(len(rows), head),
        tuple(faults),
        erased,
        "" if faults else store.remark(job, ERASING) or "",
    )


def _erasure(row: RawRow) -> Erasure:
    return Erasure(row.revision, row.at, row.person, **json.loads(row.told)[0]["erased"])


def _made_anew(rows: Sequence[RawRow]) -> int:
    """Up to which edit an erasure made the links anew: a witness from before it knows others."""
    said = [json.loads(row.told)[0].get("before", [0]) for row in rows if row.way == ERASE]
    return max((int(one[0]) for one in said), default=0)


def _erased_for_a_reason(rows: Sequence[RawRow]) -> list[str]:
    """What lost more than a log made small loses, and was not erased by a later row."""
    last = max((row.revision for row in rows if row.way == ERASE), default=0)
    lost = [row.revision for row in rows if (row.label_erased or row.person_erased) and row.revision > last]
    return [say("refused_log.lost_its_label", edit=number) for number in lost[:3]]


def require_whole_log(store: Store, job: str) -> None:
    """Raise Damaged, with all its faults in one sentence, where a log of a job is not what was written.

    Asked before a log is opened, backed up, disclosed or erased. Raises BadInput where there is no such
    job.
    """
    found = health_of(store, job)
    if found.faults:
        raise damaged(store.where, say("refused_log.faults", names=found.faults))


def _beside(store: Store, job: str) -> list[str]:
    """Faults of what is no part of the chain: states, notices, remarks, pictures."""
    run = store.database.run
    faults: list[str] = []
    states = run("SELECT revision, body, seal FROM snapshot WHERE job = %s", (job,))
    head, _ = store.head_link(job)  # asked after the states: one that was added meanwhile has its edit
    faults += [
        say("refused_log.state_not_written", edit=revision)
        for revision, body, kept in states
        if seal(job, revision, body) != kept or revision > head
    ]
    if not states:
        faults.append(say("refused_log.no_state"))
        return faults
    oldest = min(revision for revision, _, _ in states)
    sql = "SELECT MIN(revision) FROM edit WHERE job = %s AND revision > %s AND changes = %s"
    bare = run(sql, (job, oldest, GONE))[0][0]
    if bare is not None:  # what a text was taken from, a state must hold
        faults.append(say("refused_log.lost_its_text", edit=bare))
    notices = run("SELECT person, number, body, seal FROM notice WHERE job = %s", (job,))
    if any(kept and seal(job, person, number, body) != kept for person, number, body, kept in notices):
        faults.append(say("refused_log.notice_not_written"))
    remarks = run("SELECT name, body, seal FROM remark WHERE job = %s", (job,))
    if any(seal(job, name, body) != kept for name, body, kept in remarks):
        faults.append(say("refused_log.last_written_to_jobs_file"))
    pictures = run("SELECT id, type, about, body, seal FROM picture WHERE job = %s", (job,))
    faults += [
        say("refused_log.picture_not_kept", picture=name)
        for name, *values, kept in pictures
        if seal(job, name, *values) != kept
    ]
    return faults
