"""What still has to be found out about old cables before they are used: what is on record is not done again.

Safety is nobody's choice: wherever a hand goes to the place where the cables meet, what is not known to be
dead there is checked, and that is paid once. A cable that is itself touched is proven dead on the day,
whatever the record says.
"""

from __future__ import annotations

from rehaul.design.works import Work, Works
from rehaul.house import UNKNOWN, Grade, Job, Run, RunState, WireMap, held_on, open_obligations
from rehaul.network.core import core_point, runs_in_use
from rehaul.network.faults import fault_place
from rehaul.network.segments import Segment
from rehaul.words import say

VISIT, CABLES = "visit", "cables"
PROVEN = (Grade.CERTIFIED, Grade.MEASURED)


def ends_known(run: Run) -> bool:
    """Whether it is on record which ends belong together: traced, or tested from one to the other.

    **Validity**: a cable with an unknown end is never known, whatever was tested on it.
    """
    if UNKNOWN in run.ends:
        return False
    return run.traced in PROVEN or any(test.wire_map is WireMap.GOOD or test.link_mbps for test in run.tests)


def link_known(run: Run) -> bool:
    """Whether a wire map and a link are on record for the whole of it, as it is."""
    whole = len(run.ends) == 2 and run.state is not RunState.DAMAGED
    return whole and any(test.wire_map is WireMap.GOOD and test.link_mbps for test in run.tests)


def is_qualified(row: tuple[Segment, ...]) -> bool:
    """Whether a link of these segments was tried before anything is terminated: one whole cable, unmended."""
    return len(row) == 1 and link_known(row[0].run)


def checked_at_the_closet(job: Job) -> tuple[str, ...]:
    """Cables that come to where the work is and are not known to be dead: checked whatever is chosen.

    Returns ids in the house's order; none where the house has no place where cables meet.
    """
    point = core_point(job)
    return tuple(run.id for run in job.house.runs if point and point.id in run.ends and held_on(job, run.id))


def may_tone(job: Job, run: str) -> bool:
    """Whether an instrument may go on a cable: only a test is missing, nobody depends on it.

    **Validity**: True also where nothing holds the cable at all.
    """
    return all(reason.untested for reason in held_on(job, run))


def left_norm(job: Job, run: Run) -> str:
    """The task for a cable that the network does not use: tagged, taken off its line once all who depend on
    it are moved, or none where somebody does or something hangs on it."""
    waiting = {o.id for o in open_obligations(job, run.id)}
    if run.id in runs_in_use(job) or not waiting <= set(job.choices.to_be_moved):
        return ""
    return "disconnect" if any(o.run == run.id for o in job.obligations) else "tag"


def mend_norm(run: Run) -> str:
    """The task that mends a damaged cable: its place is known from readings, or has to be found."""
    return "repair" if fault_place(run) is None else "fault"


def add_cables(job: Job, works: Works) -> str:
    """What is done once wherever any cable is touched or laid: photographs, checks for life, tags.

    Returns the id of the work, which needs the visit. Each cable that stays unused is tagged at both ends.
    **Source**: docs/work.md, "Steps".
    """
    left = [norm for run in job.house.runs if (norm := left_norm(job, run))]
    return works.add(
        Work(
            CABLES,
            say("design_work.cables"),
            ("photo", *("live_check" for _ in checked_at_the_closet(job)), *left),
            parts=(("tag", 2.0 * len(left)),) if left else (),
            needs=(VISIT,),
        )
    )


def add_run(works: Works, run: Run) -> str:
    """What one old cable still needs before it is used. What would be done to it unused is saved.

    Returns the id of the work. A check on the day is counted here unless it is done where the cables meet
    anyway; a chain has each of its stretches tagged.
    """
    job = works.job
    check = () if run.id in checked_at_the_closet(job) else ("live_check",)
    tone = ("tone",) if not ends_known(run) and may_tone(job, run.id) else ()
    left = left_norm(job, run)
    pieces = len(run.ends) - 1 if len(run.ends) > 2 else 0  # of a chain: each that stays unused is tagged
    return works.add(
        Work(
            id=f"run {run.id}",
            words=say("design_work.run_found" if tone else "design_work.run_dead", run=run.id),
            tasks=(*check, *tone, *("tag" for _ in range(pieces))),
            parts=(("tag", float(pieces)),) if pieces else (),
            needs=(CABLES,),
            saves=(left,) if left else (),
            saves_parts=(("tag", 2.0),) if left else (),
        )
    )


def add_photo(works: Works, plate: str) -> str:
    """A box is photographed before anything in it is undone."""
    return works.add(Work(id=f"photo {plate}", tasks=("photo",), needs=(CABLES,)))


def add_mending(works: Works, run: Run) -> str:
    """A damaged cable is mended."""
    return works.add(
        Work(
            id=f"mend {run.id}",
            words=say("design_work.run_mended", run=run.id),
            tasks=(mend_norm(run),),
            parts=(("joint_box", 1.0),),
            needs=(f"run {run.id}",),
        )
    )
