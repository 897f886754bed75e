"""A household's personal data erased from one job for good: what would go, and its going.

What stands about the job and who paired goes first, as long as the log says whose it was; then the texts of
the log in one transaction; then the job's file is written anew and the log's file too. Wherever that is
stopped, saying it again brings it to its end.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from rehaul.errors import CannotSave
from rehaul.house import Job, entities
from rehaul.jobs.beside import LogBeside, is_served, job_digest, serving
from rehaul.jobs.companions import (
    SHORTEST_SEARCHED,
    Companion,
    Known,
    companions,
    files_about,
    naming,
    own_files,
)
from rehaul.jobs.desk import PEOPLE_FILE, require_regular
from rehaul.jobs.files import open_job, save_job
from rehaul.jobs.happenings import erase_names
from rehaul.jobs.integrity import require_whole_log
from rehaul.jobs.ledger import utc_now
from rehaul.jobs.logs import SIDES, log_path
from rehaul.jobs.people import People, good_name
from rehaul.jobs.personal import Household, PersonalText, household_of, who_worked
from rehaul.jobs.roll import erase_people, named_people
from rehaul.jobs.sql import connect
from rehaul.jobs.state import JobState, dump_state
from rehaul.jobs.store import ERASING, WRITTEN, Store
from rehaul.jobs.tombstones import ErasedCounts, Going, erase_texts, going, going_of_file
from rehaul.saving import flush_folder, reason_of
from rehaul.words import say

ErasureStep = Callable[[str], None]


@dataclass(frozen=True)
class ErasureAsked:
    """What somebody wants erased."""

    names: tuple[str, ...] = ()  # of people of the household, beyond those that the job has
    keep_signer: bool = False  # of an accepted offer
    folders: tuple[Path, ...] = ()  # where else backups may be


@dataclass(frozen=True)
class ErasurePlan:
    """What goes, what stays, and what cannot be reached."""

    job: str
    title: str
    counts: ErasedCounts
    found: tuple[PersonalText, ...]
    people: tuple[str, ...]  # who paired, and whose name goes from there
    names: tuple[str, ...]  # by which the household is looked for in other files
    ids: tuple[str, ...]  # ids and file names with a word of the household's in them; they stay
    stays: tuple[str, ...]  # in sentences
    in_file: tuple[
        PersonalText, ...
    ] = ()  # beyond that in the job's file, which the log has not taken in yet
    goes: tuple[Companion, ...] = ()
    left: tuple[Companion, ...] = ()
    unfinished: bool = False

    @property
    def anything(self) -> bool:
        """Whether there is anything to do."""
        return self.counts.any or bool(self.people or self.goes or self.in_file) or self.unfinished


@dataclass(frozen=True)
class Done:
    """What went, and where a text that was erased was still found."""

    plan: ErasurePlan
    at: str
    still: tuple[Path, ...]  # files of the job itself: there should be none
    elsewhere: tuple[Path, ...]  # other files of its folder that name the household
    searched: int  # of those
    all_searched: bool


def planned(path: Path, asked: ErasureAsked) -> ErasurePlan:
    """What would go of the job at `path`; nothing is written.

    Raises Damaged for a log that is not what was written, CannotSave while a server works on it.
    """
    _refuse_served(path)
    with _opened(path) as (store, job):
        return _plan(path, store, job, asked, *_people_of(path))[0]


def planned_stored(address: str, job: str, asked: ErasureAsked) -> ErasurePlan:
    """The same for a job of a database, by its address and the job's id; nothing is written.

    There is no file beside it and are no companions. Raises Damaged for a log that is not what was written,
    BadInput where there is no such job, CannotSave.
    """
    store = Store(connect(address))
    try:
        require_whole_log(store, job)
        return _plan_of_log(store, job, asked)[0]
    finally:
        store.close()


def erase(path: Path, asked: ErasureAsked, by: str, *, step: ErasureStep = lambda name: None) -> Done:
    """Erase it. `step` is told what comes next. Raises as `planned` does, and CannotSave.

    A job without a log gets one, for the log keeps who erased what and when. **Source**: docs/security.md, "A
    household's data, erased for good".
    """
    by, at = good_name(by), utc_now()
    _refuse_served(path)
    if path.exists():
        require_regular(path)
    with serving(path):
        step("the file and the log brought together")
        if _has_log(path):
            beside = LogBeside(path)
            beside.export()
            beside.close()
        with _opened(path) as (store, job):
            plan, household = _plan(path, store, job, asked, *_people_of(path))
        step("what stands about the job")
        _take_away(plan.goes)
        step("people and devices")
        if plan.people or _people_of(path)[1]:
            people = People(Store(connect(path.parent / PEOPLE_FILE)))
            people.erase(household.is_of_it)
            people.close()
        state = _erase_here(path, job, household, asked, by=by, at=at, step=step)
    texts = sorted({found.was for found in plan.found if len(found.was) >= SHORTEST_SEARCHED})
    kept = dump_state(state)
    gone = [text for text in texts if text not in kept] + list(plan.people)
    own = own_files(path)
    about, all_of_them = files_about(path.parent, own)
    return Done(
        plan,
        at,
        still=tuple(naming((file for file in own if file.exists()), gone)),
        elsewhere=tuple(naming(about, [*plan.names, *plan.people])),
        searched=len(about),
        all_searched=all_of_them,
    )


def _erase_here(
    path: Path, job: Job, household: Household, asked: ErasureAsked, *, by: str, at: str, step: ErasureStep
) -> JobState:
    first = None if _has_log(path) else job
    written = [(0, job_digest(open_job(path)))]
    store = Store(connect(log_path(path)))
    try:
        if first is None:
            written = [(store.head(job.id), written[0][1])]
        step("the texts of the log")
        state, _ = erase_texts(
            store,
            job.id,
            household,
            by=by,
            at=at,
            keep_signer=asked.keep_signer,
            first=first,
            written=written,
        )
        step("the job's file")
        save_job(path, state.job)
        step("the log's file")
        store.database.scrub()
        step("the end")
        with store.writing():
            store.set_remark(job.id, WRITTEN, f"{state.revision} {job_digest(state.job)}")
            store.set_remark(job.id, ERASING, "")
        store.database.scrub()  # until here the digest of the file of before was needed
        return state
    finally:
        store.close()


def erase_stored(address: str, job: str, asked: ErasureAsked, by: str) -> ErasurePlan:
    """Erase it from a database: log, pictures, and the people of the household who paired.

    `by`: the name of who erases it, which the log keeps. What goes is what `planned_stored` says; all is on
    the disk when it returns. Stopped or refused midway (CannotSave) a remark stays that it is not at its
    end, and saying the same again brings it there. Raises Damaged, BadInput as `planned_stored` does.
    **Source**: docs/security.md, "A household's data, erased for good".
    """
    by = good_name(by)
    store = Store(connect(address))
    try:
        require_whole_log(store, job)
        plan, household = _plan_of_log(store, job, asked)
        if plan.people:
            with store.writing() as database:
                erase_names(database, erase_people(database, household.is_of_it))
        erase_texts(store, job, household, by=by, at=utc_now(), keep_signer=asked.keep_signer)
        store.database.scrub()
        with store.writing():
            store.set_remark(job, ERASING, "")
        return plan
    finally:
        store.close()


def _refuse_served(path: Path) -> None:
    if is_served(path):
        raise CannotSave(
            say("refused_common.server_works_on"),
            where=str(path),
            remedy=say("refused_common.stop_server_first"),
        )


def _has_log(path: Path) -> bool:
    """Whether a log with a job in it stands beside the file."""
    with _opened(path) as (store, _):
        return store is not None


@contextlib.contextmanager
def _opened(path: Path) -> Iterator[tuple[Store | None, Job]]:
    """The log of a job where it has one, whole, and the job as it stands."""
    log = log_path(path)
    store = Store(connect(log)) if log.exists() else None
    try:
        if store and (jobs := store.jobs()):
            require_whole_log(store, jobs[0][0])
            yield store, store.state_at(*jobs[0][::2]).job
        else:
            yield None, open_job(path)
    finally:
        if store:
            store.close()


def _people_of(path: Path) -> tuple[list[str], bool]:
    """Names of all who paired in a job's folder, and whether an erasure among them was stopped midway."""
    place = path.parent / PEOPLE_FILE
    if not place.exists():
        return [], False
    store = Store(connect(place))
    try:
        return named_people(store.database, lambda name: True), bool(store.remark("", ERASING))
    finally:
        store.close()


