"""Every fact table as plain data, for a face that shows where a number comes from."""

from __future__ import annotations

import csv
import io
from functools import cache
from importlib.resources import files


@cache
def table_names() -> list[str]:
    """Names of all packaged tables, in order."""
    folder = files("rehaul.facts").joinpath("tables")
    return sorted(
        entry.name.removesuffix(".csv") for entry in folder.iterdir() if entry.name.endswith(".csv")
    )


@cache
def as_data(name: str) -> list[dict[str, str | float]]:
    """Rows of a table of `table_names`, by column; cells that are numbers as numbers."""
    text = files("rehaul.facts").joinpath("tables", f"{name}.csv").read_text(encoding="utf-8")
    lines = [line for line in io.StringIO(text) if not line.startswith("#")]
    return [{column: _value(cell) for column, cell in row.items()} for row in csv.DictReader(lines)]


def _value(cell: str) -> str | float:
    cell = cell.strip()
    try:
        number = float(cell)
    except ValueError:
        return cell
    plain = cell.lstrip("+-").replace(".", "", 1).isdigit()
    return number if plain else cell
