"""Nothing that would cut a pair somebody depends on is ordered before it is signed for, on any paper."""

from __future__ import annotations

import csv
import datetime
import html
import io
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from counts import counted
from plans_once import made_plan, made_weighed
from rehaul.design.options import offering_of
from rehaul.house import (
    Decision,
    Job,
    Obligation,
    ObligationKind,
    ObligationState,
    RunState,
    SignOff,
    counts_on,
    held_on,
    use_hold,
)
from rehaul.jobs import open_job
from rehaul.network.cabling import run_verdict, run_verdicts
from rehaul.planning import Plan, Weighed
from rehaul.sheets.document import csv_files
from rehaul.sheets.page import page_html
from rehaul.sheets.record import door_words, read_me
from rehaul.sheets.sections import sections
from rehaul.sheets.summary import held_sentences
from rehaul.takeoff import Timetable, calendar_text, order, scope_of, timetable
from rehaul.takeoff.labels import labels_for

EXAMPLES = Path(__file__).parents[2] / "examples"
START = datetime.datetime(2026, 12, 1, 8)
CUTTING = re.compile(r"^(Join|Take|Disconnect|Terminate|Tag the piece|Draw|Open the wall|Find the fault)")


@cache
def designed() -> Plan:
    """The 2008 house, whose design stands on one chain that an alarm hangs on."""
    return weighed().fresh


@cache
def weighed() -> Weighed:
    """The same with what it was chosen from."""
    return made_weighed(open_job(EXAMPLES / "2008-chained-alarm.rehaul.json"))


sign_offs = st.one_of(
    st.none(),
    st.builds(
        SignOff,
        by=st.just("Invented owner"),
        date=st.just("2026-11-20"),
        words=st.sampled_from(["", " ", "Tested on the new line"]),
    ),
)


@st.composite
def registers(draw: st.DrawFn) -> Job:
    """The same job with any register of obligations, any state of the cable, any decision about it."""
    job = designed().job
    count = draw(st.integers(0, 3))
    obligations = tuple(
        Obligation(
            id=f"O{number}",
            kind=draw(st.sampled_from(list(ObligationKind))),
            run="C1",
            state=draw(st.sampled_from(list(ObligationState))),
            sign_off=draw(sign_offs),
        )
        for number in range(1, count + 1)
    )
    names = [row.id for row in obligations]
    moved = tuple(name for name in names if draw(st.booleans()))
    decisions = ()
    if draw(st.booleans()):
        decisions = (Decision(id="D1", run="C1", sign_off=SignOff(by="Invented owner", date="2026-11-20")),)
    run = job.house.runs[0].model_copy(update={"state": draw(st.sampled_from(list(RunState)))})
    return job.model_copy(
        update={
            "house": job.house.model_copy(update={"runs": (run,)}),
            "obligations": obligations,
            "decisions": decisions,
            "choices": job.choices.model_copy(update={"to_be_moved": moved}),
        }
    )


def times_of(job: Job) -> Timetable:
    """The work of the fixed design under this register: the worst a design could ask for."""
    found = designed()
    scope = scope_of(job, weighed().chosen, found.network, found.graph_after, run_verdicts(job))
    return timetable(job, order(scope), effort=0.02)


@settings(max_examples=counted(20, 50), deadline=None)
@given(registers())
def test_a_held_cable_is_never_touched_unheld(job: Job) -> None:
    times = times_of(job)
    held = bool(held_on(job, "C1"))
    touching = [task for task in times.tasks if "C1" in task.touches]
    assert touching
    for task in touching:
        assert bool(task.held) is held
        assert (task.start_min is None) or not held
    for task in times.tasks:
        if "C1" in task.title and CUTTING.match(task.title):
            assert "C1" in task.touches, task.title


@settings(max_examples=25, deadline=None)
@given(registers())
def test_a_held_step_is_in_no_calendar_and_nothing_after_it_has_a_time(job: Job) -> None:
    times = times_of(job)
    text = calendar_text(job.id, job.title, times.tasks, START).replace("\r\n ", "")
    waiting = {task.id for task in times.tasks if task.start_min is None}
    for task in times.tasks:
        if task.held:
            assert task.id in waiting and f"SUMMARY:{task.id} " not in text
        if set(task.needs) & waiting:
            assert task.id in waiting


