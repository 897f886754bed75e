"""Walls and floors with composite layers are the mixtures that one would write out by hand."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from rehaul.facts.composites import composites
from rehaul.house import House, Slab, Storey, Wall
from rehaul.house.model import Layer as HouseLayer
from rehaul.predict import scene_of
from rehaul.predict.kinds import MOST_COMPOSITES, floor_kind, wall_kind
from rehaul.radio import LayeredKind, Mixture, SlabLayer, Stack
from rehaul.radio.layers import parts_of
from slab_losses import transmission_loss_db

ANGLES_DEG = np.array([0.0, 30.0, 60.0])
BANDS_HZ = (2.44e9, 5.5e9)


def wall(*layers: tuple[str, float]) -> Wall:
    made = tuple(HouseLayer(material=name, thickness_m=thick) for name, thick in layers)
    return Wall(id="W1", storey="1", start=(0, 0), end=(6, 0), layers=made)


def stack(*layers: tuple[str | None, float]) -> Stack:
    return Stack(tuple(SlabLayer(name, thick) for name, thick in layers))


def loses_as(kind: LayeredKind, by_hand: Mixture | Stack) -> None:
    for hz in BANDS_HZ:
        ours = transmission_loss_db(kind.structure, hz, ANGLES_DEG)
        assert ours == pytest.approx(transmission_loss_db(by_hand, hz, ANGLES_DEG), abs=1e-9)


def test_joists_are_a_mixture_by_area() -> None:
    floor = Slab(
        layers=(
            HouseLayer(material="plywood", thickness_m=0.019),
            HouseLayer(material="joists", thickness_m=0.286),
        )
    )
    by_hand = Mixture(
        (
            (0.12, stack(("plywood", 0.019), ("wood", 0.286))),
            (0.88, stack(("plywood", 0.019), (None, 0.286))),
        )
    )
    loses_as(floor_kind(floor, 0.305), by_hand)


def test_a_hollow_block_is_a_mixture_of_webs_and_shells() -> None:
    by_hand = Mixture(
        (
            (0.3, stack(("concrete", 0.193), ("plaster", 0.013))),
            (0.7, stack(("concrete", 0.035), (None, 0.123), ("concrete", 0.035), ("plaster", 0.013))),
        )
    )
    kind = wall_kind(wall(("hollow block", 0.193), ("plaster", 0.013)))
    loses_as(kind, by_hand)
    solid = transmission_loss_db(stack(("concrete", 0.193), ("plaster", 0.013)), 5.5e9, 0.0)
    assert transmission_loss_db(kind.structure, 5.5e9, 0.0) < solid - 3


def test_two_composites_multiply_out() -> None:
    kind = wall_kind(wall(("studs", 0.089), ("plywood", 0.012), ("hollow block", 0.2)))
    frames = ((0.1, (("wood", 0.089),)), (0.9, ((None, 0.089),)))
    blocks = (
        (0.3, (("concrete", 0.2),)),
        (0.7, (("concrete", 0.035), (None, 0.13), ("concrete", 0.035))),
    )
    by_hand = Mixture(
        tuple(
            (a * b, stack(*frame, ("plywood", 0.012), *block))
            for (a, frame), (b, block) in product(frames, blocks)
        )
    )
    loses_as(kind, by_hand)
    shares = sorted(share for share, _ in parts_of(kind.structure))
    assert shares == pytest.approx([0.03, 0.07, 0.27, 0.63])


def test_shares_of_many_composites_add_to_one() -> None:
    names = [name for name in composites() if composites()[name].holds_at(0.15)]
    layers = [(name, 0.15) for name in names][:MOST_COMPOSITES]
    parts = parts_of(wall_kind(wall(*layers)).structure)
    assert len(parts) == 2 ** len(layers)
    assert sum(share for share, _ in parts) == pytest.approx(1.0, abs=1e-9)


def test_more_composites_than_a_wall_has_are_not_known() -> None:
    kind = wall_kind(wall(*[("studs", 0.05)] * (MOST_COMPOSITES + 1)))
    assert kind.name.endswith("(guessed)")


def test_a_wall_of_materials_alone_stays_one_stack() -> None:
    kind = wall_kind(wall(("brick", 0.1), ("air", 0.05), ("brick", 0.1)))
    assert kind.structure == stack(("brick", 0.1), (None, 0.05), ("brick", 0.1))
    assert kind.sd_db == 2.0


def test_the_spread_is_that_of_the_worst_known_layer() -> None:
    assert wall_kind(wall(("studs", 0.1), ("hollow block", 0.2))).sd_db == composites()["hollow block"].sd_db


def test_beyond_its_thickness_a_composite_is_guessed() -> None:
    assert wall_kind(wall(("hollow block", 0.1))).name.endswith("(guessed)")


def test_a_house_with_composites_is_cut_into_a_scene() -> None:
    storey = Storey(id="1", name="Ground", elevation_m=0, height_m=2.5)
    scene = scene_of(House(storeys=(storey,), walls=(wall(("studs", 0.1)),))).scene
    assert [kind.name for kind in scene.kinds] == ["studs 100 mm"]
