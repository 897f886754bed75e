"""Site checks: each state is reached, and says what to do."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

import sample_house
from plans_once import made_plan
from rehaul.design.conduit import conduit_fill
from rehaul.facts.equipment import equipment_named
from rehaul.house import Bell, CableKind, Estimate, Gate, Job, Run
from rehaul.jobs import open_job
from rehaul.planning import Plan
from rehaul.power import ups_minutes_range
from rehaul.takeoff import site_checks
from rehaul.takeoff.checks import _heat, _powered, _tenancy, code_region

EXAMPLES = Path(__file__).parents[3] / "examples"


@cache
def planned() -> Plan:
    return made_plan(open_job(EXAMPLES / "2008-chained-alarm.rehaul.json"))


def checks(job: Job) -> dict[str, str]:
    found = planned()
    return {row.what: row.state for row in site_checks(job, found.choice, found.network)}


def with_bell(gauge_awg: int | None, length_m: float, load_va: float) -> Job:
    job = planned().job
    length = Estimate(middle=length_m, low=length_m * 0.8, high=length_m * 1.2)
    run = Run(id="C9", ends=("M1", "1-01"), kind=CableKind.BELL_WIRE, gauge_awg=gauge_awg, length_m=length)
    bell = Bell(id="BL1", run="C9", transformer_v=16, load_va=load_va, needs_v=8)
    house = job.house.model_copy(update={"runs": (*job.house.runs, run), "bells": (bell,)})
    return job.model_copy(update={"house": house})


@pytest.mark.parametrize(
    ("gauge_awg", "length_m", "load_va", "state"),
    [
        (22, 20.0, 20.0, "pass"),  # 12.7 V
        (22, 28.0, 20.0, "mind"),  # 3.0 of the 3.2 ohm (16² / 4 · 20) at which 20 VA no longer arrive
        (18, 10.0, 10.0, "pass"),
        (24, 25.0, 20.0, "fail"),  # a thin telephone pair cannot deliver it
        (None, 10.0, 10.0, "pass"),
    ],
)
def test_voltage_at_the_door(gauge_awg: int | None, length_m: float, load_va: float, state: str) -> None:
    assert checks(with_bell(gauge_awg, length_m, load_va))["voltage at the door"] == state


def test_heat_in_a_can_of_an_attic() -> None:
    job = planned().job
    for enclosure, state in (("open wall", "pass"), ("flush metal can", "pass"), ("attic", "fail")):
        point = job.house.meeting_points[0].model_copy(update={"enclosure": enclosure})
        house = job.house.model_copy(update={"meeting_points": (point,)})
        assert checks(job.model_copy(update={"house": house}))["heat where the boxes stand"] == state


@pytest.mark.parametrize(
    ("vented", "words"),
    [(None, ": vent it"), (False, "it is closed: vent it"), (True, "air passes, so measure it")],
)
def test_a_hot_place_is_advised_by_whether_air_passes(vented: bool | None, words: str) -> None:
    job = planned().job
    point = job.house.meeting_points[0].model_copy(update={"enclosure": "attic", "vented": vented})
    attic = job.model_copy(update={"house": job.house.model_copy(update={"meeting_points": (point,)})})
    rows = site_checks(attic, planned().choice, planned().network)
    (heat,) = [row for row in rows if row.what == "heat where the boxes stand"]
    assert heat.state == "fail" and words in heat.words


def fed(job: Job, classes: tuple[int, ...], budget_w: float, draw_w: float) -> dict[str, str]:
    """State of the checks of power where the switch feeds devices of these classes."""
    first = planned().network.ports[0]
    ports = tuple(
        first.model_copy(
            update={"port": n, "poe_class": number, "poe_w": draw_w, "run": "", "injector": False}
        )
        for n, number in enumerate(classes, 1)
    )
    network = planned().network.model_copy(update={"ports": ports, "poe_budget_w": budget_w})
    return {row.what: row.state for row in site_checks(job, planned().choice, network)}


@pytest.mark.parametrize(
    ("budget_w", "draw_w", "state"), [(60.0, 20.0, "pass"), (60.0, 29.0, "mind"), (55.0, 10.0, "fail")]
)
def test_what_a_switch_sets_aside_and_what_is_drawn(budget_w: float, draw_w: float, state: str) -> None:
    """Two devices of class 4, 30 W each at the source; four fifths of the budget leave headroom."""
    assert fed(planned().job, (4, 4), budget_w, draw_w)["power the switch gives"] == state


def test_many_powered_cables_in_one_bundle() -> None:
    job = planned().job
    assert "heat in the bundle" not in fed(job, (4,), 400.0, 10.0), "one cable is no bundle"
    assert fed(job, (4,) * 8, 400.0, 10.0)["heat in the bundle"] == "pass"
    assert fed(job, (4,) * 25, 900.0, 10.0)["heat in the bundle"] == "fail", "more than 24 together"
    point = job.house.meeting_points[0].model_copy(update={"enclosure": "attic"})
    attic = job.model_copy(update={"house": job.house.model_copy(update={"meeting_points": (point,)})})
    assert fed(attic, (8,) * 20, 1500.0, 60.0)["heat in the bundle"] == "fail", "hot air, all four pairs"
    assert fed(job, (8,) * 20, 1500.0, 60.0)["heat in the bundle"] == "pass"


def test_battery_that_is_asked_for_too_long() -> None:
    job = planned().job
    choices = job.choices.model_copy(update={"ups_minutes": 600.0})
    assert checks(job.model_copy(update={"choices": choices}))["minutes on battery"] == "mind"
    assert checks(job)["minutes on battery"] == "pass"


def test_a_battery_that_lasts_only_while_it_is_new_is_minded() -> None:
    network, job = planned().network, planned().job
    kind = equipment_named(network.ups)
    aged, new = ups_minutes_range(network.core_draw_w, kind.battery_v, kind.battery_ah)
    assert aged < new
    for asked, state in ((0.9 * aged, "pass"), ((aged + new) / 2, "mind"), (1.1 * new, "mind")):
        choices = job.choices.model_copy(update={"ups_minutes": asked})
        rows = site_checks(job.model_copy(update={"choices": choices}), planned().choice, network)
        core = [row.state for row in rows if "carries the core alone" in row.words]
        assert core == [state], asked


def test_codes_of_the_country_and_the_local_caution() -> None:
    assert [code_region(c) for c in ("GB", "DE", "US", "AU")] == ["UK", "EU", "US", "AU"]
    rows = [row for row in planned().checks if row.state == "look"]
    assert {"separation from power", "bonding conductor"} <= {row.what for row in rows}
    assert all(row.words.endswith("Check your local code.") and row.source for row in rows)


def test_power_on_a_chain_is_minded() -> None:
    assert checks(planned().job)["power over an old run"] == "mind"
    assert [row.id for row in planned().checks][:2] == ["K01", "K02"]


@pytest.mark.parametrize(
    ("bore_m", "diameters_m", "fits"),
    [
        (0.0107, (0.0062,), True),  # 34 % of 53
        (0.0107, (0.0062, 0.0045), False),  # 51 % of 31
        (0.0141, (0.0062, 0.0045), True),  # 30 % of 31
        (0.0107, (0.0062, 0.0045, 0.0045), False),  # 69 % of 40
        (0.0085, (0.0062,), False),  # 53.2 % of 53
    ],
)
def test_conduit_fill(bore_m: float, diameters_m: tuple[float, ...], fits: bool) -> None:
    found = conduit_fill(bore_m, diameters_m)
    assert found.fits is fits
    assert found.fill_pct == pytest.approx(100 * sum(d**2 for d in diameters_m) / bore_m**2)


thing = SimpleNamespace


def placed(run: str = "", *, fixing: str = "stand", pull_m: float = 0.0, **more: Any) -> Any:
    site = thing(run=run, fixing=fixing, new_pull_m=pull_m)
    given = {"way": run, "supply": False, "equipment": "access point HE 2x2", **more}
    return thing(id="AP1", name="Study", site=site, **given)


def rented(agrees: bool | None, *points: Any, outlets: tuple[Any, ...] = ()) -> list[Any]:
    job = sample_house.job()
    house = job.house.model_copy(update={"tenure": "rented"})
    job = job.model_copy(update={"house": house, "gate": Gate(landlord_agrees=agrees)})
    return list(_tenancy(job, thing(access_points=points, outlets=outlets)))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("agrees", "state", "words"),
    [(None, "look", "Ask the landlord"), (False, "pass", "does not agree"), (True, "pass", "has agreed")],
)
def test_the_owner_of_a_rented_house_is_asked(agrees: bool | None, state: str, words: str) -> None:
    (row,) = rented(agrees, placed())
    assert row.state == state and words in row.words and "stands on furniture" in row.words
    assert row.about == () and row.what == "tenancy"
    assert not list(_tenancy(sample_house.job(), thing(access_points=(), outlets=())))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("points", "outlets", "fixed", "opened"),
    [
        ((placed(),), (), False, False),
        ((placed(fixing="screws"),), (), True, False),
        ((placed(pull_m=3.0),), (), True, False),
        ((placed("C05"),), (), False, True),
        ((), (thing(pull="P1", run=""),), True, False),
        ((), (thing(pull="", run="C05"),), False, True),
        ((placed("C05", fixing="screws"), placed()), (thing(pull="", run=""),), True, True),
    ],
)
def test_what_is_fixed_and_what_is_opened_is_told(
    points: tuple[Any, ...], outlets: tuple[Any, ...], fixed: bool, opened: bool
) -> None:
    (row,) = rented(None, *points, outlets=outlets)
    assert ("screwed on or drilled" in row.words) is fixed
    assert ("stands on furniture" in row.words) is not fixed
    assert ("plates and cables that are opened" in row.words) is opened
    assert row.about == (("AP1",) if any(one.site.fixing == "screws" for one in points) else ())


@pytest.mark.parametrize(
    ("point", "what", "state", "words"),
    [
        (placed("C05"), "power over an old run", "pass", "V reaches the device"),
        (placed("C04"), "power over an old run", "mind", "Only once the run is freed, mended"),
        (placed("C05", supply=True), "power at the place", "mind", "a supply of its own"),
        (placed("C05", way="C05 switched"), "power over an old run", "mind", "small switch on C05"),
        (placed("C05", way="C05 switched up C01"), "power over an old run", "mind", "small switch on C05"),
        (placed("C05", way="C05.1+C01"), "power over an old run", "mind", "small switch on C05"),
    ],
)
def test_power_to_an_access_point_on_an_old_cable(point: Any, what: str, state: str, words: str) -> None:
    (row,) = _powered(sample_house.job(), thing(access_points=(point,)))  # type: ignore[arg-type]
    assert (row.what, row.state, row.place) == (what, state, "Study") and words in row.words
    assert row.about == (point.site.run, "AP1") and row.source == "Check your local code."


def test_one_that_hangs_on_no_old_cable_has_no_such_row() -> None:
    assert not list(_powered(sample_house.job(), thing(access_points=(placed(), placed("C99")))))  # type: ignore[arg-type]


def test_heat_is_looked_at_where_something_stands() -> None:
    """A 30 W core on an open wall: one kelvin above the room's; in a can twelve, and no radio there."""
    job = sample_house.job()
    network: Any = thing(ports=(1,), core_draw_w=30.0)
    (row,) = _heat(job, network)
    assert (row.state, row.place, row.about) == ("pass", "Cellar board", ("M1",)) and "30 W" in row.words
    assert "No radio in the can" not in row.words
    (point,) = job.house.meeting_points
    can = point.model_copy(update={"enclosure": "flush metal can"})
    house = job.house.model_copy(update={"meeting_points": (can,)})
    (row,) = _heat(job.model_copy(update={"house": house}), network)
    assert "No radio in the can" in row.words
    assert not list(_heat(job, thing(ports=(), core_draw_w=30.0)))  # type: ignore[arg-type]
