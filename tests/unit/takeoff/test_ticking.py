"""A step is ticked off after those that come first, never past a hold, and its tick outlives the plan."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.errors import BadInput, Held
from rehaul.house import Decision, House, Job, Run, RunState, SignOff, Storey, Tick
from rehaul.takeoff import require_ticks_ready, tick_back, tick_off, tick_rows, ticked
from rehaul.takeoff.results import Task
from rehaul.takeoff.ticking import LONGEST_DESPITE, OutOfOrder, despite_words


def step(number: int, *needs: int, held: str = "", touches: tuple[str, ...] = ()) -> Task:
    return Task(
        id=f"T{number:02d}",
        key=f"key:{number}",
        title=f"Step {number}",
        stage="run",
        visit=1,
        place="Hall",
        minutes=5,
        needs=tuple(f"T{need:02d}" for need in needs),
        held=held,
        touches=touches,
    )


ORDER = (step(1), step(2, 1), step(3, 1), step(4, 2, 3), step(5, held="Held: C1: an alarm is on it. Ring."))
DEAD = SignOff(by="Ann", date="2026-11-01", words="tested dead")
JOB = Job(
    id="j",
    title="J",
    house=House(
        storeys=(Storey(id="g", name="Ground", elevation_m=0),),
        runs=(Run(id="C1", ends=("unknown", "unknown"), state=RunState.ALARM),),
    ),
)


def done(*names: str, **more: Any) -> Job:
    job = JOB
    for name in names:
        job = tick_off(job, ORDER, name, by="Ann", **more)
    return job


def test_in_order_nothing_is_asked() -> None:
    job = done("T01", "key:2", "T03", "T04")
    assert list(ticked(job)) == ["key:1", "key:2", "key:3", "key:4"]
    assert len({tick.id for tick in job.ticks}) == 4
    assert [tick.despite for tick in job.ticks] == ["", "", "", ""]


def test_the_last_step_first_is_refused_by_name() -> None:
    with pytest.raises(OutOfOrder) as caught:
        done("T04")
    assert str(caught.value).startswith("work: T04 Step 4 comes after T02 Step 2, T03 Step 3, not ticked off")
    with pytest.raises(OutOfOrder, match="comes after T03 Step 3, not"):
        done("T01", "T02", "T04")


def test_going_ahead_knowingly_is_recorded() -> None:
    job = done("T04", despite=True)
    assert job.ticks[0].despite == "T02 Step 2, T03 Step 3"
    assert done("T01", despite=True).ticks[0].despite == "", "nothing was open"


def test_what_is_held_is_refused_whatever_is_said() -> None:
    for despite in (False, True):
        with pytest.raises(Held, match="an alarm is on it"):
            done("T05", despite=despite)


def test_a_hold_recorded_after_the_plan_counts_at_once() -> None:
    order = (step(1, touches=("C1",)),)
    with pytest.raises(Held, match="C1: an alarm is on it"):
        tick_off(JOB, order, "T01", by="Ann")
    free = JOB.model_copy(update={"decisions": (Decision(id="D1", run="C1", sign_off=DEAD),)})
    assert ticked(tick_off(free, order, "T01", by="Ann"))


def test_twice_and_nowhere_and_back() -> None:
    with pytest.raises(BadInput, match="ticked off already, by Ann"):
        done("T01", "T01")
    with pytest.raises(BadInput, match="The steps are T01 to T05"):
        done("T99")
    job = tick_back(done("T01", "T02"), ORDER, "T02")
    assert list(ticked(job)) == ["key:1"]
    with pytest.raises(BadInput, match="is not ticked off"):
        tick_back(job, ORDER, "T02")


def test_a_tick_outlives_its_step_and_can_be_taken_back() -> None:
    old = Tick(id="TKx", task="jack:C9", by="Ben")
    job = done("T01").model_copy(update={"ticks": (old, *done("T01").ticks)})
    rows = tick_rows(job, ORDER)
    assert [(row.tick.task, row.task.id if row.task else None) for row in rows] == [
        ("key:1", "T01"),
        ("jack:C9", None),
    ]
    assert list(ticked(tick_back(job, ORDER, "jack:C9"))) == ["key:1"]


def test_the_same_rule_for_an_edit() -> None:
    def put(number: int, **more: str) -> dict[str, Any]:
        return {"do": "put", "kind": "tick", "entity": {"id": f"t{number}", "task": f"key:{number}", **more}}

    require_ticks_ready(JOB, ORDER, [put(1), put(2), put(3), put(4)])
    require_ticks_ready(JOB, ORDER, [put(4, despite="T02 Step 2")])
    require_ticks_ready(JOB, ORDER, [put(77), {"do": "drop", "kind": "wall", "id": "w1"}])
    for bad in (
        [put(4)],
        [put(1), {"do": "drop", "kind": "tick", "id": "t0"}, put(4)],
        [{"do": "set", "kind": "tick", "id": "t0", "fields": {"task": "key:2"}}],
    ):
        with pytest.raises(OutOfOrder):
            require_ticks_ready(JOB, ORDER, bad)
    with pytest.raises(Held):
        require_ticks_ready(JOB, ORDER, [put(5, despite="said so")])
    ticked_first = done("T01")
    gone = {"do": "drop", "kind": "tick", "id": ticked_first.ticks[0].id}
    with pytest.raises(OutOfOrder):
        require_ticks_ready(ticked_first, ORDER, [gone, put(2)])


def test_what_was_open_is_cut_to_what_fits() -> None:
    many = tuple(step(number) for number in range(1, 400))
    said = despite_words(many)
    assert len(said) <= LONGEST_DESPITE and said.endswith("more")
    assert Tick(id="t", task="x", despite=said).despite == said
