"""One small quote worked by hand, every figure; which boxes are photographed; which offer is the better."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest

from plans_once import made_plan
from rehaul.design.results import FrontPoint
from rehaul.facts.work import labour as norms
from rehaul.house import Job
from rehaul.house.job import Choices
from rehaul.jobs import open_job
from rehaul.planning import Plan
from rehaul.takeoff import Quote, QuoteOption
from rehaul.takeoff.labour import labour, total_minutes
from rehaul.takeoff.offers import named
from rehaul.takeoff.price import Costs, option, quote
from rehaul.takeoff.results import Task
from rehaul.takeoff.scope import Scope, opened_boxes
from rehaul.takeoff.spread import sum_of

EXAMPLES = Path(__file__).parents[3] / "examples"
RATE = 80.0  # an hour
JOB = Job(
    id="j",
    title="Invented",
    date="2026-11-16",
    currency="EUR",
    choices=Choices(labour_per_h=RATE, margin_pct=20, tax_pct=10),
)
# Parts: 2 plates at 12.50 and a coil of cable at 75.00 are 100.00.
PARTS = 2 * 12.5 + 75.0
# Time: 4 tasks of 15 minutes sharp are 60; one of 30 that takes up to 60 in nine jobs of ten. What is sharp
# only moves what is not: 60 + 30 = 90 at the middle, 60 + 60 = 120 in nine jobs of ten.
MINUTES, MINUTES_90 = 90.0, 120.0
# Labour: 90 min are 1.5 h at 80.00, so 120.00; 120 min are 2 h, so 160.00.
# Before tax the price is (100 + 120) / (1 - 0.20) = 275.00; the margin is 20 % of that, 55.00.
# Tax 10 % of 275.00 is 27.50, the total 302.50. In nine jobs of ten: 260 / 0.8 = 325.00 and 32.50, so 357.50.
# Deposit 30 % of 302.50 is 90.75. It holds 30 days: 16 November + 30 days is 16 December.


def empty_scope(job: Job) -> Scope:
    """No cable and no box: what is priced comes from outside."""
    nothing: Any = SimpleNamespace(
        access_points=(), outlets=(), set_afresh=(), devices=(), shortfalls=(), candidates=()
    )
    return Scope(job, nothing, cast(Any, None), cast(Any, None), (), (), (), (), (), None, ())


def test_minutes_that_are_sharp_move_the_others() -> None:
    assert sum_of([(4, 15, 15), (1, 30, 60)]) == pytest.approx((MINUTES, MINUTES_90), rel=2e-3)
    assert sum_of([(1, 30, 60), (2.5, 10, 10)]) == pytest.approx((55, 85), rel=2e-3), "half a task is half"
    assert sum_of([(40, 1, 1), (1, 30, 60)]) == pytest.approx((70, 100), rel=2e-3), "forty small ones"
    assert sum_of([(3, 7, 7)]) == (21, 21)


def test_a_hundred_small_tasks_by_hand() -> None:
    """Each 2 minutes, 3 in nine of ten: s = ln(3/2) / 1.28155 = 0.31638.

    Mean of one 2 exp(s^2 / 2) = 2.10264, its variance 2.10264^2 (exp(s^2) - 1) = 0.46550. A hundred have a
    mean of 210.264 and a deviation of 6.8228. Skewness of one (exp(s^2) + 2) sqrt(exp(s^2) - 1) = 1.0072,
    of a hundred 0.1007. So the middle lies 0.1007 / 6 of a deviation (0.1145) below the mean: 210.15. In
    nine of ten, with the first term of Cornish and Fisher: 1.28155 + 0.1007 (1.28155^2 - 1) / 6 = 1.29237
    deviations above it: 219.08.
    """
    assert sum_of([(100, 2, 3)]) == pytest.approx((210.15, 219.08), abs=0.02)


def test_the_whole_quote() -> None:
    found = quote(empty_scope(JOB), Costs(PARTS, MINUTES, MINUTES_90))
    assert (found.parts, found.labour, found.margin) == (100.0, 120.0, 55.0)
    assert (found.tax, found.total, found.total_90) == (27.5, 302.5, 357.5)
    assert (found.deposit, found.valid_until, found.currency) == (90.75, "2026-12-16", "EUR")
    kept = {name: field.default for name, field in Quote.model_fields.items()}  # what older records leave out
    assert (kept["deposit"], kept["valid_days"], kept["invented_prices"]) == (0.0, 30, True)
    assert QuoteOption.model_fields["chosen"].default is False and found.valid_days == 30


def test_an_offer_of_it_has_the_same_figures() -> None:
    point = FrontPoint(cost=9.0, rooms_served=1, rooms=("Hall",), sites=("X",), equipment=("e",))
    found = option(JOB, point, Costs(PARTS, MINUTES, MINUTES_90))
    assert (found.parts, found.labour, found.margin) == (100.0, 120.0, 55.0)
    assert (found.tax, found.total, found.total_90) == (27.5, 302.5, 357.5)


def test_a_price_of_the_hour_that_is_not_said_is_the_table_s() -> None:
    plain = JOB.model_copy(update={"choices": Choices()})
    assert Costs(0, 60, 120).labour(plain) == 85.0 and Costs(0, 60, 120).labour_90(plain) == 170.0


def task(norm: str, number: int, **more: Any) -> Task:
    given = {"id": f"T{number}", "key": f"k{number}", "norm": norm, "title": norm, "stage": "x", "minutes": 1}
    return Task.model_construct(**{**given, "because": (f"1-0{number}",), "place": "", "by": "us", **more})


def test_the_work_is_counted_by_kind_and_comes_in_whole_days() -> None:
    """Table: a photograph 3 min (5), a rack 60 (100). Photographs belong to the survey, a rack to the work.

    60 minutes of work are one day, so with the survey there are two ways out and back. What the household
    does is not paid.
    """
    tasks = [task("photo", number) for number in range(1, 7)]
    tasks += [task("rack", 7), task("rack", 8, by="household")]
    lines = {line.norm: line for line in labour(tasks)}
    assert list(lines) == ["photo", "rack", "travel"]
    assert [(line.count, line.visit) for line in lines.values()] == [(6, 1), (1, 2), (2, 1)]
    assert (lines["rack"].minutes, lines["rack"].minutes_90) == (60, 100)
    assert 18 < lines["photo"].minutes < 21 and 21 < lines["photo"].minutes_90 < 30  # less than six times 5
    assert lines["photo"].because == tuple(f"1-0{number}" for number in range(1, 7))
    assert total_minutes((lines["rack"],)) == pytest.approx((60, 100), rel=2e-3)
    nine = labour([task("rack", number) for number in range(9)])[-1]
    assert nine.count == 3, "nine racks are about nine hours and a half: two days of work"
    assert labour([task("rack", 1, by="household")]) == ()


def offer(total: float, rooms: int) -> QuoteOption:
    money: dict[str, Any] = dict.fromkeys(("parts", "labour", "margin", "tax"), 0.0)
    return QuoteOption(
        name="", access_points=1, rooms_served=rooms, rooms_total=8, total=total, total_90=total,
        chosen=False, **money,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("between", "better"),
    [
        # From 4 rooms at 900 to 8 at 2000 a room costs 275: 1175, 1450 and 1725 on the line.
        ([(1000, 5), (1300, 6), (1700, 7)], 1000),  # 175, 150 and 25 below it
        ([(1000, 5), (1270, 6), (1700, 7)], 1270),  # 175, 180 and 25
        ([(1010, 5), (1300, 6), (1500, 7)], 1500),  # 165, 150 and 225
    ],
)
def test_the_better_offer_lies_farthest_below_the_line(
    between: list[tuple[float, int]], better: float
) -> None:
    found = named([offer(900, 4), *(offer(*row) for row in between), offer(2000, 8)])
    assert [row.total for row in found if row.name == "Better"] == [better]
    assert (found[0].name, found[-1].name) == ("Only what is needed", "Good")


def test_what_is_needed_serves_at_least_half_of_the_most() -> None:
    names = [row.name for row in named([offer(500, 3), offer(900, 4), offer(2000, 8)])]
    assert names == ["3 of 8 rooms", "Only what is needed", "Good"]


def test_boxes_in_which_something_is_undone_are_photographed() -> None:
    """Ends of links, joints on the way, plates whose old cable draws in the new one, what extras touch."""
    kept = SimpleNamespace(plate="1-01", start="1-02", joins=("1-03", "1-04"))
    pulls = SimpleNamespace(spends="C1", outlet="1-05"), SimpleNamespace(spends="", outlet="1-06")
    extras = (
        SimpleNamespace(touches=("C2",), place="1-07", about=("1-08",)),
        SimpleNamespace(touches=(), place="1-09", about=("1-10",)),
    )
    scope: Any = SimpleNamespace(kept=(kept,), pulls=pulls, extras=extras)
    assert opened_boxes(scope) == {"1-01", "1-02", "1-03", "1-04", "1-05", "1-07", "1-08"}


@cache
def whole_job() -> Plan:
    return made_plan(open_job(EXAMPLES / "1993-hundred-meets-hundred.rehaul.json"))


def test_a_job_s_price_is_that_of_its_own_parts_and_minutes() -> None:
    found = whole_job().takeoff
    assert found.quote.parts == pytest.approx(sum(line.price for line in found.parts), abs=0.01)
    middle, _ = sum_of((t.count, norms()[t.norm].minutes, norms()[t.norm].minutes_90) for t in found.labour)
    assert found.quote.labour == pytest.approx(middle / 60 * 85.0, abs=0.01)


def test_every_opened_box_is_photographed_first_and_no_other() -> None:
    """Of a whole job: the boxes that its own list of work names in what is undone there."""
    found = whole_job()
    outlets = {outlet.id for outlet in found.job.house.outlets}
    gate = next(task for task in found.order if task.norm == "gate")
    shots = [task for task in found.order if task.norm == "photo"]
    assert all(task.photo and gate.id in task.needs for task in shots)
    pictured = {name for task in shots for name in task.because}
    assert len(shots) == len(pictured) + 1 and sum("closet" in task.title for task in shots) == 1
    undone = {
        end
        for task in found.order
        if task.norm in ("jack", "break_chain", "plate") and task.touches
        for end in outlets
        if end in task.title
    }
    assert undone and undone <= pictured <= outlets
    assert outlets - pictured, "a box that stays shut is not photographed"


def test_one_that_costs_less_than_what_is_needed_is_never_the_better() -> None:
    """Three rooms at 100 lie far below the line, and below half of the eight rooms too."""
    names = [o.name for o in named([offer(100, 3), offer(900, 4), offer(1170, 5), offer(2000, 8)])]
    assert names == ["3 of 8 rooms", "Only what is needed", "Better", "Good"]
    line = [o.name for o in named([offer(500, 5), offer(600, 8)])]
    assert line == ["Only what is needed", "Good"]
    assert [o.name for o in named([offer(500, 8), offer(500, 8)])] == ["Only what is needed", "8 of 8 rooms"]
