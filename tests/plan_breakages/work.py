"""Plans broken in what is touched."""

from __future__ import annotations

from plan_breakages.how import SIGNED, breaks, changed, inside, link, part_of, task
from rehaul.house import Job, LineCheck, ObligationState, RunState
from sample_plan_data import Data


@breaks("held-left-alone", "an alarm's cable drawn out")
def _(job: Job, data: Data) -> None:
    task(data, "tag", "C05")["touches"] = ["C03"]


def _stop(data: Data, *about: str) -> Data:
    """A stop point beside the gate."""
    row = dict(task(data, "gate"), id="T00", norm="stop", title="Stop: the sign-off", needs=[], stop=True)
    row["because"] = list(about)
    data["order"].insert(1, row)
    return row


@breaks("held-left-alone", "an alarm's cable drawn out after a stop for something else")
def _(job: Job, data: Data) -> None:
    _stop(data, "H9")
    row = task(data, "tag", "C05")
    row.update(touches=["C03"], needs=[*row["needs"], "T00"])


@breaks("held-left-alone", "an alarm's cable drawn out beside its stop, not after it")
def _(job: Job, data: Data) -> None:
    _stop(data, "O1", "C03")
    task(data, "tag", "C05")["touches"] = ["C03"]


@breaks("held-left-alone", "an alarm's cable drawn out after a step about it that stops nobody")
def _(job: Job, data: Data) -> None:
    _stop(data, "O1", "C03")["stop"] = False
    row = task(data, "tag", "C05")
    row.update(touches=["C03"], needs=[*row["needs"], "T00"])


@breaks("held-left-alone", "a tone on an alarm's cable")
def _(job: Job, data: Data) -> None:
    task(data, "tone", "C05")["because"] = ["C03"]


@breaks("held-left-alone", "a cable with voltage on it terminated")
def _(job: Job, data: Data) -> Job:
    check = LineCheck(id="L1", at="MP1", what="voltage", run="C01", dc_v=48.0)
    return job.model_copy(update={"line_checks": (check,)})


@breaks("held-left-alone", "an untested cable terminated")
def _(job: Job, data: Data) -> Job:
    return inside(job, "runs", "C01", state=RunState.UNKNOWN)


@breaks("held-left-alone", "an alarm signed for without words")
def _(job: Job, data: Data) -> Job:
    moved = changed(
        job.obligations,
        "O1",
        run="C01",
        state=ObligationState.MOVED,
        sign_off=SIGNED.model_copy(update={"words": ""}),
    )
    return job.model_copy(update={"obligations": moved})


@breaks("touches-said", "a jack that hides the cable it cuts")
def _(job: Job, data: Data) -> None:
    task(data, "jack", "C01")["touches"] = []


@breaks("checked-before-touched", "a cable toned before it is proved dead")
def _(job: Job, data: Data) -> None:
    task(data, "tone", "C05")["needs"] = []


@breaks("photo-before-undone", "a box opened before its photograph")
def _(job: Job, data: Data) -> None:
    task(data, "photo", "U-01")["because"] = []


@breaks("photo-before-undone", "a box photographed, but not before it is opened")
def _(job: Job, data: Data) -> None:
    row = task(data, "jack", "C01")
    row["needs"] = [name for name in row["needs"] if name != task(data, "photo", "U-01")["id"]]


@breaks("feeders-left-in-use", "the cable of an access point tagged out of use")
def _(job: Job, data: Data) -> None:
    task(data, "tag", "C05")["because"] = ["C01"]


@breaks("feeders-left-in-use", "a chain cut off that feeds something beyond")
def _(job: Job, data: Data) -> None:
    link(data, "C05.2")["b"] = "AP2"


@breaks("feeders-left-in-use", "the provider's line disconnected")
def _(job: Job, data: Data) -> Job:
    row = task(data, "tag", "C05")
    row["norm"], row["title"] = "disconnect", "Disconnect C05 at the demarcation point"
    return part_of(job, "service", run="C05")


@breaks("feeders-left-in-use", "the cable of a box that stays disconnected")
def _(job: Job, data: Data) -> Job:
    row = task(data, "tag", "C05")
    row["norm"], row["title"] = "disconnect", "Disconnect C05 at the demarcation point"
    return job.model_copy(update={"boxes": changed(job.boxes, "RT1", run="C05")})


@breaks("held-left-alone", "a cable terminated that a modem synchronises on")
def _(job: Job, data: Data) -> Job:
    check = LineCheck(id="L1", at="MP1", what="modem sync", run="C01", synchronises=True)
    return job.model_copy(update={"line_checks": (check,)})


@breaks("held-left-alone", "a cable terminated that somebody was found to depend on")
def _(job: Job, data: Data) -> Job:
    check = LineCheck(id="L1", at="MP1", what="who depends", run="C01", nobody=False)
    return job.model_copy(update={"line_checks": (check,)})


@breaks("held-left-alone", "a cable terminated that was put back on its line")
def _(job: Job, data: Data) -> Job:
    checks = (
        LineCheck(id="L1", at="MP1", what="disconnected", run="C01", sign_off=SIGNED),
        LineCheck(id="L2", at="MP1", what="reconnected", run="C01", sign_off=SIGNED),
    )
    return job.model_copy(update={"line_checks": checks})


@breaks("held-left-alone", "a cable noted as live terminated")
def _(job: Job, data: Data) -> Job:
    return inside(job, "runs", "C01", state=RunState.LIVE_TELEPHONE)


@breaks("photo-before-undone", "work without any photograph")
def _(job: Job, data: Data) -> None:
    for row in data["order"]:
        if row["norm"] == "photo":
            row["norm"] = "baseline"


@breaks("feeders-left-in-use", "a box taken out of a chain that feeds something beyond")
def _(job: Job, data: Data) -> None:
    row = task(data, "tag", "C05")
    row.update(norm="break_chain", title="Take C05 out of its chain at G-04", because=["C05", "G-04"])
    link(data, "C05.2")["b"] = "AP2"


@breaks("feeders-left-in-use", "the piece of a chain that feeds something tagged as cut off")
def _(job: Job, data: Data) -> None:
    row = task(data, "tag", "C05")
    row.update(title="Tag C05.2 as cut off from the network", because=["C05", "C05.2"])
    link(data, "C05.2")["b"] = "AP2"
