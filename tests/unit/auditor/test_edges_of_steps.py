"""Rules on the order of work, what it touches, and how a plan is read: where each begins to speak."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from math import inf as INF
from math import nan as NAN
from typing import Any

import pytest

from plan_edges import JOB, PLACE, STEPS, Set, about, job, name, plan, step
from rehaul.auditor.devices import set_afresh_told, swaps_told
from rehaul.auditor.order import ends_with_everything, goes_forward, needs_exist, waiting_is_held
from rehaul.auditor.reading import Lacks, RowView
from rehaul.auditor.touch import (
    checked_first,
    feeders_left_in_use,
    held_left_alone,
    photo_first,
    touch_of,
    touched,
    touches_said,
)
from rehaul.auditor.views import before_each, tasks, unique
from rehaul.house import Job, Obligation
from rehaul.house.job import RadioSetting

SITE = "choice.access_points.AP1.site."


def test_steps_need_steps_in_their_order() -> None:
    jack, plate = name("jack", "C01"), name("plate", "U-01")
    assert about(needs_exist) == about(goes_forward) == []
    assert about(needs_exist, (f"{step('plate', 'U-01')}needs", [jack, "T99"])) == [(plate, "T99")]
    assert (jack,) in about(needs_exist, (f"{step('plate', 'U-01')}id", jack))
    circle = about(goes_forward, (f"{step('jack', 'C01')}needs", [plate]))
    assert (jack,) in circle and (plate,) in circle
    last = STEPS[-1]["id"]
    late = about(goes_forward, (f"{step('tag', 'C04')}needs", [name("tag", "C05")]))
    assert late == [(name("tag", "C04"), name("tag", "C05"))]
    assert about(goes_forward, (f"{step('tag', 'C04')}needs", ["T99"])) == []
    earlier = before_each(tasks(RowView(plan())))
    assert (
        earlier[STEPS[0]["id"]] == frozenset() and STEPS[0]["id"] in earlier[last] and jack in earlier[plate]
    )
    assert unique(["b", "a", "b", "c", "a"]) == ["a", "b"]


def test_what_waits_is_held_and_has_no_time() -> None:
    stop = [(f"{step('photo')}stop", True)]
    after = {task.id for task in tasks(RowView(plan())) if STEPS[PLACE["photo", ""]]["id"] in task.needs}
    assert {one[0] for one in about(waiting_is_held, *stop)} == after and about(waiting_is_held) == []
    tag, tone = step("tag", "C04"), step("tone", "C04")
    assert about(waiting_is_held, (f"{tag}held", "x")) != [], "it has a time, and so have those behind it"
    free = [(f"order.{n}.start_min", None) for n in range(len(STEPS))]
    assert about(waiting_is_held, *free, (f"{tag}held", "x")) == []
    timed = about(waiting_is_held, *free, (f"{tone}held", "x"), (f"{tag}start_min", 1.0))
    assert timed == [(name("tag", "C04"), name("tone", "C04"))]


def test_the_last_step_waits_for_all_but_the_survey() -> None:
    assert about(ends_with_everything) == [] and about(ends_with_everything, ("order", [])) == []
    needs = [one for one in STEPS[-1]["needs"] if one != name("tag", "C04")]
    alone = (f"order.{len(STEPS) - 1}.needs", needs)
    assert about(ends_with_everything, alone) == [(name("tag", "C04"),)]
    assert about(ends_with_everything, alone, (f"{step('tag', 'C04')}stage", "trace")) == []
    assert about(ends_with_everything, alone, (f"{step('tag', 'C04')}stop", True)) == []


def test_what_a_kind_of_step_does_to_its_cable() -> None:
    assert [touch_of(norm) for norm in ("jack", "tone", "photo", "juggle")] == [
        "work",
        "probe",
        "none",
        "work",
    ]
    by_id = {
        task.id: task for task in tasks(RowView(plan((f"{step('photo', 'U-01')}touches", ["C03", "XX"]))))
    }
    assert touched(JOB, by_id[name("jack", "C01")]) == ("C01",)
    assert touched(JOB, by_id[name("photo", "U-01")]) == ("C03",) and touched(JOB, by_id[name("gate")]) == ()
    assert about(touches_said) == []
    assert about(touches_said, (f"{step('jack', 'C01')}touches", [])) == [(name("jack", "C01"), "C01")]
    assert about(touches_said, (f"{step('tone', 'C01')}touches", [])) == []


def test_who_depends_on_a_cable_is_asked_before_it_is_touched() -> None:
    owed = job(obligations=(*JOB.obligations, Obligation(id="O2", kind="lift", run="C01")))
    told = about(held_left_alone, job=owed)
    touching = [(name(norm, "C01"), "C01") for norm in ("tone", "qualify", "jack", "panel_port", "test")]
    assert about(held_left_alone) == [] and set(touching) <= set(told)
    held = (f"{step('tone', 'C01')}held", "the lift firm")
    assert about(held_left_alone, held, job=owed) == [], "all else comes after it"
    stop: list[Set] = [(f"{step('live_check', 'C01')}stop", True)]
    assert about(held_left_alone, *stop, job=owed) == []
    other: list[Set] = [*stop, (f"{step('live_check', 'C01')}because", ["O2"])]
    assert about(held_left_alone, *other, job=owed) == [], "for whoever depends on it"
    third: list[Set] = [*stop, (f"{step('live_check', 'C01')}because", ["C05"])]
    assert about(held_left_alone, *third, job=owed) != []


def test_a_cable_is_checked_and_its_box_photographed_before_hands_go_on() -> None:
    assert about(checked_first) == about(photo_first) == []
    loose = (f"{step('tone', 'C01')}needs", [])
    assert (name("tone", "C01"), "C01") in about(checked_first, loose)
    assert (name("tag", "C05"), "C05") not in about(checked_first, loose)
    assert about(photo_first, (f"{step('photo', 'U-01')}because", [])) == [(name("jack", "C01"), "U-01")]
    none = [(f"order.{n}.norm", "gate") for n, one in enumerate(STEPS) if one["norm"] == "photo"]
    assert (name("panel_port", "C01"),) in about(photo_first, *none)
    untouched = (f"{step('jack', 'C01')}touches", [])
    assert (name("jack", "C01"), "U-01") not in about(photo_first, *none, untouched)


@pytest.mark.parametrize(
    ("norm", "title", "told"),
    [
        ("tag", "Tag C01 as spare", True), ("tag", "Tag C01 beyond it", True),
        ("tag", "Tag C01 by its id", False),
        ("tag", "Tag C01 as spare: do NOT cut", False), ("disconnect", "Whatever", True),
        ("break_chain", "Take C01 out of its chain", True), ("break_chain", "Look", False),
        ("jack", "spare", False),
    ],
)  # fmt: skip
def test_what_feeds_something_is_not_put_away(norm: str, title: str, told: bool) -> None:
    tag = step("tag", "C04")
    sets = [(f"{tag}norm", norm), (f"{tag}title", title), (f"{tag}because", ["C01"])]
    assert about(feeders_left_in_use, *sets) == [(name("tag", "C04"), "C01")] * told
    idle = [*sets[:2], (f"{tag}because", ["C05"])]
    assert about(feeders_left_in_use, *idle) == [], "nothing goes over it"
    piece = [*sets[:2], (f"{tag}because", ["C05.1", "C01"])]
    assert about(feeders_left_in_use, *piece) == [], "where a piece is named it is about that alone"


def test_a_line_that_comes_in_on_a_cable_feeds_something() -> None:
    sets = [(f"{step('tag', 'C05')}title", "Tag C05 as spare")]
    line = job(service=JOB.service.model_copy(update={"run": "C05"}))
    assert about(feeders_left_in_use, *sets, job=line) == [(name("tag", "C05"), "C05")]
    fed = job(boxes=tuple(b.model_copy(update={"run": "C05"} if b.id == "RT1" else {}) for b in JOB.boxes))
    assert about(feeders_left_in_use, *sets, job=fed) == [(name("tag", "C05"), "C05")]


def test_a_box_is_set_afresh_where_it_stands_and_narrower_than_planned() -> None:
    def narrow(width: int | None, **changes: Any) -> Job:
        setting = RadioSetting(band="5", channel=36, width_mhz=width)  # type: ignore[arg-type]
        changes = {"set_to": (setting,), **changes}
        return job(boxes=tuple(b.model_copy(update=changes if b.id == "RT1" else {}) for b in JOB.boxes))

    chosen: Set = ("choice.set_afresh", [{"box": "RT1", "words": "x"}])
    told: Set = (f"{step('configure')}because", ["RT1"])
    assert about(set_afresh_told) == []
    assert about(set_afresh_told, chosen, told, job=narrow(40)) == []
    assert about(set_afresh_told, chosen, job=narrow(40)) == [("RT1",)]
    for other in (narrow(80), narrow(None), narrow(40, keep=False), narrow(40, radio=False)):
        assert about(set_afresh_told, chosen, told, job=other) == [("RT1",)]
    idle = ("choice.access_points", [])
    assert about(set_afresh_told, idle) == [(name("configure"),)]
    assert about(set_afresh_told, idle, chosen, told, job=narrow(40)) == []
    assert about(swaps_told) == []
    by_them = (f"{step('tag', 'C04')}by", "household")
    assert about(swaps_told, by_them) == [(name("tag", "C04"),)]


def test_a_plan_is_read_without_trust() -> None:
    shares = [["m", 1], (2, 0.5)]
    values = {"b": [1, 2.5], "c": None, "d": "x", "e": True, "f": shares}
    row = RowView({"a": values, "n": float("inf")})
    assert row.numbers("a", "b") == (1.0, 2.5) and row.point("a", "b") == (1.0, 2.5)
    assert row.text("a", "c") == "" and row.text("a", "d") == "x" and row.flag("a", "e") is True
    assert row.shares("a", "f") == (("m", 1.0), ("2", 0.5))
    there = (("a", "c"), ("a", "d"), ("x",), ("a", "d", "z"))
    assert [row.has(*keys) for keys in there] == [False, True, False, False]
    asked: list[tuple[Callable[[], object], str]] = [
        (lambda: row.number("n"), "n"),
        *[(partial(RowView({"l": [1, 2.5, odd]}).numbers, "l"), "l") for odd in (INF, NAN, True, "1", None)],
        (lambda: row.number("a", "e"), "a.e"),
        (lambda: row.text("a", "b"), "a.b"),
        (lambda: row.flag("a", "d"), "a.d"),
        (lambda: row.names("a", "b"), "a.b"),
        (lambda: row.row("a", "d"), "a.d"),
        (lambda: row.rows("a", "b"), "a.b[0]"),
        (lambda: row.point("a", "f"), "a.f"),
        (lambda: row.text("x", "y"), "x"),
        (lambda: RowView({"p": [1]}, "at").point("p"), "at.p"),
        (lambda: RowView({"s": [[1]]}).shares("s"), "s"),
    ]
    for ask, key in asked:
        with pytest.raises(Lacks) as caught:
            ask()
        assert caught.value.key == key
