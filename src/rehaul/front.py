"""The library's front: the verbs of the trade as functions; each imports what it needs when it is called."""

from __future__ import annotations

from os import PathLike
from typing import TYPE_CHECKING, Any, Literal, NamedTuple, TypeVar, overload

from rehaul.progress import Progress, silent

if TYPE_CHECKING:
    from rehaul.auditor import PlanFinding
    from rehaul.house import Job
    from rehaul.house.audit import Finding
    from rehaul.house.readers import ReadReport
    from rehaul.planning import Now, Plan
    from rehaul.predict import Calibration
    from rehaul.tracing import Traced, TracePlan
    from rehaul.words import Language

PaperSize = Literal["A4", "Letter"]
Wanted = TypeVar("Wanted")


class Tracing(NamedTuple):
    """What to do at one place where cables meet, and what the readings there say so far."""

    plan: TracePlan  # what comes first, what is left alone, which plug goes where, who walks how
    found: Traced  # which end is which outlet, what contradicts what, which reading would say most


def read(path: str | PathLike[str]) -> ReadReport:
    """Read a house from a file that something else wrote.

    The file is read in a process of its own, which may use 1 GiB of memory and 30 s (10 s more a megabyte):
    what is made to crash a reader ends that process alone.

    Parameters
    ----------
    path : a building model (IFC 2x3 or 4), a drawing (DXF), a list of rooms by tape (text or CSV), or a job

    Returns
    -------
    `house`, lengths in metres; `counts` of storeys, walls, doors, windows and rooms as the file has them;
    `not_understood`, what is in the file and not in the house, with the reason; `notes` in sentences

    Raises
    ------
    BadInput : where the file cannot be read, in one sentence with the line or element at fault

    **Validity**: docs/readers.md says what each reader takes. Nothing is guessed but what `notes` tells.

    >>> import rehaul, tempfile, pathlib
    >>> file = pathlib.Path(tempfile.mkdtemp(), "rooms.txt")
    >>> _ = file.write_text("storey Ground, height 2.4\\nHall 4.2 x 1.4\\nKitchen 4.2 x 3.1 above Hall\\n")
    >>> [room.name for room in rehaul.read(file).house.rooms]
    ['Hall', 'Kitchen']
    """
    from rehaul.house.readers import read_apart

    return read_apart(str(path))


def load(path: str | PathLike[str]) -> Job:
    """Open a job document (`*.rehaul.json`), of this or an earlier version, as it stands now.

    Changes that a server has acknowledged and not yet written into the file are in it.

    Raises
    ------
    BadInput : where the document is not whole, with the field at fault
    Damaged : where what is on the disk is not what was put there; `rehaul repair` mends it

    >>> import rehaul, tempfile, pathlib
    >>> file = pathlib.Path(tempfile.mkdtemp(), "house.rehaul.json")
    >>> _ = rehaul.save(rehaul.demo(), file)
    >>> rehaul.load(file) == rehaul.demo()
    True
    """
    from rehaul.jobs import current_job

    return current_job(str(path))


def save(job: Job, path: str | PathLike[str], *, replace: bool = False) -> str:
    """Write a job document, whole or not at all, and return where.

    Parameters
    ----------
    path : ends in `.rehaul.json`; folders on the way are not made
    replace : write over a job that stands there. A numbered copy of it is kept, the newest five

    Raises
    ------
    BadInput : where something stands at `path` and `replace` is not said, or the job would not open again
    CannotSave : where the disk will not take it; what was there before is still whole

    >>> import rehaul, tempfile, pathlib
    >>> pathlib.Path(rehaul.save(rehaul.demo(), pathlib.Path(tempfile.mkdtemp(), "a.rehaul.json"))).name
    'a.rehaul.json'
    """
    from pathlib import Path

    from rehaul.house import Job
    from rehaul.jobs import kept_copy, refuse_existing, save_job

    _require(job, Job, "save(job, path)", "refused_common.load_first")
    place = Path(path)
    refuse_existing(place, replace=replace)
    with kept_copy(place):
        save_job(place, job)
    return str(place)


def demo() -> Job:
    """The invented house that `rehaul demo` plans: three storeys, old telephone pairs and coax.

    >>> import rehaul
    >>> len(rehaul.demo().house.storeys)
    3
    """
    from rehaul.jobs import demo_job

    return demo_job()


