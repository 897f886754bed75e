"""A cable's length along the route that somebody drew, and routes that are refused."""

from __future__ import annotations

import pytest

from rehaul.errors import BadInput
from rehaul.facts.prediction import prediction_number
from rehaul.house import Estimate, Grade, House, Job, Outlet, Run, Storey, Wall
from rehaul.house.integrity import require_whole
from rehaul.network.cabling import run_length

UP_OVER_DOWN = ((1.0, 1.0, 0.3), (1.0, 1.0, 2.3), (7.0, 1.0, 2.3), (7.0, 4.0, 2.3), (7.0, 4.0, 0.3))
ALONG_M = 2 + 6 + 3 + 2


def house_with(run: Run) -> House:
    return House(
        storeys=(Storey(id="1", name="Ground", elevation_m=0),),
        walls=(
            Wall(id="W1", storey="1", start=(0, 0), end=(8, 0)),
            Wall(id="W2", storey="1", start=(8, 0), end=(8, 5)),
        ),
        outlets=(
            Outlet(id="1-01", storey="1", position=(1, 1)),
            Outlet(id="1-02", storey="1", position=(7, 4)),
        ),
        runs=(run,),
    )


def routed(*route: tuple[float, float, float], **more: object) -> Run:
    return Run.model_validate({"id": "C1", "ends": ("1-01", "1-02"), "route": route, **more})


def test_a_drawn_route_gives_the_length_with_its_slack() -> None:
    run = routed(*UP_OVER_DOWN)
    length = run_length(house_with(run), run)
    assert length.middle == pytest.approx(ALONG_M + prediction_number("slack"))
    assert length.low == pytest.approx(ALONG_M)
    assert length.high > length.middle, "a drawing is not a measurement"
    assert length.grade is Grade.INFERRED
    straight = routed()
    guessed = run_length(house_with(straight), straight)
    assert length.high - length.low < guessed.high - guessed.low, "drawing it narrows what is known"


def test_a_noted_length_rules_over_the_route() -> None:
    noted = Estimate(middle=9, low=8, high=10, grade=Grade.MEASURED)
    run = routed(*UP_OVER_DOWN, length_m=noted)
    assert run_length(house_with(run), run) == noted


@pytest.mark.parametrize(
    ("route", "path"),
    [
        (((1.0, 1.0, 0.3),), r"house\.runs\[0\] \(C1\)\.route"),
        (((1.0, 1.0, 0.3), (40.0, 1.0, 0.3)), r"house\.runs\[0\] \(C1\)\.route\[1\]"),
    ],
)
def test_a_route_of_one_point_or_out_of_the_house_is_refused_by_its_path(
    route: tuple[tuple[float, float, float], ...], path: str
) -> None:
    job = Job(id="routes", title="Routes", house=house_with(routed(*route)))
    with pytest.raises(BadInput, match=path):
        require_whole(job)
