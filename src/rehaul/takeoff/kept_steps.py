"""Steps on old cables: those that join the network, and those that stay in the wall."""

from __future__ import annotations

from rehaul.house import UNKNOWN, CableKind, Job, Run, RunState, held_on, open_obligations
from rehaul.takeoff.cautions import is_telephone
from rehaul.takeoff.faults import fault_place
from rehaul.takeoff.holds import cabling_hold, run_hold
from rehaul.takeoff.scope import ChainBox, KeptRun
from rehaul.takeoff.steps import Steps
from rehaul.takeoff.stops import Stops

_AT_A_BOX = {
    "join": ("break_chain", "Join {run} straight through at {box}; nothing hangs on it any more"),
    "switch": ("break_chain", "Take {run} apart at {box}: a jack on each side"),
    "end": ("break_chain", "Take {run} out of its chain at {box}"),
    "cut off": ("tag", "Tag the piece of {run} beyond the last used box at {box}, and leave it"),
}


def keep(steps: Steps, stops: Stops, kept: KeptRun, tones: dict[str, str], photos: dict[str, str]) -> str:
    """Everything on a run that joins the network; returns its last step."""
    job, run = steps.scope.job, kept.run
    telephone = is_telephone(job, run.id)
    held = " ".join(filter(None, (run_hold(job, run.id), cabling_hold(job))))
    qualify = steps.add(
        "qualify",
        f"Qualify {run.id}: wire map, length, link",
        steps.closet,
        needs=[tones[run.id]],
        because=[run.id],
        telephone=telephone,
        alarm=bool(open_obligations(job, run.id)),
    )
    before = [qualify, *stops.before_run(run.id)]
    if kept.repair:
        before = [*before, _mend(steps, kept, before, held)]
    taken = [_box(steps, run, box, before, photos, held) for box in kept.boxes]
    jacks = []
    for outlet in kept.outlets:
        jacks.append(
            steps.add(
                "jack",
                f"Terminate and label {run.id} at {outlet}",
                steps.outlet(outlet),
                needs=[*before, *taken, photos.get(outlet, "")],
                because=[run.id, outlet],
                touches=[run.id],
                held=held,
                telephone=telephone,
            )
        )
        jacks.append(
            steps.add(
                "plate",
                f"Fit the plate of {outlet}",
                steps.outlet(outlet),
                needs=[jacks[-1]],
                because=[outlet],
                held=held,
            )
        )
    switches = [
        steps.add(
            "box_switch",
            f"Fit a small switch at {box.outlet}, fed from a mains socket beside it",
            steps.outlet(box.outlet),
            needs=jacks,
            because=[run.id, box.outlet],
            held=held,
        )
        for box in kept.boxes
        if box.do == "switch"
    ]
    port = steps.add(
        "panel_port",
        f"Terminate and label {run.id} at the panel",
        steps.closet,
        needs=[*before, steps.board],
        because=[run.id],
        touches=[run.id],
        held=held,
        telephone=telephone,
    )
    return steps.add(
        "test",
        f"Test and record {run.id}",
        steps.closet,
        needs=[*jacks, *switches, port],
        because=[run.id],
    )


def _mend(steps: Steps, kept: KeptRun, before: list[str], held: str) -> str:
    run, place = kept.run, fault_place(kept.run)
    norm = "repair" if place is None else "fault"
    title = (
        f"Find the fault of {run.id} from both ends, and mend it"
        if place is None
        else f"Open the wall over the fault of {run.id} at {place.words}, and mend it"
    )
    where = steps.outlet(kept.outlets[0]) if kept.outlets else steps.closet
    return steps.add(
        norm, title, where, needs=before, because=[run.id], touches=[run.id], held=held, hole=True, photo=True
    )


def _box(steps: Steps, run: Run, box: ChainBox, before: list[str], photos: dict[str, str], held: str) -> str:
    norm, words = _AT_A_BOX[box.do]
    return steps.add(
        norm,
        words.format(run=run.id, box=box.outlet),
        steps.outlet(box.outlet),
        needs=[*before, photos.get(box.outlet, "")],
        because=[run.id, box.outlet],
        touches=[run.id],
        held=held,
        telephone=is_telephone(steps.scope.job, run.id),
        photo=True,
    )


def leave(steps: Steps, stops: Stops, tones: dict[str, str]) -> None:
    """Old cables that the network does not use: tagged and left, or taken off the line once that is free."""
    scope = steps.scope
    used = {kept.run.id for kept in scope.kept} | {new.spends for new in scope.pulls}
    for run in scope.job.house.runs:
        if run.id in used:
            continue
        mine = [o for o in scope.job.obligations if o.run == run.id]
        waiting = {o.id for o in open_obligations(scope.job, run.id)}
        if mine and waiting <= set(scope.job.choices.to_be_moved):
            _disconnect(steps, stops, run, tones)
        elif not waiting:
            steps.add(
                "tag", _tag_words(steps.scope.job, run), steps.closet, needs=[tones[run.id]], because=[run.id]
            )


def _disconnect(steps: Steps, stops: Stops, run: Run, tones: dict[str, str]) -> None:
    job = steps.scope.job
    steps.add(
        "disconnect",
        f"Disconnect {run.id} at the demarcation point, customer's side only, and tag it out of use",
        steps.closet,
        needs=[tones[run.id], *stops.before_run(run.id)],
        because=[run.id],
        touches=[run.id],
        held=" ".join(filter(None, (run_hold(job, run.id), cabling_hold(job)))),
        telephone=True,
        photo=True,
    )


def _tag_words(job: Job, run: Run) -> str:
    if UNKNOWN in run.ends:
        return f"Tag {run.id} as far end not found; leave it whole and keep it on the list"
    if run.state in (RunState.LIVE_TELEPHONE, RunState.ALARM):
        return f"Tag {run.id} as in use: do not cut"
    if held_on(job, run.id):
        return f"Tag {run.id} at both ends as not known to be dead: do not cut"
    if run.kind in (CableKind.QUAD, CableKind.CAT3, CableKind.BELL_WIRE):
        return f"Tag {run.id} at both ends as out of use, and leave it in the wall"
    return f"Tag {run.id} at both ends as spare, and leave it in the wall"
