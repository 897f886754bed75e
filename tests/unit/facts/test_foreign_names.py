"""Names from elsewhere mean something of ours."""

from __future__ import annotations

import pytest

from rehaul.facts.composites import composites
from rehaul.facts.constructions import constructions
from rehaul.facts.foreign_names import ForeignName, meaning
from rehaul.facts.materials import materials
from rehaul.facts.table import load


def test_every_meaning_is_one_of_our_own_names() -> None:
    uses = {name: row.use for name, row in constructions().items()}
    for row in load(ForeignName):
        if row.subject == "material":
            assert row.means in {*materials(), *composites()}, row
        elif row.subject == "solid wood":
            assert row.means == "wood", row
        elif row.subject == "room":
            assert row.means in ("lived in", "not lived in"), row
        elif row.subject == "layer":
            assert row.means in ("wall", "door", "window"), row
        else:
            assert uses.get(row.means) in (row.subject, "window"), row


def test_no_row_stands_twice() -> None:
    rows = [(row.subject, row.words) for row in load(ForeignName)]
    assert len(set(rows)) == len(rows)


@pytest.mark.parametrize(
    ("name", "material"),
    [
        ("Stahlbeton 65690", "concrete"),
        ("Béton banché", "concrete"),
        ("Béton cellulaire", "aerated block"),
        ("KALKSANDSTEIN", "brick"),
        ("Gipskartonplatte 12,5", "plasterboard"),
        ("Wärmedämmung", "insulation"),
        ("Concrete Masonry Units _Low Density", "hollow block"),
        ("Masonry - Concrete Block", "hollow block"),
        ("Solid Concrete Block", "concrete"),
        ("Hohlblocksteine 24", "hollow block"),
        ("Parpaing 20", "hollow block"),
        ("Parpaing plein", "concrete"),
        ("Betonblok", "hollow block"),
        ("Metal Stud Layer", "metal studs"),
        ("Timber stud", "studs"),
        ("Holzständerwerk mit Dämmung", "insulated studs"),
        ("Montant métallique", "metal studs"),
        ("Houtskelet", "studs"),
        ("Floor joists", "joists"),
        ("Rafters 2x8", "joists"),
        ("Holzbalkendecke", "joists"),
        ("Solivage", "joists"),
        ("Balklaag", "joists"),
        ("Beam and block", "hollow slab"),
        ("Concrete Masonry, Floor Block", "hollow slab"),
        ("Stahlbetonhohldecke", "hollow slab"),
        ("Plancher hourdis", "hollow slab"),
        ("Kanaalplaatvloer", "hollow slab"),
        ("Stahlträger", "metal"),
        ("Fiberglass Batt", "insulation"),
        ("Metal - Aluminum", "metal"),
        ("Ladrillo hueco", "brick"),
        ("Default Wall", None),
        ("stairwell", None),  # holds "air", but no air
    ],
)
def test_materials(name: str, material: str | None) -> None:
    assert meaning("material", name) == material


@pytest.mark.parametrize(
    ("name", "construction"),
    [
        ('Basic Wall:Interior - 4.75" Partition - Wood Stud', "stud-plasterboard"),
        ("Basic Wall:Brick on Wood Studs", "brick-veneer"),
        ("Chimney & Fireplace Wall", "chimney-breast"),
        ("Mauerwerk 24", "brick-solid"),
        ("Hohlblock", "block-hollow"),
        ("Hollow concrete block", "block-hollow"),
        ("Ossature bois", "stud-plasterboard"),
        ("Wall 1", None),
    ],
)
def test_walls(name: str, construction: str | None) -> None:
    assert meaning("wall", name) == construction


def test_rooms() -> None:
    assert meaning("room", "Keller 2") == "not lived in"
    assert meaning("room", "Living room") is not None
    assert meaning("room", "Wohnen/Essen/Kochen") is None


@pytest.mark.parametrize(
    ("name", "construction"),
    [
        ("Holzbalkendecke", "timber-floor"),
        ("Solives", "timber-floor"),
        ("Kanaalplaat", "hollow-slab"),
        ("Hohldiele", "hollow-slab"),
    ],
)
def test_floors(name: str, construction: str) -> None:
    assert meaning("floor", name) == construction


def test_wood_that_is_solid_however_thick() -> None:
    for name in ("CLT 140", "Brettsperrholz", "Cross laminated timber", "Bois massif", "Log wall"):
        assert meaning("solid wood", name) == "wood"
    for name in ("Wood - Dimensional Lumber", "Holz", "Catalogue oak"):
        assert meaning("solid wood", name) is None