def plan(job: Job, *, progress: Progress | None = None) -> Plan:
    """The whole main job: from what stands in a house to a wired network, its price and the order of work.

    Parameters
    ----------
    job : the house, its cables, needs, readings and choices; nothing in it is changed
    progress : told in a few words which step it is at. On a machine's first run the loops are compiled,
        once, which takes about half a minute and is told here, too

    Returns
    -------
    `cabling`, what each old cable can do; `before` and `after`, maps and rooms in Mb/s and dBm with ranges
    of 90 %; `choice`, what stands where and why; `channels`, `network`, `takeoff` (parts, labour, quote),
    `order` of work, `open_questions`; `findings` of the auditor, which read the plan as data. While it
    has any, nothing in the plan says `proven`.

    Raises
    ------
    BadInput : where something other than a job is given
    TooMuchMemory : where the plan would not end in the memory that this process was given

    **Validity**: estimates for planning, for homes of some hundred square metres and equipment of the
    generations in `docs/facts.md`; how near it came to measured places stands in docs/calibration.md.
    **Source**: docs/radio.md, wlan.md, copper.md, power.md, choosing.md and work.md, model by model.

    >>> import rehaul
    >>> found = rehaul.plan(rehaul.demo())
    >>> [point.name for point in found.choice.access_points], found.findings
    (['Music room', 'Workroom', 'Games den'], ())
    """
    from rehaul.house import Job
    from rehaul.kernels import prepare
    from rehaul.planning import plan as whole

    _require(job, Job, "plan(job)", "refused_common.load_first_to_plan")
    tell = progress or silent
    prepare(tell)
    return whole(job, progress=tell)


def now(job: Job, plan: Plan | None = None) -> Now:
    """Where a job stands: one sentence, the one thing to do next, how far each stage is, and the figures.

    Parameters
    ----------
    job : a job, finished or just begun
    plan : its plan, where there is one; nothing is said of what rooms get without it

    Returns
    -------
    `sentence`; `next` (`words` of the one next action, the `page` it is done on, `why`); `stages`, each done,
    under way, to do or held; `figures` (rooms in need, served today and after, price, visits, minutes, cables
    that are not to be cut)

    Raises
    ------
    BadInput : where something other than a job is given, or something other than a plan

    **Validity**: as the plan's. **Source**: the job and its plan alone; nothing is worked out anew.

    >>> import rehaul
    >>> rehaul.now(rehaul.demo()).sentence
    '11 rooms say what they need; no plan is made of it yet.'
    """
    from rehaul.house import Job
    from rehaul.planning import Plan, now_of, plan_data

    _require(job, Job, "now(job)", "refused_common.load_first")
    if plan is not None:
        _require(plan, Plan, "now(job, plan)", "refused_common.load_job_first")
    return now_of(job, plan_data(plan) if plan is not None else None)


@overload
def audit(thing: Job) -> tuple[Finding, ...]: ...
@overload
def audit(thing: Plan) -> tuple[PlanFinding, ...]: ...
def audit(thing: Job | Plan) -> tuple[Finding, ...] | tuple[PlanFinding, ...]:
    """What is missing, contradictory or improbable in a job; or what does not hold in a finished plan.

    Parameters
    ----------
    thing : a job, looked over as `rehaul check` does; or a plan, read as plain data by rules that share no
        code with what made it

    Returns
    -------
    Of a job: numbered findings, the serious ones first, each with a code, ids, a sentence and a proposed fix.
    Of a plan: what does not hold, each with its rule and the ids it is about; empty for a sound plan

    Raises
    ------
    BadInput : where something else is given

    **Validity**: a plan is judged by its job and by itself; no field and no rate is computed, so a wrong
    prediction that agrees with itself passes. **Source**: docs/auditor.md, rule by rule.

    >>> import rehaul
    >>> rehaul.audit(rehaul.demo())[0].code
    'run-state-unknown'
    """
    from rehaul.auditor import audit_plan
    from rehaul.house import Job
    from rehaul.house.audit import audit as audit_job

    if isinstance(thing, Job):
        return audit_job(thing)
    from rehaul.planning import Plan, plan_data

    _require(thing, Plan, "audit(job or plan)", "refused_common.load_job_first")
    return audit_plan(thing.job, plan_data(thing))


def papers(
    plan: Plan,
    *,
    paper: PaperSize | None = None,
    language: Language | None = None,
    out: str | PathLike[str] | None = None,
    replace: bool = False,
) -> dict[str, bytes]:
    """Everything on paper: a page for the browser, one PDF, label sheets, tables and drawings.

    Parameters
    ----------
    paper : A4 or Letter; the job's own where left out
    language : "en" or "fr"; English where left out and nobody said otherwise
    out : a folder to write them into, too; made where it does not stand
    replace : write over what stands there and was not written by rehaul

    Returns
    -------
    contents by file name, the page first; names may hold one folder, split by `/`. The same plan gives
    the same bytes

    Raises
    ------
    BadInput : where something other than a plan is given, or something of somebody else's stands in `out`
    CannotSave : where the disk will not take them
    TooMuchMemory : where they would not end in the memory that this process was given

    >>> import rehaul
    >>> list(rehaul.papers(rehaul.plan(rehaul.demo())))[:3]
    ['index.html', 'plan.pdf', 'labels.pdf']
    """
    from rehaul.planning import Plan
    from rehaul.sheets import papers as every

    _require(plan, Plan, "papers(plan)", "refused_common.plan_first_for_papers")
    return _written(every(plan, paper, language=language), out, replace)


