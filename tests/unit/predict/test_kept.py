"""A house that is kept while it is edited: what is kept is what would be computed anew, and made once."""

from __future__ import annotations

import json
import pickle
import random
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from counts import LONG, counted
from drawn_edits import edited
from rehaul.house import Job
from rehaul.jobs import demo_job, open_job
from rehaul.planning import Answer, plan_data, weigh
from rehaul.planning.document import answer_document
from rehaul.predict import kept as module
from rehaul.predict import receivers_of, standing_radiators
from rehaul.predict.air import DEFAULT_LISTENER, Air, Listener
from rehaul.predict.calibration import calibration_of, corrected_air
from rehaul.predict.kept import KeptHouse
from rehaul.predict.scene import scene_of

JOB = demo_job()
HOUSES = Path(__file__).parents[3] / "examples"
SMALL = ("1974-flat-old-laptop", "1993-hundred-meets-hundred", "1972-concrete-conduit")


def same(one: tuple[Air, ...], other: tuple[Air, ...]) -> bool:
    return len(one) == len(other) and all(
        a.band == b.band
        and a.radiator == b.radiator
        and np.array_equal(a.power_dbm, b.power_dbm)
        and np.array_equal(a.sd_db, b.sd_db)
        and a.delivered == b.delivered
        for a, b in zip(one, other, strict=True)
    )


def test_the_same_house_is_looked_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[str] = []

    def counting(name: str, real: Callable[..., object]) -> Callable[..., object]:
        def make(*given: object, **more: object) -> object:
            made.append(name)
            return real(*given, **more)

        return make

    for name in ("scene_of", "receivers_of", "calibration_of", "corrected_airs"):
        monkeypatch.setattr(module, name, counting(name, getattr(module, name)))
    house, box = KeptHouse(), standing_radiators(JOB)[0]
    for _ in range(2):
        job = Job.model_validate_json(JOB.model_dump_json())  # equal, and another object
        scene = house.scene(job)
        grid = house.receivers(job.house).grid
        calibration = house.calibration(job, scene)
        found = house.air(job, scene, box, grid, DEFAULT_LISTENER, calibration)
    assert made == ["scene_of", "receivers_of", "calibration_of", "corrected_airs"]
    plain = corrected_air(
        JOB,
        (fresh := scene_of(JOB.house, JOB.country)),
        box,
        receivers_of(JOB.house).grid,
        DEFAULT_LISTENER,
        calibration_of(JOB, fresh, standing_radiators(JOB)),
    )
    assert same(found, plain)


def in_house(**rows: object) -> Job:
    return JOB.model_copy(update={"house": JOB.house.model_copy(update=rows)})


HOUSE = JOB.house
BRICK = next(wall for wall in HOUSE.walls if wall.construction != HOUSE.walls[0].construction)
OTHERS = {  # each says something else of the field than the invented house does
    "walls": in_house(
        walls=tuple(
            w.model_copy(update={"construction": BRICK.construction, "layers": BRICK.layers})
            for w in HOUSE.walls
        )
    ),
    "openings": in_house(openings=()),
    "bodies": in_house(bodies=()),
    "storeys": in_house(
        storeys=tuple(s.model_copy(update={"elevation_m": s.elevation_m * 1.2}) for s in HOUSE.storeys)
    ),
    "readings": JOB.model_copy(update={"readings": ()}),
    "boxes": JOB.model_copy(update={"boxes": tuple(b for b in JOB.boxes if b.equipment == "")}),
    "radar": JOB.model_copy(update={"choices": JOB.choices.model_copy(update={"dfs": not JOB.choices.dfs})}),
    "country": JOB.model_copy(update={"country": "US" if JOB.country != "US" else "GB"}),
}


