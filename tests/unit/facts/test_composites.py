"""Composite layers: their shares make a whole, and they hold in their range of thickness only."""

from __future__ import annotations

import pytest

from rehaul.errors import BadInput
from rehaul.facts.composites import Composite, composites, is_layer
from rehaul.facts.table import parse

HEAD = (
    "name,label,share,solid,solid_mm,between,shell_mm,thinnest_mm,thickest_mm,sd_db,"
    "document,edition,place,how"
)
ROW = "x,X,0.1,wood,,air,0,50,300,3,Practice,,none,common practice"


@pytest.mark.parametrize("name", sorted(composites()))
def test_shares_add_to_one_and_every_part_fills_the_thickness(name: str) -> None:
    row = composites()[name]
    for mm in (row.thinnest_mm, (row.thinnest_mm + row.thickest_mm) / 2, row.thickest_mm):
        parts = row.parts(mm / 1000)
        assert sum(share for share, _ in parts) == pytest.approx(1.0, abs=1e-12)
        assert [share for share, _ in parts] == [row.share, pytest.approx(1 - row.share)]
        for _, layers in parts:
            assert sum(thickness for _, thickness in layers) == pytest.approx(mm)
            assert all(thickness > 0 for _, thickness in layers)


def test_a_hollow_block_has_shells_and_webs() -> None:
    webs, hollow = composites()["hollow block"].parts(0.19)
    assert webs == (0.3, (("concrete", pytest.approx(190)),))
    assert hollow == (0.7, (("concrete", 35), ("air", pytest.approx(120)), ("concrete", 35)))


def test_metal_studs_are_thin_sheets_in_the_whole_depth() -> None:
    studs, _ = composites()["metal studs"].parts(0.07)
    assert studs == (0.1, (("metal", 1), ("air", pytest.approx(69))))


def test_beyond_its_range_a_composite_is_no_layer() -> None:
    assert is_layer("joists", 0.286)
    assert is_layer("joists", 0.06)
    assert not is_layer("joists", 0.059)
    assert not is_layer("joists", 0.7)
    assert is_layer("wood", 0.7)
    assert not is_layer("mycelium", 0.1)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("wood", "porridge", "no material"),
        ("wood", "foil", "no material"),
        ("0.1", "1.2", "less than 1"),
        (",0,50", ",30,50", "must hold its shells"),
        ("300", "40", "must hold its shells"),
    ],
)
def test_rows_that_nobody_can_build_do_not_load(old: str, new: str, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        parse(f"{HEAD}\n{ROW.replace(old, new, 1)}\n", Composite, name="composites")
