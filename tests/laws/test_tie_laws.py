"""No plug, strap or tone where one may not go: over random registers and line checks, and all our houses."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from counts import counted
from drawn_houses import drawn_job
from line_checks import checked
from rehaul.house import (
    CableKind,
    Decision,
    House,
    Job,
    LineCheck,
    MeetingPoint,
    Obligation,
    ObligationKind,
    ObligationState,
    Outlet,
    OutletKind,
    PlacedPlug,
    Run,
    RunState,
    SignOff,
    Storey,
    Ties,
)
from rehaul.jobs import demo_job, open_job
from rehaul.tracing import Bag, TracePlan, ends_at, plan_tracing, traced

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.rehaul.json"))
BAGS = (Bag(plugs=8, toner=True), Bag(plugs=2, toner=True), Bag(toner=True))
PLATES = ("1-01", "1-02", "1-03", "1-04", "1-05")
CABLES = ("C1", "C2", "C3", "C4")
SIGNED = SignOff(by="Owner", date="2026-11-20", words="tested and agreed")
COPPER = (CableKind.QUAD, CableKind.CAT3, CableKind.CAT5E, CableKind.UNKNOWN)


def mostly(common: st.SearchStrategy, rare: st.SearchStrategy) -> st.SearchStrategy:
    return st.one_of(common, common, common, rare)


@st.composite
def line_checks(draw: st.DrawFn, number: int) -> LineCheck:
    what = draw(st.sampled_from(["who depends", "voltage", "modem sync", "disconnected", "reconnected"]))
    run = draw(mostly(st.none(), st.sampled_from(CABLES)))
    fields: dict[str, object] = {"id": f"X{number}", "at": "MP1", "what": what, "run": run}
    if what == "who depends":
        fields["nobody"] = draw(mostly(st.just(True), st.just(False)))
    elif what == "voltage":
        fields |= {"dc_v": draw(mostly(st.just(0.1), st.sampled_from([3.0, 9.0, 48.0])))}
        fields |= {"ac_v": draw(mostly(st.just(0.0), st.sampled_from([1.0, 16.0, 90.0])))}
        if fields["dc_v"] != 0.1:  # found on dc already: the meter need not be turned to ac
            fields["ac_v"] = draw(mostly(st.just(fields["ac_v"]), st.none()))
    elif what == "modem sync":
        fields["synchronises"] = draw(mostly(st.just(False), st.just(True)))
    else:
        fields["sign_off"] = SIGNED
    return LineCheck.model_validate(fields)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """A house of four cables and five plates with any register, any decisions and any record of checks."""
    ends = st.lists(st.sampled_from([*PLATES, "unknown"]), min_size=1, max_size=3, unique=True)
    runs = tuple(
        Run(
            id=name,
            ends=("MP1", *draw(ends)),
            kind=draw(mostly(st.sampled_from(COPPER), st.sampled_from(list(CableKind)))),
            state=draw(mostly(st.sampled_from([RunState.DEAD, RunState.UNKNOWN]), st.sampled_from(RunState))),
        )
        for name in CABLES
    )
    outlets = tuple(
        Outlet(
            id=name,
            storey="1",
            position=(float(number), 1.0) if draw(mostly(st.just(True), st.booleans())) else None,
            kind=draw(mostly(st.just(OutletKind.TELEPHONE), st.sampled_from(OutletKind))),
        )
        for number, name in enumerate(PLATES, 1)
    )
    obligations = tuple(
        Obligation(
            id=f"O{number}",
            kind=draw(st.sampled_from(ObligationKind)),
            run=draw(st.sampled_from(CABLES)),
            state=draw(st.sampled_from(ObligationState)),
            sign_off=draw(st.sampled_from([None, SIGNED])),
        )
        for number in range(draw(st.integers(0, 2)))
    )
    decided = draw(st.sets(st.sampled_from(CABLES), max_size=2))
    job = Job(
        id="laws",
        title="laws",
        house=House(
            storeys=(Storey(id="1", name="Ground", elevation_m=0),),
            meeting_points=(MeetingPoint(id="MP1", name="Closet", storey="1", position=(0, 0)),),
            outlets=outlets,
            runs=runs,
        ),
        obligations=obligations,
        decisions=tuple(Decision(id=f"D-{run}", run=run, sign_off=SIGNED) for run in sorted(decided)),
        placed_plugs=(PlacedPlug(id="P1", outlet="1-01", ties=((1, 2),)),),
    )
    if draw(mostly(st.just(True), st.just(False))):
        job = checked(job)
    more = tuple(draw(line_checks(number)) for number in range(draw(st.integers(0, 4))))
    return job.model_copy(update={"line_checks": (*job.line_checks, *more)})


def forbidden(job: Job, run: Run) -> bool:
    """The rule told again, plainly: what no plug or tone may ever be joined to."""
    if run.kind in (CableKind.COAX, CableKind.FIBRE, CableKind.BELL_WIRE):
        return True
    owed = [one for one in job.obligations if one.run == run.id]
    if any(one.sign_off is None or one.state.value in ("in use", "believed unused") for one in owed):
        return True
    settled = bool(owed) or any(one.run == run.id for one in job.decisions)
    if run.state in (RunState.LIVE_TELEPHONE, RunState.ALARM) and not settled:
        return True
    for what in ("voltage", "modem sync"):
        seen = [c for c in job.line_checks if c.what == what and c.run in (None, run.id)]
        if seen and (seen[-1].synchronises or (seen[-1].dc_v or 0) >= 3 or (seen[-1].ac_v or 0) >= 1):
            return True
    return False


def unmeasured(job: Job, run: Run) -> bool:
    """Whether one of the three checks is not on record since the line was last connected again."""
    own = [c for c in job.line_checks if c.run in (None, run.id)]
    last = max((i for i, c in enumerate(own) if c.what == "reconnected"), default=-1)
    return not (
        any(c.what == "who depends" for c in own)
        and {"voltage", "modem sync"} <= {c.what for c in own[last + 1 :]}
    )


def touched(plan: TracePlan) -> set[str]:
    """Every plate and end that anything is tied to, walked to or toned in a plan."""
    plates = {outlet for placed in plan.codes.rounds for outlet, _ in placed}
    stops = {stop for trip in plan.walks.trips for stop in trip.stops}
    return plates | stops | set(plan.codes.problem.ends) | set(plan.may_tie)


def require_safe(job: Job, at: str, plan: TracePlan) -> None:
    runs = {run.id: run for run in job.house.runs}
    plates = {outlet.id: outlet for outlet in job.house.outlets}
    joined = touched(plan)
    for suggestion in traced(job, at).next_readings:
        joined |= {suggestion.end, suggestion.outlet, suggestion.other_end} - {""}
    for place in joined:
        if place in runs:
            assert not forbidden(job, runs[place]) and not unmeasured(job, runs[place]), place
            continue
        assert plates[place].kind is not OutletKind.COAX and plates[place].position, place
        own = [run for run in runs.values() if place in run.ends]
        assert not any(forbidden(job, run) or unmeasured(job, run) for run in own), place
        if not own:
            loose = [run for run in runs.values() if "unknown" in run.ends and run.kind in COPPER]
            assert not any(forbidden(job, run) or unmeasured(job, run) for run in loose), place
    for place in {*runs, *plates} - joined:  # and what is not tied says why, with what would release it
        held = [reason for reason in Ties(job).reasons(place) if not reason.untested]
        said = [one for one in plan.left_alone if place in (*one.ends, *one.plates)]
        if at in getattr(runs.get(place), "ends", (at,)):
            assert {(r.problem, r.remedy) for r in held} <= {
                (o.reason.problem, o.reason.remedy) for o in said
            }
        for one in said:
            assert place in one.sentence and one.reason.problem in one.sentence and one.reason.remedy


@settings(max_examples=counted(120, 300), deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs(), st.sampled_from([1, 2]), st.sampled_from(BAGS))
def test_nothing_is_joined_to_what_may_not_be(job: Job, people: int, bag: Bag) -> None:
    if not any(
        run.kind not in (CableKind.COAX, CableKind.FIBRE, CableKind.BELL_WIRE) for run in job.house.runs
    ):
        return
    plan = plan_tracing(job, "MP1", bag, people=people)
    require_safe(job, "MP1", plan)
    if plan.first:
        assert not touched(plan) and not traced(job, "MP1").next_readings
        order = [card.what for card in plan.first]
        assert order == [one for one in ("who depends", "voltage", "modem sync") if one in order]
    if any(c.what == "disconnected" for c in job.line_checks[-1:]):
        assert plan.still_off and plan.last and plan.disconnect is None


def named(job: Job) -> Job:
    """The job with nobody said to depend on a line at the point, where the register names nobody."""
    if job.obligations:
        return job
    return job.model_copy(
        update={
            "line_checks": tuple(
                check.model_copy(update={"nobody": True})
                if check.nobody is False and not check.run
                else check
                for check in job.line_checks
            )
        }
    )


@settings(max_examples=counted(60, 150), deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs(), st.sampled_from(CABLES), st.sampled_from(["voltage", "modem sync", "obligation", "alarm"]))
def test_what_is_found_on_a_cable_only_ever_takes_plugs_away(job: Job, run: str, what: str) -> None:
    """But for one: an obligation is also the answer to who it is that depends on a line at the point, where
    somebody is said to and the register names nobody. It then frees no more than if nobody had been said."""
    asked = named(job) if what == "obligation" else job
    before = {place for place in (*PLATES, *CABLES) if not Ties(asked).reasons(place)}
    if what == "voltage":
        more = LineCheck(id="N1", at="MP1", what="voltage", run=run, dc_v=48, ac_v=0)
        after = job.model_copy(update={"line_checks": (*job.line_checks, more)})
    elif what == "modem sync":
        more = LineCheck(id="N1", at="MP1", what="modem sync", run=run, synchronises=True)
        after = job.model_copy(update={"line_checks": (*job.line_checks, more)})
    elif what == "obligation":
        owed = Obligation(id="N1", kind=ObligationKind.LIFT, run=run)
        after = job.model_copy(update={"obligations": (*job.obligations, owed)})
    else:
        bells = [
            one.model_copy(update={"state": RunState.ALARM}) if one.id == run else one
            for one in job.house.runs
        ]
        after = job.model_copy(
            update={
                "house": job.house.model_copy(update={"runs": tuple(bells)}),
                "decisions": (),
                "obligations": (),
            }
        )
    now = {place for place in (*PLATES, *CABLES) if not Ties(after).reasons(place)}
    assert run not in now
    assert not now & {plate for one in job.house.runs if one.id == run for plate in one.ends}
    if what != "alarm":  # there, the register was emptied too
        assert now <= before


def our_houses() -> list[Job]:
    return [*(open_job(path) for path in EXAMPLES), demo_job()]


@pytest.mark.parametrize("people", [1, 2])
@pytest.mark.parametrize("job", our_houses(), ids=lambda job: job.id)
def test_our_houses_ask_first_and_tie_only_what_may_be(job: Job, people: int) -> None:
    at = job.house.meeting_points[0].id
    before = plan_tracing(job, at, Bag(plugs=8, toner=True), people=people)
    assert [card.what for card in before.first] == ["who depends", "voltage", "modem sync"]
    assert not touched(before) and "Nothing is tied" in before.sentence
    asked = checked(job)
    plan = plan_tracing(asked, at, Bag(plugs=8, toner=True), people=people)
    require_safe(asked, at, plan)
    runs = {run.id: run for run in job.house.runs}
    held = {run for run in runs if forbidden(job, runs[run])}
    free = {
        outlet.id
        for outlet in job.house.outlets
        if outlet.position and not any(outlet.id in runs[run].ends for run in held)
    }
    assert {outlet for placed in plan.codes.rounds for outlet, _ in placed} == (
        free if held != set(runs) else set()
    )
    assert set(plan.codes.problem.ends) == {run for run in set(runs) - held if at in runs[run].ends}


@pytest.mark.parametrize("start", range(0, 240, 40))
def test_drawn_houses_tie_only_what_may_be(start: int) -> None:
    planned = 0
    for seed in range(start, start + 40):
        job = drawn_job(seed)
        for point in job.house.meeting_points:
            if not ends_at(job.house, point.id):
                continue
            people = 1 + seed % 2
            before = plan_tracing(job, point.id, BAGS[0], people=people)
            if not job.line_checks:
                assert before.first and not touched(before)
            asked = checked(job)
            plan = plan_tracing(asked, point.id, BAGS[seed % len(BAGS)], people=people)
            require_safe(asked, point.id, plan)
            planned += bool(touched(plan))
    assert planned > 5, "these houses prove nothing"
