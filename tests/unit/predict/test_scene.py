"""Cutting a house into panels: nothing is lost, nothing counts twice, openings are where they are."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rehaul.house import Body, BodyKind, House, Opening, OpeningKind, Room, Slab, Storey, Wall
from rehaul.predict import scene_of
from rehaul.predict.doubts import straight_db
from rehaul.predict.kinds import floor_kind
from rehaul.predict.scene import SLIVER_M
from rehaul.radio import DiffuseRoom, Level, Scene, Transmitter, field, grid_over, kind
from rehaul.radio.diffuse import usual_room

GROUND = Storey(id="1", name="Ground", elevation_m=0, height_m=2.5, floor=Slab(thickness_m=0.2))
WALL = Wall(id="W1", storey="1", start=(0, 0), end=(6, 0), construction="brick-half")


def areas(house: House) -> dict[str, float]:
    scene = scene_of(house)
    panels = scene.scene.panels_m
    found: dict[str, float] = {}
    for owner, (x0, y0, x1, y1, z0, z1) in zip(scene.panel_owner, panels, strict=True):
        found[owner] = found.get(owner, 0.0) + float(np.hypot(x1 - x0, y1 - y0) * (z1 - z0))
    return found


def test_a_plain_wall_reaches_into_the_slab_below() -> None:
    assert areas(House(storeys=(GROUND,), walls=(WALL,))) == {"W1": pytest.approx(6 * 2.6)}


def test_a_shut_door_stands_in_its_hole_and_an_open_one_leaves_it_empty() -> None:
    door = Opening(id="D1", wall="W1", kind=OpeningKind.DOOR, offset_m=1, width_m=0.8, height_m=2.0)
    shut = areas(House(storeys=(GROUND,), walls=(WALL,), openings=(door,)))
    assert shut["D1"] == pytest.approx(1.6)
    assert shut["W1"] == pytest.approx(6 * 2.6 - 1.6)
    opened = areas(
        House(storeys=(GROUND,), walls=(WALL,), openings=(door.model_copy(update={"open": True}),))
    )
    assert opened == {"W1": pytest.approx(6 * 2.6 - 1.6)}


@given(
    st.lists(st.tuples(st.floats(0, 5), st.floats(0.1, 2), st.floats(0, 1.5), st.floats(0.1, 3)), max_size=6)
)
def test_wall_and_openings_together_make_the_whole_wall(
    cuts: list[tuple[float, float, float, float]],
) -> None:
    openings = tuple(
        Opening(
            id=f"X{i}",
            wall="W1",
            kind=OpeningKind.WINDOW,
            offset_m=a,
            width_m=min(w, 6 - a),
            sill_m=s,
            height_m=h,
        )
        for i, (a, w, s, h) in enumerate(cuts)
    )
    found = areas(House(storeys=(GROUND,), walls=(WALL,), openings=openings))
    slivers = (len(cuts) + 1) * SLIVER_M * (6 + 2.6) * 3
    assert sum(found.values()) == pytest.approx(6 * 2.6, abs=slivers)
    assert sum(found.values()) <= 6 * 2.6 + 1e-6


def test_walls_meet_the_slabs_of_both_storeys() -> None:
    upper = Storey(id="2", name="Upper", elevation_m=2.8, height_m=2.4, floor=Slab(thickness_m=0.3))
    above = WALL.model_copy(update={"id": "W2", "storey": "2"})
    scene = scene_of(House(storeys=(GROUND, upper), walls=(WALL, above))).scene
    assert scene.panels_m[0, 5] == pytest.approx(2.65)
    assert scene.panels_m[1, 4] == pytest.approx(2.65)


def test_unknown_walls_are_guessed_wider() -> None:
    unknown = WALL.model_copy(update={"construction": "unknown", "thickness_m": 0.1})
    house = House(storeys=(GROUND,), walls=(unknown,))
    kinds = {country: scene_of(house, country).scene.kinds[0] for country in ("US", "GB", "DE", None)}
    assert kinds["US"].name.startswith("stud-plasterboard or") and kinds["US"].name.endswith("(guessed)")
    assert kinds["DE"].name == "masonry or stud-plasterboard (guessed)"
    assert all(one.sd_db > kind("stud-plasterboard").sd_db for one in kinds.values())
    losses = {country: straight_db((one,))[0] for country, one in kinds.items()}
    assert losses["US"] < losses["GB"] < losses[None] < losses["DE"] < straight_db((kind("masonry"),))[0]


def test_a_floor_nobody_named_is_never_the_clearest() -> None:
    """Its loss is a mean of what such floors are, and its spread holds both."""
    for country, year in (("US", 1990), ("GB", 1930), ("DE", 1990), ("DE", 1900), (None, None)):
        made_of = floor_kind(GROUND.floor, 0.3, country, year)
        timber = straight_db((kind("timber-floor"),))[0]
        assert straight_db((made_of,))[0] > timber + 1.0
        assert made_of.sd_db > kind("timber-floor").sd_db
    assert straight_db((floor_kind(GROUND.floor, 0.3, "DE", 1990),))[0] > 20


FRIDGE = Body(
    id="K1", storey="1", kind=BodyKind.FRIDGE, corner=(3.0, 2.2), width_m=0.6, depth_m=0.65, height_m=1.8
)
BANDS = (2.442e9, 5.5e9, 6.525e9)


def test_a_body_is_a_box_with_the_ways_that_are_open_round_it() -> None:
    hung = FRIDGE.model_copy(update={"id": "K2", "base_m": 1.1, "height_m": 0.8})
    breast = FRIDGE.model_copy(
        update={"id": "K3", "corner": (1.0, 1.0), "height_m": 2.5, "construction": "chimney-breast"}
    )
    upper = Storey(id="2", name="Upper", elevation_m=2.8, height_m=2.4, floor=Slab(thickness_m=0.3))
    above = FRIDGE.model_copy(update={"id": "K4", "storey": "2"})
    found = scene_of(House(storeys=(GROUND, upper), walls=(WALL,), bodies=(FRIDGE, hung, breast, above)))
    assert found.body_owner == ("K1", "K2", "K3", "K4") and set(found.panel_owner) == {"W1"}
    fridge, boiler, chimney, upstairs = found.scene.bodies
    assert (fridge.low_m, fridge.high_m) == ((3.0, 2.2, 0.0), pytest.approx((3.6, 2.85, 1.8)))
    assert (upstairs.low_m[2], upstairs.high_m[2]) == pytest.approx((2.8, 4.6))
    assert [(b.over, b.under) for b in (fridge, boiler, chimney)] == [
        (True, False),
        (True, True),
        (False, False),
    ]
    assert [found.scene.kinds[b.kind].name for b in (fridge, chimney)] == ["metal-body", "chimney-breast"]


def test_a_body_knows_the_room_it_stands_in() -> None:
    sides = ((0, 0), (4, 0), (4, 3), (0, 3)), ((4, 0), (9, 0), (9, 4), (4, 4)), ((-9, -9), (-1, -9), (-1, 9))
    rooms = tuple(Room(id=f"R{i}", name=f"R{i}", storey="1", polygon=ring) for i, ring in enumerate(sides))
    rooms = *rooms[:2], rooms[2].model_copy(update={"outside": True})

    def room_at(x: float, y: float = 1.0) -> DiffuseRoom | None:
        body = FRIDGE.model_copy(update={"corner": (x, y)})
        return scene_of(House(storeys=(GROUND,), rooms=rooms, bodies=(body,))).scene.bodies[0].room

    left, right = room_at(1.0), room_at(6.0)
    assert left == (pytest.approx(2 * 12 + 14 * 2.5), pytest.approx(12 * 2.5))
    assert right == (pytest.approx(2 * 20 + 18 * 2.5), pytest.approx(20 * 2.5))
    between = room_at(4.0 - 0.25 * FRIDGE.width_m)  # a quarter of it in the left one
    assert between == pytest.approx(0.25 * np.array(left) + 0.75 * np.array(right))
    assert room_at(-4.0, 0.0) is None  # in the garden
    assert room_at(30.0) == usual_room()  # nowhere


ROOM = Room(id="R1", name="Kitchen", storey="1", polygon=((0, 0), (6, 0), (6, 5), (0, 5)))


def open_room(*bodies: Body) -> Scene:
    walls = tuple(
        Wall(id=f"W{i}", storey="1", start=a, end=b, construction="stud-plasterboard")
        for i, (a, b) in enumerate(pairwise([(0, 0), (6, 0), (6, 5), (0, 5), (0, 0)]))
    )
    return scene_of(House(storeys=(GROUND,), walls=walls, rooms=(ROOM,), bodies=bodies)).scene


@pytest.mark.parametrize("up_m", [0.3, 1.217])
@pytest.mark.parametrize("level", ["direct", "reflections", "full"])
def test_a_refrigerator_costs_its_room_little_and_smoothly_wherever_it_stands(
    level: Level, up_m: float
) -> None:
    """Across the room from right in front of a router on the floor or a table: 6 dB at most in the mean."""
    grid, sender = grid_over(0.013, 0.017, 6, 5, 0.25, (1.013,)), Transmitter((0.51, 2.53, up_m))
    empty = field(open_room(), sender, grid, BANDS, level).gain_db
    places = np.arange(0.52, 5.39, 0.01 if level == "direct" else 0.04)
    means = []
    for x in places:
        body = FRIDGE.model_copy(update={"corner": (float(x), 2.2)})
        lost = empty - field(open_room(body), sender, grid, BANDS, level).gain_db
        means.append(lost.mean(axis=(1, 2, 3)))
        assert lost.max() < 12 and lost.min() > -0.02  # mirrors far below the direct path are left out
    assert 0.1 < np.max(means) <= 6
    assert np.abs(np.diff(means, axis=0)).max() / np.diff(places).min() < 5  # dB a metre
