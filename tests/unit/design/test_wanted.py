"""Decisions for the drops of the demo house."""

from __future__ import annotations

import pytest

from plans_once import made_plan
from rehaul.design.drops import best_policy
from rehaul.design.results import AccessPoint, WiredOutlet
from rehaul.design.wanted import DropDecision, drop_decisions, ways_to
from rehaul.house import CableKind, Grade, Job, Outlet, OutletKind, Run
from rehaul.jobs import demo_job
from rehaul.network.verdicts import EthernetVerdict, RunVerdict
from rehaul.planning import Plan


@pytest.fixture(scope="module")
def planned() -> Plan:
    return made_plan(demo_job())


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


def ways_of(
    job: Job, *, conduit: bool | None = None, length: str = "near", **verdict: object
) -> dict[str, float]:
    """Chances of what can be tried with an old cable, by way."""
    run, found = quad(conduit)
    storey, x = job.house.meeting_points[0].storey, 5.0 if length == "near" else 120.0
    rows = ways_to(job, storey, (x, 3.0), 0.3, run, found.model_copy(update=verdict), {})
    return {row.name: row.chance for row in rows}


def rated(chance: float, lifted: float, rate_mbps: int = 1000) -> dict[str, object]:
    _, found = quad(None)
    row = found.ethernet[0].model_copy(
        update={"chance": chance, "lifted_chance": lifted, "rate_mbps": rate_mbps}
    )
    return {"ethernet": (row,)}


def test_mending_counts_where_the_cable_failed_as_it_is(planned: Plan) -> None:
    """0.2 as it is and 0.6 mended: of the 0.8 that fail, 0.4 are won, one half."""
    found = ways_of(planned.job, **rated(0.2, 0.6))
    assert found["reuse"] == pytest.approx(0.2) and found["repair"] == pytest.approx(0.5)
    assert "repair" not in ways_of(planned.job, **rated(0.6, 0.6)), "mending gains nothing"
    assert ways_of(planned.job, **rated(1.0, 1.0))["reuse"] == pytest.approx(0.99), "nothing is certain"
    assert ways_of(planned.job, **rated(0.9, 0.9, 100))["reuse"] == 0.0, "too slow to count"


def test_what_is_held_or_of_no_use_is_not_tried(planned: Plan) -> None:
    old = {"reuse", "repair", "pull cord"}
    assert old & set(ways_of(planned.job))
    assert not old & set(ways_of(planned.job, usable=False))
    assert not old & set(ways_of(planned.job, held_by=("H1",)))


@pytest.mark.parametrize(("conduit", "chance"), [(True, 0.8), (None, 0.25), (False, 0.1)])
def test_an_old_cable_draws_in_a_new_one_by_what_it_lies_in(
    planned: Plan, conduit: bool | None, chance: float
) -> None:
    """The chances of the table, one for each state of the conduit."""
    assert ways_of(planned.job, conduit=conduit)["pull cord"] == chance


def test_chance_and_length_of_what_is_planned(planned: Plan, decisions: tuple[DropDecision, ...]) -> None:
    """The first try has the chance that the plan gave the site, at most 0.99."""
    sites = {ap.id: ap.site for ap in planned.choice.access_points}
    checked = [row for row in decisions if row.drop in sites and sites[row.drop].chance is not None]
    assert checked
    for row in checked:
        assert row.steps[0].chance == pytest.approx(min(sites[row.drop].chance, 0.99), abs=6e-4)


def test_a_new_cable_to_another_storey_is_priced_and_judged_as_such(planned: Plan) -> None:
    """Fished on one storey nine times in ten, in 45 minutes; between two 0.85, in 180, and a hole to seal."""
    point = planned.job.house.meeting_points[0]
    other = next(row.id for row in planned.job.house.storeys if row.id != point.storey)

    def fished(storey: str) -> tuple[float, float]:
        ways = ways_to(planned.job, storey, point.position, 0.3, None, None, {})
        found = next(way for way in ways if way.name == "new cable")
        return found.chance, found.minutes

    assert fished(point.storey) == (0.9, 45.0) and fished(other) == (0.85, 180.0)
    nowhere = planned.job.model_copy(
        update={"house": planned.job.house.model_copy(update={"meeting_points": ()})}
    )
    ways = {way.name: way.chance for way in ways_to(nowhere, other, point.position, 0.3, None, None, {})}
    assert ways["new cable"] == 0.9, "nobody knows where it would begin"