def handover(
    plan: Plan,
    *,
    paper: PaperSize | None = None,
    kept_at: str = "",
    language: Language | None = None,
    out: str | PathLike[str] | None = None,
    replace: bool = False,
) -> dict[str, bytes]:
    """The record that stays with the house: what was done, found, signed and left. It opens without rehaul.

    Parameters
    ----------
    kept_at : where the record is kept, in words; printed for the closet door
    paper, language, out, replace : as of `papers`

    Returns
    -------
    contents by file name: sheets, a page for the closet door, labels, an empty form for passwords, and all
    of it once more as plain text and tables. Photos lie beside a job, not in it: `rehaul handover` adds them

    Raises
    ------
    as `papers`

    >>> import rehaul
    >>> record = rehaul.handover(rehaul.plan(rehaul.demo()), kept_at="meter cupboard")
    >>> sorted(name for name in record if name.endswith(".pdf"))
    ['closet-door.pdf', 'handover.pdf', 'labels.pdf', 'secrets-apart.pdf']
    """
    from rehaul.planning import Plan
    from rehaul.sheets import handover_files

    _require(plan, Plan, "handover(plan)", "refused_common.plan_first_for_handover")
    return _written(handover_files(plan, paper, kept_at=kept_at, language=language), out, replace)


def calibrate(job: Job) -> Calibration:
    """What the readings of a job, taken before the work, say of its walls, floors, boxes and devices.

    `plan` does the same inside; this shows it.

    Returns
    -------
    `correction`: for every doubt (a construction, a floor, distance, a device) how much more it loses than
    the fact tables say, `mean_db`, and its covariance [dB²]; `used`, ids of readings taken in; `left_out`,
    ids with the reason; `suspects`, readings that do not fit the rest

    Raises
    ------
    BadInput : where something other than a job is given

    **Validity**: any number of readings; docs/calibration.md says how near maps came to measured places
    after 1 to 30 of them. **Source**: docs/calibration.md.

    >>> import rehaul
    >>> len(rehaul.calibrate(rehaul.demo()).used)
    5
    """
    from rehaul.house import Job
    from rehaul.predict import calibration_of, scene_of, standing_radiators

    _require(job, Job, "calibrate(job)", "refused_common.load_first_to_calibrate")
    return calibration_of(job, scene_of(job.house, job.country), standing_radiators(job))


def trace(job: Job, at: str | None = None, *, people: int = 1, plugs: int = 8) -> Tracing:
    """Which plug goes in which outlet, the shortest walk, and what the readings typed in so far say.

    Nothing is tied before it is on record who depends on the lines, which volts are on them and whether a
    modem synchronises; what is live, held, foreign or a coax is left alone. Telephone lines carry up to
    90 V of ringing: see the cautions in `plan`.

    Parameters
    ----------
    at : id of the place where cables meet; the first of the job where left out
    people : 1 or 2; who walks, who reads
    plugs : how many strap plugs are in the bag

    Raises
    ------
    BadInput : where the job has no such place, or no cable with pairs ends there

    **Source**: docs/trace.md.

    >>> import rehaul
    >>> rehaul.trace(rehaul.demo()).plan.sentence
    'Nothing is tied yet. Record first: who depends, then voltage, then modem sync.'
    """
    from rehaul.house import Job
    from rehaul.tracing import Bag, plan_tracing, point_of, traced

    _require(job, Job, "trace(job)", "refused_common.load_first_to_trace")
    place = point_of(job, at)
    return Tracing(plan_tracing(job, place, Bag(plugs=plugs), people=people), traced(job, place))


def _require(thing: Any, wanted: type[Wanted], call: str, remedy: str) -> None:
    """A path or anything else given where a job or plan is wanted is a refusal, not a riddle."""
    if isinstance(thing, wanted):
        return
    from rehaul.errors import BadInput
    from rehaul.words import say

    given = say("refused_common.a_path") if isinstance(thing, str | PathLike) else f"{type(thing).__name__}"
    name = wanted.__name__.lower()
    raise BadInput(
        say("refused_common.given_where_another_is_wanted", given=given, name=name),
        where=f"rehaul.{call}",
        remedy=say(remedy),
    )


def _written(
    contents: dict[str, bytes | str], out: str | PathLike[str] | None, replace: bool
) -> dict[str, bytes]:
    from pathlib import Path

    from rehaul.jobs import write_folder

    if out is not None:
        write_folder(Path(out), contents, replace=replace, never=())
    return {name: text.encode() if isinstance(text, str) else text for name, text in contents.items()}
