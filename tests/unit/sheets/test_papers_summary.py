"""The first sheet: plain sentences that say what the plan says, and a chart of the same figures."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

import sample_plan
from rehaul.planning import OpenQuestion
from rehaul.sheets.roomchart import roomchart_svg
from rehaul.sheets.summary import held_sentences, sentences, summary_section

PLAN = sample_plan.plan()


def test_the_sentences_count_what_the_plan_holds() -> None:
    today, then, price = sentences(PLAN)
    needed = [rate for rate in PLAN.after.rooms if rate.need_mbps]
    assert f"Then {sum(rate.met for rate in needed)} of {len(needed)} rooms" in then
    assert "AP1 in Sewing room, AP2 in Living room and AP3 in Hall" in then
    assert "2 old cables in the walls and 1 new pull" in then
    assert "pays for 320 Mb/s" in today and "set by air 5 GHz from Store" in today
    assert "1 290.00 EUR" in price and "this is proven" in price


def test_a_choice_that_is_not_proven_says_so() -> None:
    open_choice = PLAN.choice.model_copy(update={"proven": False, "gap_pct": 2.5})
    assert "up to 2.5 % could not be ruled out" in sentences(replace(PLAN, choice=open_choice))[2]


def test_a_plan_without_access_points_or_rooms_still_speaks() -> None:
    bare = replace(
        PLAN,
        choice=PLAN.choice.model_copy(update={"access_points": ()}),
        before=replace(PLAN.before, rooms=()),
        after=replace(PLAN.after, rooms=()),
    )
    assert "no room is known" in sentences(bare)[0]
    assert sentences(bare)[1] == "The plan adds no access point."


def test_what_is_held_is_on_the_first_sheet() -> None:
    step, damaged, untested = held_sentences(PLAN)
    assert step.startswith("T03, Break the chain C02 at G-01: O1: a monitored alarm depends on C02")
    assert damaged.startswith("Cable C04 may not be cut: a damaged cable can still carry voltage")
    assert untested == "Cables C06 and C08 may not be cut: nobody has tested for a live line."


def test_many_questions_are_counted_and_not_dropped_in_silence() -> None:
    question = OpenQuestion(about=(), question="Where?", guess="", costs="", settle="Look")
    section = summary_section(replace(PLAN, open_questions=(question,) * 12))
    assert "And 5 more questions, on the sheet of what is still unknown." in repr(section)


def test_the_chart_puts_rates_where_a_ruler_finds_them() -> None:
    """On a scale of ratios the step from 10 to 100 is as long as the step from 1 to 10."""
    drawn = roomchart_svg([(None, rate) for rate in PLAN.after.rooms])
    figures = {
        float(words.removeprefix("under ").replace("\u202f", "")): float(x)
        for x, words in re.findall(r'<text x="([\d.]+)"[^>]*text-anchor="middle"[^>]*>([^<]+)</text>', drawn)
    }
    step_mm = figures[10] - figures[1]
    assert figures[100] - figures[10] == pytest.approx(step_mm, abs=0.02)
    marks = [float(x) for x in re.findall(r'<circle cx="([\d.]+)" cy="[\d.]+" r="1.1"', drawn)][1:]
    for mark, rate in zip(marks, PLAN.after.rooms, strict=True):
        assert mark == pytest.approx(figures[1] + step_mm * math.log10(rate.median_mbps), abs=0.02)


def test_a_need_that_is_not_met_is_said_beside_the_room() -> None:
    rate = PLAN.after.rooms[0].model_copy(update={"met": False, "need_mbps": 900.0})
    assert "the need is NOT met" in roomchart_svg([(None, rate)])
