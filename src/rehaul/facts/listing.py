"""Every fact table as plain data, for a face that shows where a number comes from."""

from __future__ import annotations

import csv
import io
from functools import cache
from importlib.resources import files


@cache
def table_names() -> list[str]:
    """Names of all packaged fact tables, by alphabet; each is a file `facts/tables/<name>.csv`.

    `as_data` gives the rows of one, docs/facts.md where each comes from.
    """
    folder = files("rehaul.facts").joinpath("tables")
    return sorted(
        entry.name.removesuffix(".csv") for entry in folder.iterdir() if entry.name.endswith(".csv")
    )


@cache
def as_data(name: str) -> list[dict[str, str | float]]:
    """Rows of one packaged table as plain data, column by column; cells that are numbers as numbers.

    Lines that begin with # are left out; `document`, `edition`, `place` and `how` say where a row was read.
    Raises FileNotFoundError for a name that is not among `table_names`.

    >>> as_data("conductors")[0]["awg"]
    16.0
    """
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
