"""Plans broken in continuity and in old cable."""

from __future__ import annotations

from plan_breakages.how import ap, breaks, changed, drop, house, inside, link, node, pick, task
from rehaul.house import Job, Obligation, Run
from sample_plan_data import Data


@breaks("graph-whole", "a link that ends nowhere")
def _(job: Job, data: Data) -> None:
    link(data, "NC1")["b"] = "N9"


@breaks("graph-whole", "two cables of one id")
def _(job: Job, data: Data) -> None:
    data["graph"]["after"]["links"].append(dict(link(data, "C01")))


@breaks("drawn-where-it-is", "an access point drawn in another place")
def _(job: Job, data: Data) -> None:
    node(data, "AP1")["position"] = [3.0, 3.0]


@breaks("comes-to-the-panel", "a chain's far piece terminated at the panel")
def _(job: Job, data: Data) -> None:
    task(data, "panel_port", "C01")["because"] = ["C05.2"]


@breaks("comes-to-the-panel", "a cable on the panel that never comes to the closet")
def _(job: Job, data: Data) -> Job:
    return inside(job, "runs", "C01", ends=("G-04", "U-01"))


@breaks("fed-at-an-end", "an access point at a plate its cable does not reach")
def _(job: Job, data: Data) -> None:
    ap(data, "AP1")["site"]["id"] = "U-03"


@breaks("pieces-join", "a link drawn to a plate where the cable does not surface")
def _(job: Job, data: Data) -> None:
    link(data, "C01")["b"] = "U-03"


@breaks("copper-used-once", "one pair used for two links")
def _(job: Job, data: Data) -> None:
    again = dict(link(data, "C05.1")) | {"id": "C05", "b": "U-03"}
    data["graph"]["after"]["links"].append(again)


@breaks("copper-reach", "a new cable too long for copper")
def _(job: Job, data: Data) -> None:
    link(data, "NC1")["length_m"] = 130.0


@breaks("verdict-before-promise", "an old pair counted on that is only worth a try")
def _(job: Job, data: Data) -> None:
    data["cabling"][0]["ethernet"][1]["band"] = "try it"


@breaks("verdict-before-promise", "an old pair counted on without a verdict")
def _(job: Job, data: Data) -> None:
    drop(data["cabling"], "C01", "run")


@breaks("verdict-before-promise", "a piece of a cable counted on at a poor chance")
def _(job: Job, data: Data) -> Job:
    link(data, "C01").update(pieces=["C01.1"], chance=0.3)
    return house(job, runs=changed(job.house.runs, "C01", ends=("MP1", "U-01", "U-03")))


@breaks("unknown-not-fast", "10 Gb/s to be tried on a cable nobody knows")
def _(job: Job, data: Data) -> None:
    pick(data["cabling"], "C04", "run")["ethernet"].append(
        {"rate_mbps": 10000.0, "band": "try it", "chance": 0.2, "lifted_chance": 0.0}
    )


@breaks("coax-fit-for-data", "an adapter at one end only")
def _(job: Job, data: Data) -> None:
    node(data, "AD1")["kind"] = "switch"


@breaks("coax-fit-for-data", "a splitter for television alone")
def _(job: Job, data: Data) -> Job:
    return inside(job, "splitters", "SP1", passes_mhz=1000.0)


@breaks("coax-fit-for-data", "an amplifier on the way")
def _(job: Job, data: Data) -> Job:
    return inside(job, "splitters", "SP1", amplifier=True)


@breaks("coax-fit-for-data", "data that leave the house over the coax")
def _(job: Job, data: Data) -> Job:
    out = Run(id="C09", ends=("SP1", "unknown"), kind="coax")
    return house(job, entry_filter=False, runs=(*job.house.runs, out))


@breaks("coax-fit-for-data", "a splitter of which nobody knows what it passes")
def _(job: Job, data: Data) -> Job:
    return inside(job, "splitters", "SP1", passes_mhz=None)


@breaks("coax-fit-for-data", "satellite television on the same tree")
def _(job: Job, data: Data) -> Job:
    dish = Run(id="C09", ends=("SP1", "G-04"), kind="coax")
    held = Obligation(id="O9", kind="satellite", run="C09")
    more = house(job, runs=(*job.house.runs, dish))
    return more.model_copy(update={"obligations": (*job.obligations, held)})


@breaks("graph-whole", "an old cable that is not in the house")
def _(job: Job, data: Data) -> None:
    link(data, "C03")["run"] = "C99"


@breaks("drawn-where-it-is", "an access point that is not drawn")
def _(job: Job, data: Data) -> None:
    drop(data["graph"]["after"]["nodes"], "AP1")


@breaks("fed-at-an-end", "an access point on a cable that is not in the house")
def _(job: Job, data: Data) -> None:
    ap(data, "AP1")["site"]["run"] = "C99"


@breaks("pieces-join", "two pieces joined that share no box")
def _(job: Job, data: Data) -> None:
    link(data, "C01")["pieces"] = ["C01", "C05.2"]


@breaks("pieces-join", "a piece that no cable of the house has")
def _(job: Job, data: Data) -> None:
    link(data, "C05.2")["pieces"] = ["C05.7"]


@breaks("fed-at-an-end", "an access point at a box in the middle of a joined chain")
def _(job: Job, data: Data) -> None:
    link(data, "C01").update(run="C05", pieces=["C05.1", "C05.2"], b="U-03")
    ap(data, "AP1")["site"].update(id="G-04", run="C05")


@breaks("comes-to-the-panel", "a port on the panel for a piece from the middle of a chain")
def _(job: Job, data: Data) -> None:
    data["network"]["ports"][1]["link"] = "C05.2"