def _plan(
    path: Path, store: Store | None, job: Job, asked: ErasureAsked, people: Sequence[str], begun: bool
) -> tuple[ErasurePlan, Household]:
    if store is None:
        household = household_of(job, asked.names)
        gone = going_of_file(job, household, keep_signer=asked.keep_signer)
        plan = _told(gone, job, household, asked, people)
        links: frozenset[str] = frozenset()
    else:
        plan, household = _plan_of_log(store, job.id, asked, people)
        links = frozenset(row.link for row in store.raw_rows(job.id, 0))
        if path.exists() and (lying := open_job(path)) != job:
            in_file = going_of_file(lying, household_of(lying, asked.names), keep_signer=asked.keep_signer)
            plan = replace(plan, in_file=tuple(one for one in in_file.found if one not in plan.found))
    goes, left = companions(path, Known(job, links), asked.folders)
    ids = (*plan.ids, *((path.name,) if household.is_named_in(path.name) else ()))
    return replace(plan, goes=goes, left=left, ids=ids, unfinished=plan.unfinished or begun), household


def _plan_of_log(
    store: Store, job: str, asked: ErasureAsked, people: Sequence[str] | None = None
) -> tuple[ErasurePlan, Household]:
    changes = [change for row in store.rows(job, 0) for change in (*row.changes, *row.inverse)]
    now = store.state_at(job, store.head(job)).job
    household = household_of(now, asked.names, changes)
    gone = going(store, job, household, keep_signer=asked.keep_signer)
    if people is None:
        people = named_people(store.database, lambda name: True)
    plan = _told(gone, now, household, asked, people)
    return replace(plan, unfinished=bool(store.remark(job, ERASING))), household


