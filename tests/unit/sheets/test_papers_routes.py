"""Which part of a run lies on which storey, and where it goes up or down."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

import sample_plan
from rehaul.sheets import routes


def by_id() -> dict[str, routes.Route]:
    return {route.id: route for route in routes.routes_of(sample_plan.plan())}


def test_styles_by_what_becomes_of_a_run() -> None:
    styles = {name: route.style for name, route in by_id().items()}
    assert styles["C01"] == styles["C03"] == styles["C05"] == "kept"
    assert styles["C02"] == "held"
    assert styles["C04"] == styles["C06"] == "left"
    assert styles["N1"] == "new"


def test_a_run_with_one_known_end_has_no_way_to_draw() -> None:
    assert "C08" not in by_id()


def test_the_parts_of_a_route_add_up_to_its_length_on_the_sheet() -> None:
    house = sample_plan.house()
    for route in by_id().values():
        flat = sum(math.dist(a[:2], b[:2]) for a, b in pairwise(route.points))
        parts = [part for storey in house.storeys for part in routes.on_storey(route, house, storey)]
        drawn = sum(math.dist(a, b) for part in parts for a, b in pairwise(part))
        assert drawn == pytest.approx(flat), route.id


def test_risers_say_up_and_down() -> None:
    house = sample_plan.house()
    every = routes.routes_of(sample_plan.plan())
    lower, ground, upper = (routes.risers(every, house, storey) for storey in house.storeys)
    assert [(riser.up, riser.down) for riser in lower] == [(True, False)]
    assert [(riser.up, riser.down) for riser in ground] == [(True, True)]
    assert [(riser.up, riser.down) for riser in upper] == [(False, True)]
    assert set(upper[0].runs) == {"C01", "C04", "C05"}


def test_a_bare_house_is_drawn_as_found() -> None:
    assert {route.style for route in routes.routes_of(sample_plan.house())} == {"found"}