@pytest.mark.parametrize("what", OTHERS)
def test_whatever_the_field_depends_on_is_looked_at_again(what: str) -> None:
    """Kept of the invented house, asked of one that differs in one thing, and of the invented one again."""
    house, box = KeptHouse(), standing_radiators(JOB)[0]
    for job in (JOB, OTHERS[what], JOB):
        scene = house.scene(job)
        calibration = house.calibration(job, scene)
        grid = house.receivers(job.house).grid
        plain = scene_of(job.house, job.country)
        known = calibration_of(job, plain, standing_radiators(job))
        for listener in (DEFAULT_LISTENER, Listener("laptop")):
            asked = (box, grid, listener)
            assert grid == receivers_of(job.house).grid
            for kept, fresh in ((calibration, known), (None, None)):
                found = house.air(job, scene, *asked, kept)
                assert same(found, corrected_air(job, plain, *asked, fresh))


def test_walls_that_nobody_named_are_as_their_country_builds_them() -> None:
    house = KeptHouse()
    walls = tuple(w.model_copy(update={"construction": "unknown", "layers": ()}) for w in HOUSE.walls)
    kinds = set()
    for country in ("GB", "US", "GB"):
        job = in_house(walls=walls).model_copy(update={"country": country})
        assert house.scene(job).scene.kinds == scene_of(job.house, country).scene.kinds
        kinds.add(house.scene(job).scene.kinds)
    assert len(kinds) == 2


@pytest.mark.parametrize(
    "change",
    [
        {"position_m": (2.0, 2.0, 1.0)},
        {"mounting": "ceiling"},
        {"id": "another"},
        {"widths_mhz": (("5", 20),)},
    ],
)
def test_another_box_has_another_field(change: dict[str, object]) -> None:
    house, box = KeptHouse(), standing_radiators(JOB)[0]
    scene, grid = house.scene(JOB), receivers_of(JOB.house).grid
    calibration = house.calibration(JOB, scene)
    for one in (box, replace(box, **change)):  # type: ignore[arg-type]
        found = house.air(JOB, scene, one, grid, DEFAULT_LISTENER, calibration)
        assert same(found, corrected_air(JOB, scene, one, grid, DEFAULT_LISTENER, calibration))


def test_wires_and_hops_alone_leave_the_field_as_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    house, box = KeptHouse(), standing_radiators(JOB)[0]
    scene, grid = house.scene(JOB), receivers_of(JOB.house).grid
    first = house.air(JOB, scene, box, grid, DEFAULT_LISTENER)
    monkeypatch.setattr(module, "corrected_airs", None)  # nothing is computed again
    fed = replace(box, name="By radio", wire=(), hop_mbps=40.0)
    again = house.air(JOB, scene, fed, grid, DEFAULT_LISTENER)
    assert [air.radiator for air in again] == [fed for _ in first]


def test_verdicts_side_by_side_are_of_one_question() -> None:
    house, box = KeptHouse(), standing_radiators(JOB)[0]
    asked: dict[str, Any] = {
        "job": JOB,
        "scene": house.scene(JOB),
        "boxes": (box,),
        "places": receivers_of(JOB.house).in_rooms,
        "client": "phone",
        "calibration": house.calibration(JOB, house.scene(JOB)),
    }
    first = house.tables(**asked)
    assert house.tables(**asked) is first
    others = [
        ("job", OTHERS["country"]),
        ("job", OTHERS["radar"]),
        ("scene", house.scene(OTHERS["walls"])),
        ("boxes", (replace(box, mounting="ceiling"),)),
        ("places", receivers_of(JOB.house).in_rooms),
        ("client", "laptop"),
        ("calibration", None),
    ]
    for name, other in others:
        assert house.tables(**{**asked, name: other}) is not first, name
    assert house.tables(**asked) is first


def test_readings_that_say_the_same_keep_what_hangs_on_them() -> None:
    house, scene = KeptHouse(), KeptHouse().scene(JOB)
    first = house.calibration(JOB, scene)
    plate = JOB.house.outlets[0].model_copy(update={"name": "Behind the sofa"})
    outlets = (plate, *JOB.house.outlets[1:])
    renamed = JOB.model_copy(update={"house": JOB.house.model_copy(update={"outlets": outlets})})
    assert house.calibration(renamed, scene) is first
    assert pickle.loads(pickle.dumps(house))._calibrations._results == {}, "it goes along empty"
    fewer = JOB.model_copy(update={"readings": JOB.readings[1:]})
    assert house.calibration(fewer, scene) is not first