def _told(
    gone: Going, job: Job, household: Household, asked: ErasureAsked, people: Sequence[str]
) -> ErasurePlan:
    ids = [str(thing.id) for _, thing in entities(job)]  # type: ignore[attr-defined]
    contacts = job.contacts
    names = [contacts.household, contacts.address, *asked.names, job.title]
    return ErasurePlan(
        job=job.id,
        title=job.title,
        counts=gone.counts,
        found=gone.found,
        people=tuple(name for name in people if household.is_of_it(name)),
        names=tuple(name for name in names if name),
        ids=tuple(name for name in (job.id, *ids) if household.is_named_in(name)),
        stays=tuple(_stays(gone.state.job, asked, [name for name in people if not household.is_of_it(name)])),
    )


def _stays(job: Job, asked: ErasureAsked, paired: Sequence[str]) -> Iterator[str]:
    """What stays of a job, as it is afterwards, and of those who paired."""
    tests = sum(len(run.tests) for run in job.house.runs)
    counts = (
        (len(job.readings), "readings"),
        (tests, "tests of cables"),
        (len(job.trace_readings), "readings of the tracing"),
        (len(job.line_checks), "line checks"),
        (len(job.decisions), "decisions about cables"),
        (len(job.ticks), "steps ticked off"),
        (len(job.acceptance), "lines of acceptance"),
    )
    said = [f"{count} {words}" for count, words in counts if count]
    yield "The house as it is drawn, with its cables, boxes and needs."
    if said:
        yield f"{', '.join(said)}: their numbers, results and days."
    for offer in job.accepted_offers:
        who = "and by whom" if asked.keep_signer else "not by whom"
        yield (
            f"Offer {offer.id}, {offer.option}: {offer.total:.2f} {offer.currency}, the day it was accepted "
            f"({who}), and the digests of what was signed; not its text."
        )
    yield "Of every edit when it was made and by which of the crew."
    for what, names in (("Who worked", who_worked(job)), ("Who paired", paired)):
        if names:
            yield f"{what}: {', '.join(names)}. Say --name for one who is of the household."


def _take_away(goes: Sequence[Companion]) -> None:
    for companion in goes:
        for file in companion.files:
            try:
                for side in ("", *SIDES):
                    file.with_name(file.name + side).unlink(missing_ok=True)
                flush_folder(file.parent)
            except OSError as error:
                raise CannotSave(
                    say("refused_store.could_not_be_taken_away", reason=reason_of(error)),
                    where=str(file),
                    remedy=say("refused_store.take_away_hand_say"),
                ) from None
