"""Fact tables: nothing loads without its source, and bad cells are named."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

import pytest

import rehaul.facts
from rehaul.errors import BadInput
from rehaul.facts.table import FactRow, parse

HEAD = "name,size_m,document,edition,place,how\n"
TABLES = Path(rehaul.facts.__file__).parent / "tables"


class Thing(FactRow):
    table: ClassVar[str] = "things"
    name: str
    size_m: float


def test_a_row_with_its_source_loads() -> None:
    (row,) = parse(HEAD + "brick,0.1,Handbook,1990,page 3,printed\n", Thing, name="things")
    assert row.size_m == 0.1
    assert str(row.source) == "Handbook (1990), page 3 [printed]"


@pytest.mark.parametrize(
    ("cells", "complaint"),
    [
        ("brick,0.1,,1990,page 3,printed", "no document"),
        ("brick,0.1,Handbook,1990,,printed", "no place"),
        ("brick,0.1,Handbook,1990,page 3,", "no how"),
        ("brick,0.1,Handbook,1990,page 3,hearsay", "how"),
        ("brick,wide,Handbook,1990,page 3,printed", "size_m"),
        ("brick,0.1,Handbook,1990,page 3", "more or fewer cells"),
    ],
)
def test_a_row_without_its_source_does_not_load(cells: str, complaint: str) -> None:
    with pytest.raises(BadInput) as refusal:
        parse(HEAD + cells + "\n", Thing, name="things")
    assert complaint in str(refusal.value)
    assert "line 2" in str(refusal.value)


def test_a_table_without_source_columns_is_refused() -> None:
    with pytest.raises(BadInput, match="column document is missing"):
        parse("name,size_m\nbrick,0.1\n", Thing, name="things")


def test_every_packaged_table_has_a_class_that_loads_it() -> None:
    """A table that no class reads is dead; a class whose table does not load is broken."""
    import importlib
    import pkgutil

    from rehaul.facts.table import load

    for module in pkgutil.iter_modules(rehaul.facts.__path__):
        importlib.import_module(f"rehaul.facts.{module.name}")
    classes = {
        row.table: row for row in FactRow.__subclasses__() if row.__module__.startswith("rehaul.facts")
    }
    packaged = {path.stem for path in TABLES.glob("*.csv")}
    assert packaged == set(classes)
    for row_type in classes.values():
        assert load(row_type)


def test_a_bad_row_is_named_by_its_line_in_the_file() -> None:
    told = "# what the table is\n# and more of it\n"
    good, bad = (f"brick,{size},Handbook,1990,page 3,printed\n" for size in ("0.1", "wide"))
    with pytest.raises(BadInput, match="things line 5"):
        parse(told + HEAD + good + bad, Thing, name="things")
