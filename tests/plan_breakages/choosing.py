"""Plans broken in the choice."""

from __future__ import annotations

from plan_breakages.how import ap, breaks, pick
from rehaul.house import Job
from sample_plan_data import Data


@breaks("choice-agrees", "an access point whose way was not chosen")
def _(job: Job, data: Data) -> None:
    ap(data, "AP1")["way"] = "ap1 new"


@breaks("choice-agrees", "a cost that its ways do not have")
def _(job: Job, data: Data) -> None:
    data["choice"].update(cost=500.0, bound=500.0)


@breaks("choice-agrees", "ways that do not fit on one coax")
def _(job: Job, data: Data) -> None:
    pick(data["choice"]["problem"]["ways"], "ap2")["loads"] = [["coax C02", 1.4]]


@breaks("front-is-honest", "a point of the front that is too cheap")
def _(job: Job, data: Data) -> None:
    data["choice"]["front"][1]["cost"] = 150.0


@breaks("front-is-honest", "a point of the front that counts wrongly")
def _(job: Job, data: Data) -> None:
    data["choice"]["front"][1]["rooms_served"] = 4


@breaks("proof-holds", "called proven with a gap")
def _(job: Job, data: Data) -> None:
    data["choice"]["bound"] = 400.0


@breaks("proof-holds", "a bound above the cost")
def _(job: Job, data: Data) -> None:
    data["choice"]["bound"] = 700.0


def _chosen(data: Data, cost: float) -> None:
    for row in data["choice"]["front"]:
        row["chosen"] = row["cost"] == cost
    ways = next(row["ways"] for row in data["choice"]["front"] if row["chosen"])
    data["choice"].update(cost=cost, bound=cost, ways=ways)


@breaks("nothing-does-better", "less met than could be")
def _(job: Job, data: Data) -> None:
    _chosen(data, 305.0)


@breaks("nothing-does-better", "doing nothing where more can be met")
def _(job: Job, data: Data) -> None:
    _chosen(data, 0.0)


@breaks("nothing-does-better", "as much for more")
def _(job: Job, data: Data) -> None:
    data["choice"]["ways"] = ["standing", "ap1 new", "ap2", "outlet"]


@breaks("nothing-does-better", "a cheaper choice among many more")
def _(job: Job, data: Data) -> None:
    ways = data["choice"]["problem"]["ways"]
    for number in range(40):  # too many to try all of
        ways.append(
            dict(
                pick(ways, "outlet"), id=f"more{number}", group=f"more{number}", cost=1 + number % 7, ports=0
            )
        )
        data["choice"]["problem"]["counted"][0]["least"] = 12
    data["choice"]["ways"] = ["standing", "ap1", "ap2", *(f"more{n}" for n in range(13))]


@breaks("choice-agrees", "two points of the front chosen")
def _(job: Job, data: Data) -> None:
    data["choice"]["front"][1]["chosen"] = True


@breaks("choice-agrees", "a way chosen that is not in the problem")
def _(job: Job, data: Data) -> None:
    data["choice"]["ways"].append("wonder")


@breaks("choice-agrees", "an access point fed by no way")
def _(job: Job, data: Data) -> None:
    ap(data, "AP1")["way"] = ""


@breaks("front-is-honest", "a point of the front whose ways need what is not there")
def _(job: Job, data: Data) -> None:
    data["choice"]["problem"]["resources"] = []


@breaks("front-is-honest", "a dearer point that serves no more, and is not told as beaten")
def _(job: Job, data: Data) -> None:
    row = data["choice"]["front"][2]
    row.update(rooms=row["rooms"][:2], rooms_served=2)


@breaks("front-is-honest", "a point called beaten that nothing beats")
def _(job: Job, data: Data) -> None:
    data["choice"]["front"][1]["beaten"] = True
