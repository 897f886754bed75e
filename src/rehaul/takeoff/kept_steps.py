"""Steps on old cables: those that join the network, and those that stay in the wall."""

from __future__ import annotations

from collections.abc import Sequence

from rehaul.design.oldcables import is_qualified, left_norm, mend_norm
from rehaul.house import UNKNOWN, CableKind, Job, Run, RunState, held_on, open_obligations
from rehaul.house.called import called
from rehaul.network.faults import fault_place
from rehaul.takeoff.cautions import is_telephone
from rehaul.takeoff.holds import cabling_hold, joined, run_hold
from rehaul.takeoff.scope import KeptLink, freed_runs, left_pieces, used_runs
from rehaul.takeoff.steps import TaskList
from rehaul.takeoff.stops import Stops
from rehaul.words import Saying, say


def keep(
    steps: TaskList,
    stops: Stops,
    kept: KeptLink,
    tones: dict[str, str],
    photos: dict[str, str],
    boxes: dict[str, str],
) -> str:
    """Everything on old pairs that become a link of the network; returns its last step.

    `boxes` holds the steps that fitted small switches, by plate, and grows by those fitted here. **Source**:
    docs/work.md, "Steps".
    """
    job = steps.scope.job
    runs = kept.runs
    telephone = any(is_telephone(job, run.id) for run in runs)
    held = joined(*(run_hold(job, run.id) for run in runs), cabling_hold(job))
    ids = [run.id for run in runs]
    name, said = kept.link.id, steps.called(kept.link.id)
    first = boxes.get(kept.start, "")
    where = steps.closet if kept.port is not None else steps.outlet(kept.start)
    stop = [step for run in runs for step in stops.before_run(run.id)]
    depended = any(open_obligations(job, run) for run in ids)
    found = [*(tones[run] for run in ids), *(stop if depended else [])]
    if not is_qualified(kept.pieces):
        qualify = steps.add(
            "qualify",
            say("takeoff_steps.qualify_pieces", name=said)
            if len(kept.pieces) > 1
            else say("takeoff_steps.qualify", name=said),
            where,
            needs=found,
            because=[name, *ids],
            telephone=telephone,
            alarm=depended,
            held=held if depended else "",
        )
        found = [qualify]
    before = [*found, *stop, first]
    if kept.repair:
        before = [*before, *_mend(steps, kept, before, held)]
    before += [_join(steps, kept, box, before, photos, held, telephone) for box in kept.joins]
    jack = steps.add(
        "jack",
        say("takeoff_steps.end_at", name=said, place=steps.called(kept.plate)),
        steps.outlet(kept.plate),
        needs=[*before, photos.get(kept.plate, "")],
        because=[name, kept.plate],
        touches=ids,
        held=held,
        telephone=telephone,
    )
    plate = steps.add(
        "plate",
        say("takeoff_steps.fit_plate", name=steps.called(kept.plate)),
        steps.outlet(kept.plate),
        needs=[jack],
        because=[kept.plate],
        held=held,
    )
    start = _start(steps, kept, before, held, telephone, ids)
    last = [jack, plate, *start]
    if kept.small_switch:
        boxes[kept.plate] = steps.add(
            "box_switch",
            say("takeoff_steps.fit_switch", plate=steps.called(kept.plate)),
            steps.outlet(kept.plate),
            needs=last,
            because=[f"sw-{kept.plate}", kept.plate],
            held=held,
        )
        last = [*last, boxes[kept.plate]]
    title = say("takeoff_steps.test", name=said)
    return steps.add("test", title, where, needs=last, because=[name, *ids], held=held)


def _start(
    steps: TaskList, kept: KeptLink, needs: list[str], held: str, telephone: bool, ids: Sequence[str]
) -> list[str]:
    """The end that the link begins at: a port of the panel, or a jack at a box."""
    name = kept.link.id
    if kept.port is not None:
        title = steps.end_at_the_core(steps.called(name))
        norm, where, after = "panel_port", steps.closet, [*needs, steps.board]
    else:
        title = say("takeoff_steps.end_at_switch", name=steps.called(name), place=steps.called(kept.start))
        norm, where, after = "jack", steps.outlet(kept.start), needs
    return [
        steps.add(
            norm,
            title,
            where,
            needs=after,
            because=[name, kept.start],
            touches=ids,
            held=held,
            telephone=telephone,
        )
    ]


