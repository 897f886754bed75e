"""A material without thickness needs something that stands in the way of a current; one with, does not."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from rehaul.errors import BadInput
from rehaul.facts.materials import Material, material, materials
from rehaul.facts.table import Source

SOURCE = Source(document="by hand", edition="", place="", how="computed")


def made(kind: str, resistance_ohm: float, inductance_h: float) -> Material:
    return Material.model_validate(
        {
            "name": "foil",
            "kind": kind,
            "sheet_resistance_ohm": resistance_ohm,
            "sheet_inductance_h": inductance_h,
            "low_hz": 1e9,
            "high_hz": 1e10,
            "source": SOURCE,
        }
    )


@pytest.mark.parametrize(("ohm", "henry"), [(4.0, 0.0), (0.0, 1e-9), (4.0, 1e-9), (1e-9, 1e-9)])
def test_a_sheet_impedes_by_one_or_both_also_where_they_are_equal(ohm: float, henry: float) -> None:
    sheet = made("sheet", ohm, henry)
    assert (sheet.sheet_resistance_ohm, sheet.sheet_inductance_h) == (ohm, henry)


def test_a_sheet_that_impedes_by_neither_is_none() -> None:
    with pytest.raises(ValidationError, match="needs a resistance or an inductance"):
        made("sheet", 0.0, 0.0)
    assert made("bulk", 0.0, 0.0).kind == "bulk"


def test_less_than_nothing_impedes_nothing() -> None:
    for ohm, henry in ((-1.0, 2.0), (2.0, -1.0)):
        with pytest.raises(ValidationError, match="greater than or equal to 0"):
            made("sheet", ohm, henry)


def test_a_material_is_found_by_its_name_and_nobody_changes_the_table() -> None:
    assert material("concrete").name == "concrete"
    with pytest.raises(BadInput, match="marzipan") as caught:
        material("marzipan")
    assert "concrete" in str(caught.value)
    with pytest.raises(TypeError):
        materials()["marzipan"] = material("concrete")  # type: ignore[index]