def test_a_coax_plate_serves_within_three_metres_on_its_storey(planned: Plan) -> None:
    house = planned.job.house
    storey, other = house.storeys[0].id, house.storeys[-1].id
    plate = Outlet(id="9-01", storey=storey, position=(1.0, 1.0), kind=OutletKind.COAX)
    job = planned.job.model_copy(
        update={
            "house": house.model_copy(update={"outlets": (plate,), "runs": ()}),
            "choices": planned.job.choices.model_copy(update={"coax_adapters": True}),
        }
    )

    def offered(where: str, x: float, y: float) -> bool:
        return "other medium" in {way.name for way in ways_to(job, where, (x, y), 0.3, None, None, {})}

    assert offered(storey, 1.0, 1.0) and offered(storey, 4.0, 1.0) and offered(storey, 2.8, 3.4)
    assert not offered(storey, 4.1, 1.0) and not offered(storey, 1.0, 4.1) and not offered(other, 1.0, 1.0)


@pytest.mark.parametrize(
    ("kind", "way"), [(CableKind.COAX, "other medium"), (CableKind.CAT5E, "reuse"), (CableKind.QUAD, "reuse")]
)
def test_coax_is_another_medium_and_any_other_old_cable_is_used_again(
    planned: Plan, kind: CableKind, way: str
) -> None:
    """For an access point and for a wired outlet alike."""
    site = planned.choice.candidates[0]
    on_old = site.model_copy(update={"run": "Z1", "new_pull_m": 0.0, "way": ""})
    ap = AccessPoint(id="AP1", name="Den", site=on_old, equipment="access point HE 2x2", why="")
    out = WiredOutlet(
        id="Z-01", room="R1", name="Den", storey=site.storey, position=site.position, run="Z1", rate_mbps=1.0
    )
    choice = planned.choice.model_copy(update={"access_points": (ap,), "outlets": (out,)})
    run = Run(id="Z1", ends=("MP1", "Z-01"), kind=kind)
    house = planned.job.house.model_copy(update={"runs": (run,)})
    rows = drop_decisions(planned.job.model_copy(update={"house": house}), choice, ())
    assert [(row.drop, row.run, row.steps[0].way) for row in rows] == [
        ("AP1", "Z1", way),
        ("Z-01", "Z1", way),
    ]


@pytest.mark.parametrize(
    ("way", "first"),
    [
        ("pull cord", "pull cord"),
        ("surface", "surface cable"),
        ("fibre", "fibre"),
        ("fished", "new cable"),
    ],
)
def test_a_new_cable_is_tried_first_as_the_plan_lays_it(planned: Plan, way: str, first: str) -> None:
    site = planned.choice.candidates[0]
    laid = site.model_copy(update={"run": "", "new_pull_m": 9.0, "way": way, "chance": 0.7})
    ap = AccessPoint(id="AP1", name="Den", site=laid, equipment="access point HE 2x2", why="")
    still = ap.model_copy(update={"id": "AP2", "site": laid.model_copy(update={"new_pull_m": 0.0})})
    choice = planned.choice.model_copy(update={"access_points": (ap, still), "outlets": ()})
    (row,) = drop_decisions(planned.job, choice, ())
    assert (row.drop, row.steps[0].way, row.steps[0].chance) == ("AP1", first, 0.7), "AP2 has no cable"


def test_an_outlet_needs_a_place_and_a_cable_of_its_own_to_be_a_drop(planned: Plan) -> None:
    site = planned.choice.candidates[0]
    new = WiredOutlet(
        id="Z-01", room="R1", name="Den", storey=site.storey, position=site.position, pull="P1", rate_mbps=1.0
    )
    rows = [
        new,
        new.model_copy(update={"id": "Z-02", "position": None}),
        new.model_copy(update={"id": "Z-03", "beside_switch": True}),
        new.model_copy(update={"id": "Z-04", "pull": ""}),
    ]
    choice = planned.choice.model_copy(update={"access_points": (), "outlets": tuple(rows)})
    (row,) = drop_decisions(planned.job, choice, ())
    assert (row.drop, row.run, row.steps[0].way) == ("Z-01", "", "new cable")
