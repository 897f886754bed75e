"""Small jobs, planned and put in words: what is said is what is done, on every sheet the same."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from plans_once import made_plan
from rehaul.house import parse_job
from rehaul.house.called import called
from rehaul.planning import Plan
from rehaul.sheets import tables
from rehaul.sheets.routes import style_of
from rehaul.sheets.sections import sections
from rehaul.sheets.summary import sentences

HOUSES = Path(__file__).parents[2] / "examples"
CHAIN, TERRACE, COAX = "1988-chained-cat3-dsl", "1898-terrace-no-drilling", "1999-coax-cascade"


@cache
def planned(name: str) -> Plan:
    return made_plan(parse_job((HOUSES / f"{name}.rehaul.json").read_text()))


@pytest.mark.parametrize("name", [CHAIN, TERRACE, COAX])
def test_nine_in_ten_costs_no_less_than_the_middle(name: str) -> None:
    assert planned(name).choice.candidates
    assert all(site.cost <= site.cost_90 for site in planned(name).choice.candidates)


@pytest.mark.parametrize("name", [CHAIN, TERRACE, COAX])
def test_no_switch_has_an_address_where_there_is_none(name: str) -> None:
    network = planned(name).network
    assert not network.switch
    assert "switch" not in [row.name for row in network.addresses]
    shown = {section.key for section in sections(planned(name))}
    assert "ports" not in shown
    assert ("acceptance" in shown) is (name == COAX)  # its way from adapter to adapter is tested


def test_what_counts_as_met_today_is_what_doing_nothing_serves() -> None:
    for name in (CHAIN, TERRACE, COAX):
        nothing = next(o for o in planned(name).takeoff.quote.options if o.name == "Do nothing")
        assert f"Today {nothing.rooms_served} of {nothing.rooms_total} rooms" in sentences(planned(name))[0]


def test_a_port_of_the_router_is_a_cord_and_neither_plate_nor_pull() -> None:
    found = planned(CHAIN)
    assert found.choice.router.do == "move" and found.choice.outlets
    included = " ".join(found.takeoff.quote.included)
    assert "wired outlet" not in included
    assert "A cord from a port" in included
    assert found.drops == ()
    assert found.choice.router.words in sentences(found)[1]
    assert "DSL (O1) and telephone (O2) still depend on C1" in next(row.sentence for row in found.cabling)


def test_nobody_says_pull_where_nobody_may_drill() -> None:
    found = planned(TERRACE)
    (point,) = found.choice.access_points
    assert point.site.hop
    assert "by radio from the router" in sentences(found)[1]
    assert not any(section.key.startswith("pins") for section in sections(found))
    cautions = " ".join(caution for task in found.order for caution in task.cautions)
    assert "drilling" not in cautions and "hammering" not in cautions


def test_the_whole_way_over_coax_is_drawn_as_used_and_is_no_alarm_line() -> None:
    found = planned(COAX)
    runs = {run.id: run for run in found.job.house.runs}
    assert [style_of(found, runs[name]) for name in ("K3", "K4", "K7", "K5")] == ["kept"] * 3 + ["left"]
    leave = next(
        task for task in found.order if task.title.startswith("Leave the cable " + called(found.job, "K1"))
    )
    assert "bonded to earth" in " ".join(leave.cautions)
    assert "telephone pair" not in " ".join(leave.cautions)
    checks = tables(found)["live_checks"]
    assert "Dial tone" not in repr(checks.rows)
