"""What a page may ask of the live map, and which box stands where for one request."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.errors import BadInput
from rehaul.house import Job, Storey
from rehaul.house.model import House
from rehaul.jobs import JobState
from rehaul.predict import Radiator
from rehaul.web.fields import MOST_BOXES, Move, Sketch, Stand, _moved, _radiators, _values, ask_from
from rehaul.web.still import MOST_KEPT, StillMaps

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


def _as_held(answer: bytes | dict[str, Any]) -> bool:
    return isinstance(answer, dict) and answer["as_held"] is True


def test_a_map_that_the_page_holds_is_not_sent_again() -> None:
    from rehaul.jobs.demo import demo_job

    job = demo_job()
    one, other = (storey.id for storey in job.house.storeys[:2])
    sketch = Sketch()

    def asks(n: int, now: Job, **more: Any) -> bytes | dict[str, Any]:
        return sketch.answer(ask_from({"n": n, "storey": one, "step_m": 1.0, **more}), JobState(n, now), None)

    assert isinstance(asks(1, job), bytes)
    assert isinstance(asks(2, job), bytes), "a page that says nothing of what it holds gets all of it"
    richer = job.model_copy(update={"notes": "elsewhere"})
    said = asks(3, richer, held=2)
    assert isinstance(said, dict) and said["as_held"] is True and (said["n"], said["revision"]) == (3, 3)
    assert _as_held(asks(4, job, held=3)), "it holds what an answer before said that it holds"
    assert isinstance(asks(5, job, held=3), bytes), "not the last that it was sent of this storey"
    above = asks(6, job, held=5, storey=other)
    assert isinstance(above, bytes) and f'"storey":"{other}"'.encode() in above[:400]
    assert _as_held(asks(7, job, held=5)), "storey by storey"
    assert isinstance(asks(8, job, held=7, quantity="up_mbps"), bytes)
    assert isinstance(asks(9, job, held=8, step_m=0.5, quantity="up_mbps"), bytes)
    moved = job.boxes[0].position[0] + 1.5, job.boxes[0].position[1]
    elsewhere = job.model_copy(
        update={"boxes": (job.boxes[0].model_copy(update={"position": moved}), *job.boxes[1:])}
    )
    assert isinstance(asks(10, job), bytes) and isinstance(asks(11, elsewhere, held=10), bytes)


def test_a_map_that_no_hand_moves_is_made_once_for_all_pages() -> None:
    from rehaul.jobs.demo import demo_job

    job = demo_job()
    state, storey = JobState(3, job), job.house.storeys[0].id
    made: list[Any] = []

    class Counted(StillMaps):
        def get(self, shows: Any, make: Any) -> Any:
            return super().get(shows, lambda moving: made.append(shows) or make(moving))

    still = Counted()
    pages = [Sketch(still) for _ in range(3)]

    def asks(page: Sketch, now: JobState = state, **more: Any) -> bytes | dict[str, Any]:
        radiators = more.pop("planned", None)
        return page.answer(ask_from({"n": 1, "storey": storey, "step_m": 1.0, **more}), now, radiators)

    first = [asks(page) for page in pages]
    assert len(made) == 1 and all(isinstance(one, bytes) for one in first)
    assert len({bytes(one)[-400:] for one in first if isinstance(one, bytes)}) == 1
    planned = (BOX_UP,)
    for page in pages:
        asks(page, boxes="plan", planned=planned)
        asks(page, boxes="plan", planned=(replace(BOX_UP),))  # the plan that its answer came before
    assert len(made) == 2
    asks(pages[0], boxes="plan", planned=(replace(BOX_UP, id="B"),))
    assert len(made) == 3
    moved = asks(pages[0], moves=[{"id": job.boxes[0].id, "position": [1.0, 1.0]}])
    assert isinstance(moved, bytes) and isinstance(first[0], bytes) and moved[-400:] != first[0][-400:]
    asks(pages[0], changes=[{"do": "set", "kind": "job", "fields": {"notes": "x"}}])
    asks(pages[0], boxes=[{**BOX, "storey": storey}])
    assert len(made) == 3, "what a hand moves is the page's own"
    asks(pages[0], JobState(4, job.model_copy(update={"notes": "x"})))
    assert len(made) == 4


def test_maps_of_long_ago_are_let_go() -> None:
    still, made = StillMaps(), []

    def asked(number: int) -> Any:
        def make(moving: Any) -> Any:
            made.append(number)
            return SimpleNamespace(of=number)

        return still.get(number, make)

    for number in [*range(MOST_KEPT + 1), MOST_KEPT, 0]:
        assert asked(number).of == number
    assert made == [*range(MOST_KEPT + 1), 0], "the newest is there still, the oldest is not"
