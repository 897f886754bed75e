"""Where a job stands: each state of it has its own honest sentence and its own next action."""

from __future__ import annotations

import copy
import hashlib
from typing import Any

import pytest

from rehaul.house import Acceptance, AcceptedOffer, Gate, Job, Quantity, Reading, RunState, SignOff, Tick
from rehaul.planning import Now, now_of
from rehaul.words import Reader, again
from sample_plan_data import sample_job, sample_plan_data

Data = dict[str, Any]


@pytest.fixture
def job() -> Job:
    """Asked about alarms, every cable known: only plan, quote and work are left."""
    found = sample_job()
    runs = tuple(run.model_copy(update={"state": RunState.DEAD}) for run in found.house.runs)
    house = found.house.model_copy(update={"runs": runs})
    return found.model_copy(update={"house": house, "gate": Gate(asked_about_alarms=True), "ticks": ()})


@pytest.fixture
def plan(job: Job) -> Data:
    """A plan in which every room that needs something gets it."""
    found = copy.deepcopy(sample_plan_data())
    found["choice"]["rooms_met"] = rooms(job)
    for task in found["order"]:
        task |= {"held": "", "minutes": 30.0}
    return found


def rooms(job: Job) -> list[str]:
    return list(dict.fromkeys(need.room for need in job.needs))


def accepted(job: Job, total: float = 777.5) -> Job:
    offer = AcceptedOffer(
        id="Q1",
        option="Good",
        total=total,
        currency="CHF",
        offer="{}",
        sha256=hashlib.sha256(b"{}").hexdigest(),
        sign_off=SignOff(by="Ann", date="2026-01-02", words="Yes"),
    )
    return job.model_copy(update={"accepted_offers": (offer,)})


def ticked(job: Job, plan: Data, count: int | None = None) -> Job:
    keys = [task.get("key") or task["id"] for task in plan["order"]]
    done = tuple(Tick(id=f"k{n}", task=key) for n, key in enumerate(keys[:count]))
    return job.model_copy(update={"ticks": done})


def read(job: Job, stage: str) -> tuple[Reading, ...]:
    """A reading in every room that needs something."""
    return tuple(
        Reading(id=f"a{n}", quantity=Quantity.DOWN_MBPS, value=90, stage=stage, room=room)  # type: ignore[arg-type]
        for n, room in enumerate(rooms(job))
    )


def states(now: Now) -> dict[str, str]:
    return {stage.stage: stage.state for stage in now.stages}


def says(now: Now, stage: str) -> str:
    return next(one.words for one in now.stages if one.stage == stage)


def test_rooms_served_today_are_those_where_everything_stays(job: Job, plan: Data) -> None:
    """By the choice, which counts wired outlets; not by a change that happens to cost nothing."""
    free = copy.deepcopy(plan["choice"]["front"][0]) | {"nothing": False, "rooms_served": 2}
    plan["choice"]["front"] = [free, free | {"nothing": True, "rooms_served": 1}]
    assert now_of(job, plan).figures.served_today == 1
    by_rates = sum(row["met"] for row in plan["before"] if row["room"] in rooms(job))
    plan["choice"]["front"] = [free]
    assert now_of(job, plan).figures.served_today == by_rates


def test_nothing_drawn() -> None:
    now = now_of(Job(id="j", title="Empty"), None)
    assert now.sentence == "Nothing of the house is drawn yet."
    assert (now.next.words, now.next.page) == ("Draw the house", "house")
    assert set(states(now).values()) == {"to do"}
    assert now.figures.served_today is None and now.figures.price is None


def test_rooms_that_need_nothing_yet(job: Job) -> None:
    now = now_of(job.model_copy(update={"needs": ()}), None)
    assert "nobody has said what" in now.sentence
    assert (now.next.words, now.next.page) == ("Say what the rooms need", "coverage")


def test_no_plan_says_nothing_of_rates(job: Job) -> None:
    now = now_of(job, None)
    assert "no plan is made of it yet" in now.sentence
    assert now.figures.served_today is None and now.figures.served_after is None
    assert now.figures.rooms == len(rooms(job))
    assert now.next.words == "Work out the plan"


def test_a_refused_plan_says_why(job: Job) -> None:
    now = now_of(job, None, "No place for an access point is left")
    assert now.sentence == "No plan can be made: No place for an access point is left."
    assert states(now)["coverage"] == "held"
    assert now.next.page == "coverage" and now.next.why == "No place for an access point is left"


def test_a_plan_that_serves_all(job: Job, plan: Data) -> None:
    now = now_of(job, plan)
    assert now.sentence.endswith(("will serve all of them.", "will serve it."))
    assert now.figures.served_after == len(rooms(job))
    assert now.figures.price == plan["takeoff"]["quote"]["total"]
    assert now.figures.visits == max(task["visit"] for task in plan["order"])
    assert (now.next.words, now.next.page) == ("Send the quote", "quote")
    assert states(now)["coverage"] == "done" and states(now)["quote"] == "under way"


def test_a_plan_that_falls_short_names_the_room_and_never_says_all(job: Job, plan: Data) -> None:
    lost = rooms(job)[-1]
    plan["choice"]["rooms_met"].remove(lost)
    now = now_of(job, plan)
    name = next(room.name for room in job.house.rooms if room.id == lost)
    assert name in now.sentence and "all" not in now.sentence.split()
    assert now.figures.served_after == len(rooms(job)) - 1
    assert (now.next.words, now.next.page) == ("See what falls short", "coverage")
    assert name in now.next.why
    assert states(now)["coverage"] != "done"