def test_the_oldest_airs_go_where_there_is_no_room_for_more() -> None:
    house = KeptHouse(most_air_bytes=1)
    scene, grid = house.scene(JOB), receivers_of(JOB.house).grid
    box = standing_radiators(JOB)[0]
    other = replace(box, position_m=(2.0, 2.0, 1.0))
    for one in (box, other, box):
        assert same(
            house.air(JOB, scene, one, grid, DEFAULT_LISTENER),
            corrected_air(JOB, scene, one, grid, DEFAULT_LISTENER),
        )
        assert len(house._airs._results) == 1


def test_boxes_asked_together_are_each_as_alone_and_only_the_new_are_made(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    house, (box, *_) = KeptHouse(), standing_radiators(JOB)
    scene, cells = house.scene(JOB), receivers_of(JOB.house).in_rooms
    calibration = house.calibration(JOB, scene)
    spots = [replace(box, position_m=(2.0 + n, 2.0, 1.0)) for n in range(11)]
    boxes = [box, *spots, replace(spots[0], id="another"), replace(spots[1], mounting="ceiling"), spots[2]]
    made: list[int] = []
    real = module.corrected_airs

    def counting(job: Job, radiators: Sequence[Any], *more: Any) -> Any:
        made.append(len(radiators))
        return real(job, radiators, *more)

    monkeypatch.setattr(module, "corrected_airs", counting)
    house.airs(JOB, scene, boxes[:3], cells, DEFAULT_LISTENER, calibration)
    found = house.airs(JOB, scene, boxes, cells, DEFAULT_LISTENER, calibration)
    assert made == [3, len(set(boxes)) - 3]
    for one, airs in zip(boxes, found, strict=True):
        assert airs and same(airs, corrected_air(JOB, scene, one, cells, DEFAULT_LISTENER, calibration))


def told(answer: Answer) -> dict[str, Any]:
    return answer_document(answer).model_dump(mode="json")


def answered(plan: dict[str, Any]) -> dict[str, Any]:
    """Of a plan what its answer says, what comes after it left out."""
    choice = plan["choice"] | {
        "front": [],
        "why_not": [],
        "what_one_more_buys": "",
        "problem": {},
    }
    choice["access_points"] = [row | {"why": row["site"]["why"]} for row in choice["access_points"]]
    choice["shortfalls"] = [row | {"fix": "", "fix_cost": None} for row in choice["shortfalls"]]
    price = plan["takeoff"]["quote"] | {"options": []}
    same = {name: plan[name] for name in ("before", "after", "notes", "channels")}
    return same | {"choice": choice | {"words": "", "proven": None}, "price": price}


def require_alike(job: Job, house: KeptHouse, edit: str = "") -> None:
    """The plan kept up is that from scratch, and what was told of it before is what it says."""
    first: list[dict[str, Any]] = []
    up = plan_data(weigh(job, kept=house, told=lambda answer: first.append(told(answer))).fresh)
    scratch = plan_data(weigh(job).fresh)
    assert json.dumps(up) == json.dumps(scratch), edit
    (before,) = first
    assert before["choice"]["proven"] is False, "its auditor has not read it"
    before["choice"] |= {"words": "", "proven": None}
    assert json.dumps(before, sort_keys=True) == json.dumps(answered(up), sort_keys=True), edit


@pytest.mark.parametrize("name", SMALL if LONG else SMALL[:1])
def test_a_plan_that_is_kept_up_is_that_from_scratch_byte_for_byte(name: str) -> None:
    rng = random.Random(name)
    for _ in range(counted(1, 20)):
        job, house = open_job(HOUSES / f"{name}.rehaul.json"), KeptHouse()
        made = []
        for _ in range(counted(4, 20)):
            kind, job = edited(job, rng)
            made.append(kind)
            require_alike(job, house, ", ".join(made))
