"""Plans broken in parts and tasks and in ids and labels."""

from __future__ import annotations

from plan_breakages.how import breaks, drop, node, part, pick, task
from rehaul.house import Job
from sample_plan_data import Data


@breaks("new-is-bought", "adapters that nobody buys")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["parts"], "coax_adapter", "item")
    part(data, "cord_050")["because"] = ["RT1", "SW1"]


@breaks("new-is-bought", "a new cable that nobody buys")
def _(job: Job, data: Data) -> None:
    for row in data["takeoff"]["parts"]:
        row["because"] = [name for name in row["because"] if name not in ("NC1", "N1")]


@breaks("new-is-put-in", "adapters that nobody fits")
def _(job: Job, data: Data) -> None:
    task(data, "coax_adapter", "AD1")["because"] = ["C02"]


@breaks("cords-bought", "a cord that nobody buys")
def _(job: Job, data: Data) -> None:
    for row in data["takeoff"]["parts"]:
        row["because"] = [name for name in row["because"] if name not in ("AD2", "AP2")]


@breaks("tasks-have-parts", "a plate without a plate")
def _(job: Job, data: Data) -> None:
    part(data, "plate")["because"] = ["NC1"]


@breaks("tasks-have-parts", "a hole through a floor without sealant")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["parts"], "fire_seal", "item")


@breaks("tasks-priced", "a step that nobody is paid for")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["labour"], "jack", "norm")


@breaks("tasks-priced", "minutes for a step that is not there")
def _(job: Job, data: Data) -> None:
    data["order"].remove(task(data, "bond"))


@breaks("access-points-counted", "three access points bought for two")
def _(job: Job, data: Data) -> None:
    part(data, "access point HE 2x2")["need"] = 3


@breaks("rack-bought", "a battery in the rack that nobody buys")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["parts"], "battery 12 V 9 Ah", "item")


@breaks("nothing-idle", "tags for a cable that is not there")
def _(job: Job, data: Data) -> None:
    part(data, "tag")["because"] = ["C77"]


@breaks("cut-for-each-cable", "a new cable that nobody cuts")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["cuts"], "NC1")


@breaks("cut-for-each-cable", "a cable cut too short")
def _(job: Job, data: Data) -> None:
    pick(data["takeoff"]["cuts"], "NC1")["length_m"] = 8.0


@breaks("cut-for-each-cable", "one cable with two names")
def _(job: Job, data: Data) -> None:
    pick(data["takeoff"]["cuts"], "NC1")["id"] = "P1"


@breaks("cable-enough", "too little cable bought")
def _(job: Job, data: Data) -> None:
    part(data, "cable_cat6")["quantity"] = 9


@breaks("one-id", "the port map calls the new cable otherwise")
def _(job: Job, data: Data) -> None:
    data["network"]["ports"][3]["run"] = "P1"


@breaks("labels-stand", "a label for something that is not there")
def _(job: Job, data: Data) -> None:
    data["labels"].append({"id": "N2", "on": "plate", "place": "Kitchen"})


@breaks("labels-on-schedule", "a labelled cable that is on no schedule")
def _(job: Job, data: Data) -> None:
    drop(data["cabling"], "C01", "run")


@breaks("labels-on-schedule", "a labelled cable that is terminated and not tested")
def _(job: Job, data: Data) -> None:
    data["order"].remove(task(data, "test", "NC1"))


@breaks("used-is-tested", "a cable put to use without a test")
def _(job: Job, data: Data) -> None:
    task(data, "test", "C02")["because"] = ["C01"]


@breaks("used-is-tested", "a cable put to use without a label")
def _(job: Job, data: Data) -> None:
    drop(data["labels"], "C01")


@breaks("tasks-priced", "a step of a kind that nobody knows")
def _(job: Job, data: Data) -> None:
    task(data, "bond")["norm"] = "wonder"


@breaks("tasks-priced", "a step of the household's own of a kind that nobody knows")
def _(job: Job, data: Data) -> None:
    task(data, "bond").update(norm="wonder", by="household")


@breaks("nothing-idle", "fewer jacks bought than used")
def _(job: Job, data: Data) -> None:
    part(data, "jack")["quantity"] = 2


@breaks("new-is-bought", "a small switch that nobody buys")
def _(job: Job, data: Data) -> None:
    data["graph"]["after"]["nodes"].append(dict(node(data, "SW1"), id="sw-G-04", name="small switch"))


@breaks("cable-enough", "fibre bought where copper is cut")
def _(job: Job, data: Data) -> None:
    part(data, "cable_cat6")["item"] = "cable_fibre"