def _mend(steps: TaskList, kept: KeptLink, before: list[str], held: str) -> list[str]:
    found = []
    for run in kept.runs:
        if run.state is not RunState.DAMAGED:
            continue
        place = fault_place(run)
        norm = mend_norm(run)
        title = (
            say("takeoff_steps.find_fault", run=steps.called(run.id))
            if place is None
            else say("takeoff_steps.open_fault", run=steps.called(run.id), place=place.words)
        )
        found.append(
            steps.add(
                norm,
                title,
                steps.outlet(kept.plate),
                needs=before,
                because=[run.id],
                touches=[run.id],
                held=held,
                hole=True,
                photo=True,
            )
        )
    return found


def _join(
    steps: TaskList,
    kept: KeptLink,
    box: str,
    before: list[str],
    photos: dict[str, str],
    held: str,
    telephone: bool,
) -> str:
    touched = [piece.run.id for piece in kept.pieces if box in piece.ends]
    return steps.add(
        "break_chain",
        say("takeoff_steps.join_through", name=steps.called(kept.link.id), box=steps.called(box)),
        steps.outlet(box),
        needs=[*before, photos.get(box, "")],
        because=[kept.link.id, box],
        touches=list(dict.fromkeys(touched)),
        held=held,
        telephone=telephone,
        photo=True,
    )


def leave(steps: TaskList, stops: Stops, tones: dict[str, str]) -> None:
    """Old cables that the network does not use: tagged and left, or taken off the line once that is free.

    A piece of a used chain beyond the last used box is tagged too; what carries anything is left alone.
    **Source**: docs/work.md, "Steps".
    """
    scope = steps.scope
    used = used_runs(scope) | set(scope.in_use)
    freed = freed_runs(scope)
    for run in scope.job.house.runs:
        if run.id in used:
            _tag_rest(steps, run, tones)
        elif run.id in freed:
            _disconnect(steps, stops, run, tones)
        elif left_norm(scope.job, run) == "tag":
            steps.add(
                "tag", tag_words(steps.scope.job, run), steps.closet, needs=[tones[run.id]], because=[run.id]
            )


def _tag_rest(steps: TaskList, run: Run, tones: dict[str, str]) -> None:
    """The pieces of a used chain that nothing uses."""
    for name in left_pieces(steps.scope):
        owner, number = name.rsplit(".", 1)
        if owner == run.id:
            end = run.ends[int(number)]
            steps.add(
                "tag",
                say("takeoff_steps.tag_piece", piece=name, run=steps.called(run.id), end=steps.called(end)),
                steps.outlet(end),
                needs=[tones[run.id]],
                because=[run.id, name],
            )


def _disconnect(steps: TaskList, stops: Stops, run: Run, tones: dict[str, str]) -> None:
    job = steps.scope.job
    steps.add(
        "disconnect",
        say("takeoff_steps.disconnect", run=steps.called(run.id)),
        steps.closet,
        needs=[tones[run.id], *stops.before_run(run.id)],
        because=[run.id],
        touches=[run.id],
        held=joined(run_hold(job, run.id), cabling_hold(job)),
        telephone=True,
        photo=True,
    )


def tag_words(job: Job, run: Run) -> Saying:
    """What the tag of a cable that stays says, as a sentence for a step.

    In order: the far end was never found, it is in use, somebody may depend on it or nobody tested it, it
    is out of use, or spare. Only the last two are ever free to be cut. **Source**: docs/work.md, "Steps": old
    cables that are not used are tagged and left in the wall.
    """
    said = called(job, run.id)
    if UNKNOWN in run.ends:
        return say("takeoff_steps.tag_lost", run=said)
    if run.state in (RunState.LIVE_TELEPHONE, RunState.ALARM):
        return say("takeoff_steps.tag_in_use", run=said)
    if held_on(job, run.id):
        return say("takeoff_steps.tag_not_dead", run=said)
    if run.kind.is_telephone or run.kind is CableKind.BELL_WIRE:
        return say("takeoff_steps.tag_out", run=said)
    return say("takeoff_steps.tag_spare", run=said)
