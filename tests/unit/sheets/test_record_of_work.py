"""The record tells the work of the plan: its holes, its new cables, and every old cable once."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

import rehaul
from plans_once import made_plan
from rehaul.planning import Plan
from rehaul.sheets.record_tables import holes, left_cables, reversible

EXAMPLES = Path(__file__).parents[3] / "examples"


@cache
def planned(name: str) -> Plan:
    return made_plan(rehaul.load(EXAMPLES / f"{name}.rehaul.json"))


@pytest.mark.parametrize("name", ["1898-terrace-no-drilling", "1996-open-subfloor", "1999-coax-cascade"])
def test_every_old_cable_stands_once_and_new_ones_as_they_are_labelled(name: str) -> None:
    found = planned(name)
    told, left = [row[0] for row in reversible(found).rows], [row[0] for row in left_cables(found).rows]
    runs = [run.id for run in found.job.house.runs]
    assert sorted([*left, *(thing for thing in told if thing in runs)]) == sorted(runs)
    cut = {name for line in found.takeoff.cuts for name in (line.id, *line.because)}
    new = {str(thing) for thing in told if str(thing).startswith("NC")}
    assert new == {name for name in cut if name.startswith("NC")}


@pytest.mark.parametrize("name", ["1898-terrace-no-drilling", "1996-open-subfloor"])
def test_holes_are_those_of_the_order_of_work(name: str) -> None:
    found = planned(name)
    rows = [row[:5] for row in holes(found).rows if row[0]]
    assert rows == [(h.id, h.cable, h.place, h.through, h.seal) for h in found.takeoff.holes]


def test_a_box_by_radio_takes_no_cable_and_no_hole() -> None:
    found = planned("1898-terrace-no-drilling")
    assert not found.takeoff.holes
    assert not any("cable" in str(row[1]) for row in reversible(found).rows)


def test_rooms_and_coax_are_named() -> None:
    rows = {row[0]: row for row in reversible(planned("1996-open-subfloor")).rows}
    assert rows["NC1"][1] == "New cable NC1 laid to Main bedroom"
    assert rows["NC1"][2] == "1 hole"
    assert rows["NC5"][2] == "no hole of its own"
    coax = {row[0]: row for row in reversible(planned("1999-coax-cascade")).rows}
    assert "adapter at each end" in str(coax["K4"][1])
    assert "jacks" in str(coax["C1"][1])