@settings(max_examples=counted(24, 60), deadline=None)
@given(registers())
def test_a_held_cable_is_a_site_only_where_the_household_has_it_moved(job: Job) -> None:
    feeds = [option.feed for option in offering_of(job).options if option.feed is not None]
    sites = [feed for feed in feeds if any(link.run == "C1" for link in feed.links) or feed.spends == "C1"]
    waiting = {o.id for o in job.obligations if any(r.obligation == o.id for r in held_on(job, "C1"))}
    unsigned = {
        o.id
        for o in job.obligations
        if o.sign_off is None or o.state in (ObligationState.IN_USE, ObligationState.BELIEVED_UNUSED)
    }
    if sites:
        assert unsigned <= set(job.choices.to_be_moved)
        assert unsigned <= waiting


@settings(max_examples=8, deadline=None)
@given(registers())
def test_no_paper_page_or_label_lets_a_held_cable_be_cut(job: Job) -> None:
    times = times_of(job)
    found = replace(designed(), job=job, cabling=run_verdicts(job), order=times.tasks, timetable=times)
    held = held_on(job, "C1")
    cutting = [task.title for task in times.tasks if "C1" in task.touches]
    cells = [row for text in csv_files(found).values() for row in csv.reader(io.StringIO(text))]
    steps = re.findall(r"<li[^>]*>.*?</li>", html.unescape(page_html(found)), re.S)
    listed = 0
    for title in cutting:
        rows = [row for row in cells if title in row]
        shown = [step for step in steps if title in step]
        listed += len(shown)
        assert rows
        assert all(any("Held: " in cell for cell in row) == bool(held) for row in rows), title
        assert all(("HELD, do not start" in step) == bool(held) for step in shown), title
    assert listed >= len(cutting)
    own = [
        label.alias
        for label in labels_for(job, found.choice, found.network, (), ())
        if label.id == "C1" and label.on == "cable end"
    ]
    assert own and all(alias.startswith("DO NOT CUT") == bool(held) for alias in own)
    assert ("DO NOT CUT C1" in door_words(found)) == bool(held)
    for reason in held:
        assert reason.problem in read_me(found)
        assert any(reason.problem in sentence for sentence in held_sentences(found)) or cutting


@settings(max_examples=counted(80, 200), deadline=None)
@given(registers())
def test_what_a_plan_counts_on_is_held_by_nothing_but_a_missing_test(job: Job) -> None:
    """The rule for counting on a cable never lets through what the rule for cutting calls depended on."""
    verdict = run_verdict(job, job.house.runs[0])
    depended = [reason for reason in held_on(job, "C1") if not reason.untested]
    assert set(verdict.held_by) == {reason.obligation for reason in depended if reason.obligation}
    assert bool(use_hold(job, "C1")) >= bool(depended)
    assert not (verdict.usable and depended)
    if counts_on(job, "C1"):
        assert {reason.obligation for reason in depended} <= {"", *job.choices.to_be_moved}


@pytest.mark.parametrize(
    "name", ["2008-chained-alarm", "1934-brick-pendant-alarm", "1912-metal-mesh-plaster"]
)
def test_every_paper_that_names_a_held_step_says_that_it_is_held(name: str) -> None:
    found = made_plan(open_job(EXAMPLES / f"{name}.rehaul.json"))
    held = [task for task in found.order if task.held]
    assert held
    named = 0
    for file, text in csv_files(found).items():
        content = text.decode("utf-8-sig") if isinstance(text, bytes) else text
        for row in csv.reader(io.StringIO(content)):
            for task in held:
                if task.title in row:
                    named += 1
                    assert any("Held: " in cell for cell in row), (file, row)
    assert named >= len(held)
    for section in sections(found):
        for block in section.blocks:
            for task in getattr(block, "tasks", ()):
                twin = next(row for row in found.order if row.id == task.id)
                assert task.held == twin.held
    assert all(task.title not in "\n".join(found.takeoff.quote.included) for task in held)
