"""Names from elsewhere mean something of ours."""

from __future__ import annotations

import pytest

from rehaul.facts.constructions import constructions
from rehaul.facts.foreign_names import ForeignName, meaning
from rehaul.facts.materials import materials
from rehaul.facts.table import load


def test_every_meaning_is_one_of_our_own_names() -> None:
    uses = {name: row.use for name, row in constructions().items()}
    for row in load(ForeignName):
        if row.subject == "material":
            assert row.means in materials(), row
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
        ("Concrete Masonry Units _Low Density", "concrete"),
        ("Metal Stud Layer", "air"),
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
        ("Wall 1", None),
    ],
)
def test_walls(name: str, construction: str | None) -> None:
    assert meaning("wall", name) == construction


def test_rooms() -> None:
    assert meaning("room", "Keller 2") == "not lived in"
    assert meaning("room", "Living room") is not None
    assert meaning("room", "Wohnen/Essen/Kochen") is None
