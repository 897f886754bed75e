"""Plans broken in paths and in power."""

from __future__ import annotations

from plan_breakages.how import SIGNED, ap, breaks, changed, drop, inside, link, node, path, step
from rehaul.house import Decision, Job, RunState
from sample_plan_data import Data


@breaks("path-for-each", "an access point without a path")
def _(job: Job, data: Data) -> None:
    drop(data["paths"], "AP2", "to")


@breaks("path-for-each", "an outlet without a path")
def _(job: Job, data: Data) -> None:
    drop(data["paths"], "N1", "to")


@breaks("path-for-each", "a path to what the plan does not give")
def _(job: Job, data: Data) -> None:
    data["paths"].append(dict(path(data, "AP1"), to="AP9"))


@breaks("path-from-street", "a path that starts at the switch")
def _(job: Job, data: Data) -> None:
    del path(data, "AP1")["links"][:3]


@breaks("path-from-street", "a path with a gap")
def _(job: Job, data: Data) -> None:
    drop(path(data, "AP1")["links"], "cord-P02")


@breaks("path-from-street", "a path that ends at the plate")
def _(job: Job, data: Data) -> None:
    drop(path(data, "AP1")["links"], "cord-AP1")


@breaks("path-links-stand", "a path over a link that nobody has")
def _(job: Job, data: Data) -> None:
    drop(data["graph"]["after"]["links"], "C02.1")


@breaks("path-links-stand", "a path that counts on more than the link gives")
def _(job: Job, data: Data) -> None:
    step(data, "AP1", "C01")["rate_mbps"] = 2353.0


@breaks("path-links-stand", "a path over a shared coax as if it were its own")
def _(job: Job, data: Data) -> None:
    step(data, "AP2", "C02.2")["shares"] = ""


@breaks("path-links-stand", "a path that is surer of a link than the link is")
def _(job: Job, data: Data) -> None:
    step(data, "AP1", "C01")["chance"] = 1.0


@breaks("path-links-stand", "a path that counts on more power than the link passes")
def _(job: Job, data: Data) -> None:
    step(data, "AP2", "C02.1")["poe_class"] = 4


@breaks("path-links-usable", "an old cable that is held")
def _(job: Job, data: Data) -> None:
    link(data, "C01")["held"] = "an alarm depends on it"


@breaks("path-links-usable", "an old cable that an alarm is on")
def _(job: Job, data: Data) -> Job:
    return job.model_copy(update={"obligations": changed(job.obligations, "O1", run="C01")})


@breaks("path-links-usable", "an old cable whose far end was never found")
def _(job: Job, data: Data) -> None:
    link(data, "C01")["run"] = "C04"


@breaks("path-links-usable", "an old cable through another household")
def _(job: Job, data: Data) -> Job:
    return inside(job, "rooms", "rG1", household="lodgers")


@breaks("path-links-usable", "a cable that is said to stand and does not")
def _(job: Job, data: Data) -> None:
    link(data, "NC1")["age"] = "kept"


@breaks("path-weakest-link", "more promised than the provider's line brings")
def _(job: Job, data: Data) -> None:
    path(data, "AP1")["rate_mbps"] = 800.0


@breaks("path-weakest-link", "surer than its least sure link")
def _(job: Job, data: Data) -> None:
    path(data, "AP1")["chance"] = 1.0


@breaks("path-weakest-link", "another link called the narrowest")
def _(job: Job, data: Data) -> None:
    path(data, "AP1")["narrowest"] = "C01"


@breaks("path-weakest-link", "a link of another path called the narrowest")
def _(job: Job, data: Data) -> None:
    path(data, "AP1")["narrowest"] = "NC1"


@breaks("shared-medium-fits", "two access points promised a coax that holds one")
def _(job: Job, data: Data) -> None:
    for where in (link(data, "C01"), step(data, "AP1", "C01")):
        where["shares"] = "coax C02"
        where["rate_mbps"] = 700.0


@breaks("shared-medium-fits", "a pair that takes long turns counted as if it were as fast as the other")
def _(job: Job, data: Data) -> None:
    for name, ap_id, rate in (("C01", "AP1", 5000.0), ("C02.2", "AP2", 480.0)):
        for where in (link(data, name), step(data, ap_id, name)):
            where["shares"] = "coax C02"
            where["rate_mbps"] = rate


@breaks("power-to-access-points", "power that does not pass an old cable")
def _(job: Job, data: Data) -> None:
    link(data, "C01")["poe_class"] = 0


