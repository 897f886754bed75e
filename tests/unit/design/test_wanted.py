"""Decisions for the drops of the demo house."""

from __future__ import annotations

import pytest

from rehaul.design.drops import best_policy
from rehaul.design.wanted import DropDecision, drop_decisions, ways_to
from rehaul.house import CableKind, Grade, Job, Run
from rehaul.jobs import demo_job
from rehaul.network.verdicts import EthernetVerdict, RunVerdict
from rehaul.planning import Plan, plan


@pytest.fixture(scope="module")
def planned() -> Plan:
    return plan(demo_job())


@pytest.fixture(scope="module")
def decisions(planned: Plan) -> tuple[DropDecision, ...]:
    return drop_decisions(planned.job, planned.choice, planned.cabling)


def test_every_access_point_on_a_cable_has_a_decision(
    planned: Plan, decisions: tuple[DropDecision, ...]
) -> None:
    wanted = {p.id for p in planned.choice.access_points if p.site.run or p.site.new_pull_m}
    assert wanted <= {row.drop for row in decisions}


def test_money_minutes_and_chances_hang_together(decisions: tuple[DropDecision, ...]) -> None:
    for row in decisions:
        assert 0 < row.cost <= row.cost_90
        assert 0 < row.minutes <= row.minutes_90
        assert 0 <= row.chance <= 1
        assert row.steps[0].reached == 1.0
        assert all(a.reached >= b.reached for a, b in zip(row.steps, row.steps[1:], strict=False))
        assert row.words.startswith("Try " + row.steps[0].way)
        assert (row.test == "") == (row.test_worth == 0.0)


def test_a_good_old_cable_is_used_first(planned: Plan, decisions: tuple[DropDecision, ...]) -> None:
    verdicts = {verdict.run: verdict for verdict in planned.cabling}
    good = [row for row in decisions if row.run and verdicts[row.run].likely_mbps >= 1000]
    assert good and all(row.steps[0].way == "reuse" for row in good)


def test_own_log_of_failures_lowers_the_chance_of_what_is_planned(planned: Plan) -> None:
    """Two hundred failed reuses outweigh verdict and table; what is planned is still tried first."""
    log = {"reuse": [(10.0, False)] * 200}
    usual = {row.drop: row for row in drop_decisions(planned.job, planned.choice, planned.cabling)}
    rows = drop_decisions(planned.job, planned.choice, planned.cabling, own_log=log)
    reused = [row for row in rows if usual[row.drop].steps[0].way == "reuse"]
    assert reused
    for row in reused:
        assert row.steps[0].way == "reuse"
        assert row.steps[0].chance < 0.2 < usual[row.drop].steps[0].chance


def without_pulls(job: Job) -> Job:
    return job.model_copy(update={"choices": job.choices.model_copy(update={"new_pulls": False})})


def test_no_new_cable_where_none_may_be_pulled(planned: Plan) -> None:
    job = without_pulls(planned.job)
    site = planned.choice.access_points[0].site
    ways = ways_to(job, site.storey, site.position, site.height_m, None, None, {})
    assert not {"new cable", "surface cable", "fibre"} & {way.name for way in ways}


def quad(conduit: bool | None) -> tuple[Run, RunVerdict]:
    """An old quad that will not hold a gigabit, and its verdict."""
    run = Run(id="Q1", ends=("1-01", "MP1"), kind=CableKind.QUAD, pairs=2, in_conduit=conduit)
    row = EthernetVerdict(
        ethernet="1000BASE-T", rate_mbps=1000, band="no", chance=0.0, reason="two pairs", grade=Grade.INFERRED
    )
    verdict = RunVerdict(
        run="Q1",
        ends=run.ends,
        length_low_m=8,
        length_m=10,
        length_high_m=12,
        ethernet=(row,),
        power=(),
        likely_mbps=100,
        hoped_mbps=100,
        poe_class=0,
        usable=True,
    )
    return run, verdict


def first_way(job: Job, conduit: bool | None, storey: str) -> str:
    run, verdict = quad(conduit)
    ways = ways_to(job, storey, (5.0, 3.0), 0.3, run, verdict, {})
    return best_policy(ways, 320.0, 85 / 60).steps[0].way.name


def test_old_cable_in_conduit_becomes_the_pull_cord(planned: Plan) -> None:
    """Trade judgement [common practice]: concrete house, star quad in conduit."""
    assert first_way(planned.job, True, planned.job.house.storeys[-1].id) == "pull cord"


def test_stapled_quad_is_left_alone(planned: Plan) -> None:
    """Trade judgement [common practice]: stapled cable does not pull through."""
    assert first_way(planned.job, False, planned.job.house.meeting_points[0].storey) != "pull cord"


def test_far_building_gets_fibre(planned: Plan) -> None:
    """Beyond the reach of copper no copper is offered."""
    storey = planned.job.house.storeys[0].id
    ways = {way.name for way in ways_to(planned.job, storey, (120.0, 0.0), 0.3, None, None, {})}
    assert "fibre" in ways and not {"new cable", "surface cable"} & ways
