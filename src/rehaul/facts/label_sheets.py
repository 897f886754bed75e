"""Sheets of adhesive labels: how many there are and where they lie."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from pydantic import PositiveInt

from rehaul.facts.table import FactRow, load


class LabelSheet(FactRow):
    """One sheet of equal labels in columns and rows."""

    table: ClassVar[str] = "label_sheets"
    decides: ClassVar[str] = "where labels are printed on a sheet of stickers"
    paper: str
    columns: PositiveInt
    rows: PositiveInt
    width_m: float
    height_m: float
    left_m: float  # of the first label
    top_m: float
    pitch_x_m: float  # from label to label
    pitch_y_m: float


@cache
def label_sheets() -> dict[str, LabelSheet]:
    """Sheets of adhesive labels by paper: how many labels, their size, and where they lie [m].

    Lengths are from the upper left corner of the sheet. **Source**: the fact table `label_sheets`; measure
    a sheet of your own before printing on a whole pack.
    """
    return {row.paper: row for row in load(LabelSheet)}