@breaks("power-to-access-points", "an access point on a wireless hop, without mains")
def _(job: Job, data: Data) -> None:
    link(data, "cord-AP2")["medium"] = "wireless hop"
    ap(data, "AP2")["supply"] = False


@breaks("switch-holds", "more watts than the switch has")
def _(job: Job, data: Data) -> None:
    data["network"]["ports"][2]["poe_w"] = 45.0


@breaks("switch-holds", "two plugs in one port")
def _(job: Job, data: Data) -> None:
    data["network"]["ports"][1]["port"] = 1


@breaks("switch-holds", "a budget that the class does not have")
def _(job: Job, data: Data) -> None:
    data["network"]["poe_budget_w"] = 120.0


@breaks("mains-where-needed", "an adapter where there is no socket")
def _(job: Job, data: Data) -> Job:
    return inside(job, "outlets", "G-01", mains=False)


@breaks("path-for-each", "an access point with two paths")
def _(job: Job, data: Data) -> None:
    data["paths"].append(dict(path(data, "AP1")))


@breaks("path-links-usable", "a link of no known age")
def _(job: Job, data: Data) -> None:
    link(data, "NC1")["age"] = "odd"


@breaks("path-links-usable", "an old cable noted as live, with nobody named behind it")
def _(job: Job, data: Data) -> Job:
    decided = Decision(id="E1", run="C01", sign_off=SIGNED)
    live = inside(job, "runs", "C01", state=RunState.LIVE_TELEPHONE)
    return live.model_copy(update={"decisions": (decided,)})


@breaks("path-links-usable", "an old cable that is not in the house")
def _(job: Job, data: Data) -> None:
    link(data, "C01")["run"] = "C99"


@breaks("power-to-access-points", "an access point behind a router that gives no power")
def _(job: Job, data: Data) -> None:
    node(data, "SW1")["kind"] = "router"
    for row in data["graph"]["after"]["links"]:
        row["poe_class"] = 8


@breaks("switch-holds", "a switch of a class that nobody knows")
def _(job: Job, data: Data) -> None:
    data["network"]["switch"] = "wonder switch"


@breaks("switch-holds", "more cords than ports")
def _(job: Job, data: Data) -> None:
    data["network"]["ports"] += [dict(data["network"]["ports"][2], port=number) for number in range(5, 12)]


@breaks("switch-holds", "a device that asks for more than a port gives")
def _(job: Job, data: Data) -> None:
    data["network"]["ports"][1]["poe_class"] = 6


@breaks("supplies-bought", "an access point with a supply that nobody buys")
def _(job: Job, data: Data) -> None:
    drop(data["takeoff"]["parts"], "mains_supply", "item")


@breaks("mains-where-needed", "an access point on a supply where there is no socket")
def _(job: Job, data: Data) -> Job:
    ap(data, "AP1")["supply"] = True
    return inside(job, "outlets", "U-01", mains=False)


@breaks("path-links-usable", "a joined row with a cable in it that an alarm is on")
def _(job: Job, data: Data) -> Job:
    link(data, "C01")["pieces"] = ["C01", "C05.1"]
    return job.model_copy(update={"obligations": changed(job.obligations, "O1", run="C05")})


@breaks("mains-where-needed", "an adapter where there is no socket, its access point fed otherwise")
def _(job: Job, data: Data) -> Job:
    ap(data, "AP2")["supply"] = False
    return inside(job, "outlets", "G-01", mains=False)


@breaks("mains-where-needed", "a small switch where there is no socket")
def _(job: Job, data: Data) -> Job:
    data["graph"]["after"]["nodes"].append(dict(node(data, "SW1"), id="sw-U-01"))
    data["graph"]["after"]["links"].append(dict(link(data, "cord-AP1"), id="cord-sw", b="sw-U-01"))
    return inside(job, "outlets", "U-01", mains=False)


@breaks("mains-where-needed", "an end of a wireless hop where there is no socket")
def _(job: Job, data: Data) -> Job:
    link(data, "cord-AP1")["medium"] = "wireless hop"
    return inside(job, "outlets", "U-01", mains=False)


@breaks("power-to-access-points", "an injector that is another access point's")
def _(job: Job, data: Data) -> None:
    link(data, "C01")["poe_class"] = 0
    bought = dict(data["takeoff"]["parts"][0], item="injector", because=["AP2"])
    data["takeoff"]["parts"].append(bought)
