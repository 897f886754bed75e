"""What a page may ask of the live map, and which box stands where for one request."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.errors import BadInput
from rehaul.house import Job, Storey
from rehaul.house.model import House
from rehaul.jobs import JobState
from rehaul.predict import Radiator
from rehaul.web.fields import MOST_BOXES, Move, Sketch, Stand, _moved, _radiators, _values, ask_from

HOUSE = House(
    storeys=(
        Storey(id="g", name="Ground", elevation_m=0.0, height_m=2.5),
        Storey(id="u", name="Upper", elevation_m=3.0, height_m=2.5),
    )
)
JOB = Job(id="j", title="J", house=HOUSE)
SPOT = {"storey": "g", "position": [1.0, 2.0]}
BOX = {"id": "A", "equipment": "access point HE 2x2", "storey": "g", "position": [1, 2]}


def test_a_storey_or_a_spot_and_never_both() -> None:
    assert ask_from({"n": 1, "storey": "g"}).storey == "g"
    spot = ask_from({"n": 0, "spot": SPOT}).spot
    assert spot is not None and spot.position == (1.0, 2.0)
    for data in ({"n": 1}, {"n": 1, "storey": "g", "spot": SPOT}):
        with pytest.raises(BadInput, match="a storey or a spot is wanted") as caught:
            ask_from(data)
        assert caught.value.where == "storey"


@pytest.mark.parametrize(
    ("more", "where"),
    [
        ({"step_m": 0}, "step_m"),
        ({"n": -1}, "n"),
        ({"quantity": "taste"}, "quantity"),
        ({"moves": [{"id": "A", "height_m": -0.1}]}, "moves.0.height_m"),
        ({"moves": [{"id": "A"}] * (MOST_BOXES + 1)}, "moves"),
        ({"changes": [{}] * 51}, "changes"),
    ],
)
def test_what_is_wrong_is_named_by_its_place(more: dict[str, Any], where: str) -> None:
    with pytest.raises(BadInput) as caught:
        ask_from({"n": 1, "storey": "g", **more})
    assert caught.value.where == where


def test_as_many_boxes_and_changes_as_there_may_be() -> None:
    full = {"boxes": [BOX] * MOST_BOXES, "moves": [{"id": "A"}] * MOST_BOXES, "changes": [{}] * 50}
    ask = ask_from({"n": 1, "storey": "g", **full})
    assert (len(ask.boxes), len(ask.moves), len(ask.changes)) == (40, 40, 50)


def test_what_is_no_object_at_all_is_a_fault_of_the_request() -> None:
    with pytest.raises(BadInput) as caught:
        ask_from([])  # type: ignore[arg-type]
    assert caught.value.where == "request"


@pytest.mark.parametrize(
    ("quantity", "called"),
    [
        ("down_mbps", ("rate", "median", False)),
        ("low_mbps", ("rate", "low", False)),
        ("high_mbps", ("rate", "high", False)),
        ("up_mbps", ("rate", "median", True)),
        ("up_low_mbps", ("rate", "low", True)),
        ("up_high_mbps", ("rate", "high", True)),
        ("power_dbm", ("power", "5")),
        ("power_sd_db", ("spread", "5")),
    ],
)
def test_each_quantity_is_drawn_from_its_own_raster(quantity: str, called: tuple[Any, ...]) -> None:
    frame = SimpleNamespace(
        rate_mbps=lambda end, *, up: ("rate", end, up),
        power_dbm=lambda band: ("power", band),
        power_sd_db=lambda band: ("spread", band),
    )
    ask = ask_from({"n": 1, "storey": "g", "quantity": quantity, "band": "5"})
    assert _values(ask, frame) == called  # type: ignore[arg-type]


def test_planned_boxes_stand_only_where_there_is_a_plan() -> None:
    ask = ask_from({"n": 1, "storey": "g", "boxes": "plan"})
    with pytest.raises(BadInput, match="no plan yet"):
        _radiators(ask, JOB, None)
    assert _radiators(ask, JOB, ()) == ()


BOX_UP = Radiator(id="A", name="A", equipment="access point HE 2x2", position_m=(1.0, 2.0, 5.4))


@pytest.mark.parametrize(
    ("move", "position_m"),
    [(Move(id="A"), (1.0, 2.0, 5.4)), (Move(id="A", height_m=0.0), (1.0, 2.0, 3.0))],
)
def test_a_box_put_onto_the_floor_and_one_that_stays(move: Move, position_m: tuple[float, ...]) -> None:
    """The floor is 3 m up; the move of another box comes first."""
    other = Move(id="C", position=(0, 0))
    assert _moved(JOB, BOX_UP, (other, move)).position_m == pytest.approx(position_m)


def test_a_raster_says_which_request_and_which_state_it_answers() -> None:
    from rehaul.jobs.demo import demo_job

    job = demo_job()
    storey = job.house.storeys[0].id
    ask = ask_from({"n": 12, "storey": storey, "step_m": 1.0, "boxes": [{**BOX, "storey": storey}]})
    framed = Sketch().answer(ask, JobState(7, job), None)
    assert isinstance(framed, bytes)
    for said in (b'"n":12', b'"revision":7', f'"storey":"{storey}"'.encode(), b'"step_m":1.0'):
        assert said in framed[:400]


def test_heights_as_a_page_says_them() -> None:
    assert Stand.model_validate(BOX).height_m == 2.4 and Stand.model_validate(BOX).wire_mbps == 1000.0
