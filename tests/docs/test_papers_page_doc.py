"""The page about papers lists every table and column there is, and every public name."""

from __future__ import annotations

import re
from pathlib import Path

import sample_plan
from rehaul import sheets
from rehaul.sheets.record import record_only

PAGE = (Path(__file__).parents[2] / "docs" / "papers.md").read_text(encoding="utf-8")
ROWS = re.findall(r"^\| `([a-z_]+)` \| ([^|]+) \| ([^|]+) \|$", PAGE, re.MULTILINE)


def test_tables_and_columns_are_those_of_the_program() -> None:
    plan = sample_plan.plan()
    every = (*sheets.tables(plan).values(), *record_only(plan))
    made = [(t.name, t.title, ", ".join(f"`{c.key}`" for c in t.columns)) for t in every]
    assert made == ROWS


def test_every_public_function_is_on_the_page() -> None:
    listed = set(re.findall(r"`([a-z_]+)(?:\(|`)", PAGE))
    functions = {name for name in sheets.__all__ if name[0].islower()}
    assert functions - {"labels"} <= listed
