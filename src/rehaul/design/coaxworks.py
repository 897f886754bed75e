"""Work on old coax: adapters, splitters, caps and filters, each paid once, with what comes before it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rehaul.design.oldcables import CABLES, add_photo, add_run
from rehaul.design.routerplaces import RouterPlace
from rehaul.design.works import Work, Works
from rehaul.house import UNKNOWN, Job, Run
from rehaul.network.coaxtree import CoaxPath, CoaxTree, Joint
from rehaul.words import say

LEAD = "cord_coax"  # from an adapter to its plate


@dataclass(frozen=True)
class First:
    """Where the first adapter of a tree goes, and what it hangs on."""

    place: str  # end of the tree: a plate, or the place where cables meet
    router: RouterPlace | None  # it hangs on the router there; None: on the main switch


def adapter_at(job: Job, place: str, run: Run) -> str:
    """Id of the adapter at an end of a coax: the plate's, else the cable's where several may end."""
    at_plate = any(outlet.id == place for outlet in job.house.outlets)
    return f"ad-{place}" if at_plate else f"ad-{run.id}"


def at_plate(job: Job, first: First) -> bool:
    """Whether the first adapter stands at an outlet of the house, not where cables meet.

    **Validity**: by the id of the place alone.
    """
    return any(outlet.id == first.place for outlet in job.house.outlets)


def leaves_by(job: Job, tree: CoaxTree, first: str) -> tuple[Run, ...]:
    """Cables by which data would leave the house, once the first adapter is plugged in at its end.

    Parameters: `first`, id of the end that the first adapter is at. They are those with an end
    where the line comes in, where cables meet, or that nobody found. Empty where data stay in.
    """
    points = {point.id for point in job.house.meeting_points}
    doors = frozenset(({job.service.enters} if job.service.enters else set()) | points)
    return tuple(run for run in tree.outside(doors) if first not in run.ends or UNKNOWN in run.ends)


def first_adapter(works: Works, tree: CoaxTree, first: First, path: CoaxPath, near: str) -> str:
    """The adapter that all others of the tree talk through; a tree has one.

    Parameters: `path`, one that begins at `first`; `near`, id of the adapter. Returns the id of the work;
    all first adapters of one tree exclude each other.
    """
    on = say("design_work.on_router" if first.router is not None else "design_work.on_core_port")
    run, entry = path.runs[0], path.entry
    if entry is not None:
        what = say("design_work.new_splitter_at", place=first.place)
    elif at_plate(works.job, first):
        what = say("design_work.coax_at", place=first.place)
    else:
        what = say("design_work.coax_run_at", run=run.id, place=first.place)
    touched = () if entry is not None else (run.id,)
    return works.add(
        Work(
            id=f"coax first {near.removeprefix('ad-')}",
            words=say("design_work.coax_first", on=on, what=what),
            tasks=("coax_adapter",),
            parts=(("coax_adapter", 1), ("cord_100", 1), (LEAD, 1)),
            excludes=f"first adapter on {tree.id}",
            at=first.place,
            about=(near, f"cord-{near}", near.replace("ad-", "lead-", 1), first.place, *touched),
            needs=_before(works, (first.place,), touched),
        )
    )


def far_adapter(works: Works, end: str, path: CoaxPath, far: str) -> str:
    """The adapter where a feed over coax comes out; paid once for each plate.

    Parameters: `end`, id of the plate; `path`, which ends there; `far`, id of the adapter. Returns the id of
    the work.
    """
    return works.add(
        Work(
            id=f"coax adapter {end}",
            words=say("design_work.coax_far", place=end),
            tasks=("coax_adapter",),
            parts=(("coax_adapter", 1), (LEAD, 1)),
            at=end,
            about=(far, f"lead-{end}", end, path.runs[-1].id),
            needs=_before(works, (end,), (path.runs[-1].id,)),
        )
    )


def tried(works: Works, near: str, end: str, path: CoaxPath) -> str:
    """The link between two adapters under load, over every cable of the way.

    Parameters: `near`, id of the first adapter; `end`, plate of the far one. Returns the id of the work,
    which names each cable of `path`.
    """
    names = tuple(run.id for run in path.runs)
    return works.add(
        Work(
            id=f"coax link {near.removeprefix('ad-')} to {end}",
            tasks=("test",),
            needs=_before(works, (), names),
            at=end,
            over=names,
        )
    )


def plugged(works: Works, run: Run, place: str, entry: Joint | None) -> str:
    """A coax that ends where cables meet is plugged into one thing: its own adapter, or the new splitter."""
    into = "adapter" if entry is None else entry.id
    return works.add(Work(id=f"plug {run.id}@{place} {into}", excludes=f"coax {run.id}@{place}"))


def joint_work(works: Works, joint: Joint) -> str:
    """One proper splitter in place of what is there, or caps on the open outputs of what stays.

    Returns the id of the work. Caps cost one part each; a splitter brings its own. **Validity**: one new
    splitter takes the place of all those of the joint.
    """
    names = " and ".join(joint.splitters)
    if not joint.new:
        return works.add(
            Work(
                id=f"coax caps {joint.id}",
                words=say("design_work.coax_caps", names=joint.splitters),
                tasks=("splitter",),
                parts=(("coax_cap", joint.caps),),
                at=joint.id,
                about=joint.splitters,
                needs=(CABLES,),
            )
        )
    if joint.id not in joint.splitters:  # there was none
        return works.add(
            Work(
                id=f"coax {joint.id}",
                words=say(
                    "design_work.coax_new_splitter",
                    ways=joint.ways,
                    names=joint.splitters,
                    runs=joint.runs,
                ),
                tasks=("splitter",),
                parts=(("coax_splitter", 1),),
                at=joint.splitters[0],
                about=(joint.id, *joint.runs),
                needs=_before(works, (), joint.runs),
            )
        )
    entry = (
        say("design_work.run_on_input", run=joint.input) if joint.input else say("design_work.first_on_input")
    )
    return works.add(
        Work(
            id=f"coax splitter {names}",
            words=say("design_work.coax_splitter", ways=joint.ways, names=joint.splitters, entry=entry),
            tasks=("splitter",),
            parts=(("coax_splitter", 1),),
            at=joint.id,
            about=(*joint.splitters, *joint.runs),
            needs=_before(works, (), joint.runs),
        )
    )


def filters(job: Job, works: Works, tree: CoaxTree, first: str) -> tuple[str, ...]:
    """A filter wherever the tree may leave the house, where none is known to stand.

    Parameters: `first`, id of the end that the first adapter is at. Returns ids of the work, one for each
    cable that leaves the house; none where `house.entry_filter` is true.
    """
    if job.house.entry_filter is True:
        return ()
    found = []
    for run in leaves_by(job, tree, first):
        inner = {name for joint in tree.joints for name in joint.splitters}
        outer = next((end for end in run.ends if end not in inner and end != UNKNOWN), "")
        at = outer or next((end for end in run.ends if end != UNKNOWN), "")
        found.append(
            works.add(
                Work(
                    id=f"coax filter {run.id}",
                    words=say("design_work.coax_filter", run=run.id),
                    tasks=("splitter",),
                    parts=(("entry_filter", 1),),
                    at=at,
                    about=(run.id, *((at,) if at else ())),
                    needs=_before(works, (at,) if at else (), (run.id,)),
                )
            )
        )
    return tuple(found)


def _before(works: Works, places: Sequence[str], runs: Sequence[str]) -> tuple[str, ...]:
    """What comes before a hand goes on coaxes: photographs of plates, each cable found and proven dead."""
    plates = {outlet.id for outlet in works.job.house.outlets}
    cables = {run.id: run for run in works.job.house.runs}
    photos = [add_photo(works, place) for place in places if place in plates]
    return (CABLES, *photos, *(add_run(works, cables[name]) for name in runs))
