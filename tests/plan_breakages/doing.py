"""Plans broken in order of work."""

from __future__ import annotations

from plan_breakages.how import breaks, task
from rehaul.house import Job
from sample_plan_data import Data


@breaks("needs-exist", "a step that needs one that is not there")
def _(job: Job, data: Data) -> None:
    task(data, "configure")["needs"].append("T99")


@breaks("needs-exist", "two steps of one name")
def _(job: Job, data: Data) -> None:
    data["order"][5]["id"] = data["order"][4]["id"]


@breaks("order-goes-forward", "a round of steps")
def _(job: Job, data: Data) -> None:
    task(data, "gate")["needs"] = [task(data, "handover")["id"]]


@breaks("order-goes-forward", "a step before what it needs")
def _(job: Job, data: Data) -> None:
    rows = data["order"]
    rows.insert(0, rows.pop(rows.index(task(data, "bond"))))


@breaks("waiting-is-held", "a step behind a stop point that is not held")
def _(job: Job, data: Data) -> None:
    task(data, "photo")["stop"] = True


@breaks("waiting-is-held", "a held step with a time")
def _(job: Job, data: Data) -> None:
    task(data, "jack", "C01")["held"] = "the owner has not signed"


@breaks("ends-with-everything", "a handover before the last tag")
def _(job: Job, data: Data) -> None:
    task(data, "handover")["needs"].remove(task(data, "tag", "C05")["id"])


@breaks("installed-not-without", "an access point that is told to go without")
def _(job: Job, data: Data) -> None:
    data["drops"][0].update(steps=[], words="No way is worth trying here: go without a cable.")


@breaks("drops-agree", "a drop about another cable")
def _(job: Job, data: Data) -> None:
    data["drops"][0]["run"] = "C05"


@breaks("drops-agree", "fishing between storeys within one")
def _(job: Job, data: Data) -> None:
    data["drops"][1]["steps"][0].update(way="new cable", title="Fish a new cable between storeys")


@breaks("drops-agree", "a drop that tries an old cable and has none")
def _(job: Job, data: Data) -> None:
    data["drops"][2]["steps"][0].update(way="reuse", title="Use the old cable as it is")
