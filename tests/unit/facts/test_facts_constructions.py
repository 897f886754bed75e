"""Rows of constructions: how a mix is written, and what does not load."""

from __future__ import annotations

import pytest

from rehaul.errors import BadInput
from rehaul.facts.constructions import Construction, construction, constructions
from rehaul.facts.materials import material, materials
from rehaul.facts.table import parse

HEAD = "name,label,use,layers_mm,sd_db,document,edition,place,how\n"


def row(layers: str) -> Construction:
    text = f"{HEAD}x,X,wall,{layers},2,Practice,,none,common practice\n"
    return parse(text, Construction, name="test.csv")[0]


def test_a_stack() -> None:
    assert row("brick 100 + air 50 + low-e coating 0").layers_mm == (
        (1.0, (("brick", 100.0), ("air", 50.0), ("low-e coating", 0.0))),
    )


def test_a_mix() -> None:
    found = row("0.9: plasterboard 12.5 + air 89 ; 0.1: wood 101.5")
    assert [fraction for fraction, _ in found.layers_mm] == [0.9, 0.1]
    assert found.thickness_m == pytest.approx(0.1015)


@pytest.mark.parametrize(
    ("layers", "words"),
    [
        ("marzipan 10", "marzipan"),
        ("0.9: brick 100 ; 0.2: wood 100", "add to 1.1"),
        ("brick 0", "only a sheet"),
        ("foil 5", "only a sheet"),
        ("brick -5", "only a sheet"),
    ],
)
def test_what_does_not_load(layers: str, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        row(layers)


def test_every_use_is_there() -> None:
    assert {row.use for row in constructions().values()} == {"wall", "floor", "door", "window", "body"}


def test_unknown_names_are_refused_with_the_known_ones() -> None:
    with pytest.raises(BadInput, match="brick-solid"):
        construction("adobe")
    with pytest.raises(BadInput, match="plasterboard"):
        material("marzipan")


def test_every_material_is_used_or_of_the_recommendation() -> None:
    used = {name for row in constructions().values() for _, layers in row.layers_mm for name, _ in layers}
    spare = {name for name in materials() if name not in used}
    assert all(materials()[name].source.document == "ITU-R P.2040" for name in spare), spare