def test_nothing_that_helps_is_not_nothing_to_do(job: Job, plan: Data) -> None:
    plan["order"], plan["choice"]["rooms_met"] = [], []
    now = now_of(job, plan)
    assert "Nothing that may be done here helps" in now.sentence
    assert states(now)["quote"] == "under way"


def test_nothing_needs_doing(job: Job, plan: Data) -> None:
    plan["order"] = []
    plan["takeoff"]["quote"]["total"] = 0.0
    now = now_of(job, plan)
    assert now.sentence.endswith("Nothing has to be done.")
    assert now.figures.price == 0.0 and now.figures.minutes == 0
    assert (now.next.words, now.next.page) == ("Measure what the rooms get", "tests")
    assert states(now)["work"] == "done"


def test_cables_nobody_has_tested_come_before_the_quote(job: Job, plan: Data) -> None:
    first, *rest = job.house.runs
    runs = (first.model_copy(update={"state": RunState.UNKNOWN}), *rest)
    now = now_of(job.model_copy(update={"house": job.house.model_copy(update={"runs": runs})}), plan)
    assert (now.next.words, now.next.page) == ("Find out which cables are live", "cables")
    assert says(now, "cables") == f"{len(rest)} of {len(rest) + 1}"
    assert now.figures.held >= 1


def test_alarms_are_asked_about_first(job: Job, plan: Data) -> None:
    now = now_of(job.model_copy(update={"gate": Gate()}), plan)
    assert now.next.words == "Ask about alarms and pendants"


def test_an_accepted_offer_changes_sentence_next_and_price(job: Job, plan: Data) -> None:
    now = now_of(accepted(job), plan)
    assert now.sentence.startswith("An offer of 777.50 CHF is accepted. 0 of ")
    assert (now.figures.price, now.figures.currency) == (777.5, "CHF")
    assert (now.next.words, now.next.page) == ("Begin the work", "work")
    assert plan["order"][0]["title"] in now.next.why
    assert states(now)["quote"] == "done"


def test_ticked_steps_move_the_work_on(job: Job, plan: Data) -> None:
    now = now_of(ticked(accepted(job), plan, 1), plan)
    assert f"1 of {len(plan['order'])} steps" in now.sentence
    assert now.next.words == "Go on with the work"
    assert plan["order"][1]["title"] in now.next.why
    assert states(now)["work"] == "under way"


def test_work_of_which_only_held_steps_are_left(job: Job, plan: Data) -> None:
    for task in plan["order"][1:]:
        task["held"] = "The alarm needs a sign-off"
    now = now_of(ticked(accepted(job), plan, 1), plan)
    assert states(now)["work"] == "held"
    assert (now.next.page, now.next.why) == ("cables", "The alarm needs a sign-off")


def test_after_the_work_it_is_measured_and_then_handed_over(job: Job, plan: Data) -> None:
    done = ticked(accepted(job), plan)
    now = now_of(done, plan)
    assert "The work is done." in now.sentence
    assert (now.next.words, now.next.page) == ("Measure after the work", "tests")
    assert states(now)["work"] == "done" and states(now)["handover"] == "to do"
    readings = read(job, "after")
    now = now_of(done.model_copy(update={"readings": readings[1:]}), plan)
    assert says(now, "tests") == f"{len(readings) - 1} of {len(readings)}"
    now = now_of(done.model_copy(update={"readings": readings}), plan)
    assert (now.next.words, now.next.page) == ("Hand the record over", "handover")
    assert states(now)["tests"] == "done" and says(now, "handover") == "ready"


def test_a_signed_failure_is_said_until_a_pass_is_signed(job: Job, plan: Data) -> None:
    room = next(room for room in job.house.rooms if room.id == rooms(job)[0])
    line = Acceptance(id="L1", about=room.id, result="fail")
    done = ticked(accepted(job), plan).model_copy(update={"acceptance": (line,)})
    now = now_of(done, plan)
    assert room.name in now.sentence and "fails" in now.sentence
    assert (now.next.words, now.next.page) == ("Look at what failed", "tests")
    mended = done.model_copy(update={"acceptance": (line, Acceptance(id="L2", about=room.id, result="pass"))})
    assert now_of(mended, plan).next.words != "Look at what failed"


def test_a_reading_before_the_work_proves_nothing_after(job: Job, plan: Data) -> None:
    done = ticked(accepted(job), plan)
    now = now_of(done.model_copy(update={"readings": read(job, "before")}), plan)
    assert states(now)["tests"] == "to do"


def test_french(job: Job, plan: Data) -> None:
    now = again(now_of(accepted(job), plan), Reader("fr"))
    assert now.sentence.startswith("Une offre de 777,50")
    assert now.next.words == "Commencer les travaux"


def test_a_room_that_came_after_the_plan_is_not_served_by_it(job: Job, plan: Data) -> None:
    fresh = job.house.rooms[0].model_copy(update={"id": "R99", "name": "New room"})
    house = job.house.model_copy(update={"rooms": (*job.house.rooms, fresh)})
    need = job.needs[0].model_copy(update={"id": "n99", "room": "R99"})
    now = now_of(job.model_copy(update={"house": house, "needs": (*job.needs, need)}), plan)
    assert now.figures.served_after == now.figures.rooms - 1
    assert "New room" in now.sentence
