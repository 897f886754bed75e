"""A table as data: the same rows go on paper, into the page, and into CSV and XLSX."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Literal, TypeVar

from rehaul.units import METRES_PER_FOOT, METRES_PER_INCH, UnitSystem
from rehaul.words import Saying, figure

LOUD = ("cells.need_not_met", "cells.nobody_yet", "cells.not_asked")
Cell = str | int | float | None
CellKind = Literal["text", "id", "number", "whole", "money", "blank"]
ItemT = TypeVar("ItemT")


@dataclass(frozen=True)
class Column:
    """One column: its name in a file, its head on paper, and how its cells are written."""

    key: str  # with its unit, as everywhere: length_m
    head: str
    kind: CellKind = "text"
    digits: int = 0
    share: float = 0.0  # of the spare width on paper; 0 takes what it needs
    on_paper: bool = True


@dataclass(frozen=True)
class Table:
    """Named rows under columns."""

    name: str  # also the name of its file
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    note: str = ""


def table(
    name: str,
    title: str,
    items: Iterable[ItemT],
    columns: Iterable[tuple[Column, Callable[[ItemT], Cell]]],
    *,
    note: str = "",
) -> Table:
    """A table with one row for each item, in their order.

    Parameters
    ----------
    name : of its file and sheet
    columns : each column with the function that reads its cell from an item
    note : printed below it

    A cell is a text, a number in the unit that the column's key says, or None for nothing.

    >>> table("t", "T", [1, 2], [(Column("n", "N", "whole"), lambda item: item)]).rows
    ((1,), (2,))
    """
    pairs = tuple(columns)
    rows = tuple(tuple(read(item) for _, read in pairs) for item in items)
    return Table(name, title, tuple(column for column, _ in pairs), rows, note)


def shown(cell: Cell, column: Column) -> str:
    """A cell as people read it.

    Numbers have the column's digits, money two, a thin space at thousands and the reader's decimal sign.
    Empty for None and for an empty text.

    >>> shown(2.5, Column("length_m", "Length m", "number", 2))
    '2.50'
    """
    if cell is None or cell == "":
        return ""
    if isinstance(cell, str):
        return cell
    digits = 2 if column.kind == "money" else column.digits
    return figure(f"{cell:,.{digits}f}".replace(",", "\u202f"))


def is_loud(cell: Cell) -> bool:
    """Whether a cell says that something stops the work or was not done; such words are set bold."""
    return isinstance(cell, Saying) and cell.code in LOUD


def printed(subject: Table) -> tuple[tuple[Column, ...], tuple[tuple[str, ...], ...]]:
    """The columns that go on paper, and their cells as written there, row by row.

    Columns that only files have (`on_paper` False) are left out.
    """
    kept = [i for i, column in enumerate(subject.columns) if column.on_paper]
    columns = tuple(subject.columns[i] for i in kept)
    rows = tuple(tuple(shown(row[i], subject.columns[i]) for i in kept) for row in subject.rows)
    return columns, rows


def in_units(subject: Table, system: UnitSystem) -> Table:
    """The table with its lengths as the household reads them; files always keep metres.

    Columns whose key says a length in metres or millimetres are turned into feet or inches, with one digit
    and a head that says so. The same table for "metric".
    """
    if system == "metric":
        return subject
    factors = [_imperial(column) for column in subject.columns]
    columns = tuple(
        column if factor is None else replace(column, head=_imperial_head(column), digits=1)
        for column, factor in zip(subject.columns, factors, strict=True)
    )
    rows = tuple(
        tuple(
            cell * factor if factor is not None and isinstance(cell, int | float) else cell
            for cell, factor in zip(row, factors, strict=True)
        )
        for row in subject.rows
    )
    return replace(subject, columns=columns, rows=rows)


def _imperial(column: Column) -> float | None:
    """Feet for metres, inches for millimetres; None for what is not a length."""
    if column.key.endswith("_mm"):
        return 0.001 / METRES_PER_INCH
    return 1 / METRES_PER_FOOT if column.key.endswith("_m") else None


def _imperial_head(column: Column) -> str:
    words = column.head.split(" ")
    return " ".join({"m": "ft", "mm": "in"}.get(word, word) for word in words)
