"""Tables of published numbers: one CSV row is one fact, and says where it was read.

Every table carries the columns `document`, `edition`, `place` and `how` beside its values.
A row without a document, a place or a known `how` does not load.
"""

from __future__ import annotations

import csv
import io
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any, ClassVar, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError

from rehaul.errors import BadInput
from rehaul.words import Saying, say


class How(StrEnum):
    """How a value was read."""

    PRINTED = "printed"
    COMPUTED = "computed"
    PLOT = "plot"
    EXCERPT = "excerpt"
    DATA = "data"
    MEMORY = "memory"
    PRACTICE = "common practice"
    INVENTED = "invented"

    @property
    def means(self) -> str:
        """What that says of the value, in words."""
        return _MEANS[self]


_MEANS = {
    How.PRINTED: "read as a number in the document",
    How.COMPUTED: "computed from what the document prints",
    How.PLOT: "read off a plot",
    How.EXCERPT: "read second-hand: in an excerpt, or in something that quotes the document",
    How.DATA: "taken from an open data file",
    How.MEMORY: "from memory: the document could not be read",
    How.PRACTICE: "what the trade says: there is no document",
    How.INVENTED: "made up for the demo, and says so",
}


class Source(BaseModel):
    """Where a fact comes from."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    document: str
    edition: str
    place: str
    how: How

    @property
    def partly_remembered(self) -> bool:
        """Whether a row that was read says of a part of its numbers that they are from memory."""
        return self.how is not How.MEMORY and "from memory" in self.place

    def __str__(self) -> str:
        edition = f" ({self.edition})" if self.edition else ""
        return f"{self.document}{edition}, {self.place} [{self.how.value}]"


class FactRow(BaseModel):
    """Base of every fact row. Subclasses add value columns, named with their unit."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    table: ClassVar[str] = ""
    decides: ClassVar[str] = ""  # what the table settles in the program, to follow "decides"
    source: Source


RowT = TypeVar("RowT", bound=FactRow)
_SOURCE_FIELDS = ("document", "edition", "place", "how")


def parse(text: str, row_type: type[RowT], *, name: str) -> tuple[RowT, ...]:
    """Parse CSV `text` into rows of `row_type`; empty cells become the field's default.

    Raises BadInput that names the table, line and column of the first bad cell. **Source**:
    docs/decisions.md, "Facts are CSV with four source columns".
    """
    lines = [line for line in io.StringIO(text) if not line.startswith("#")]
    told = text.count("\n#") + text.startswith("#")  # lines that tell of the table, as a rule on top
    reader = csv.DictReader(lines)
    missing = [field for field in _SOURCE_FIELDS if field not in (reader.fieldnames or ())]
    if missing:
        raise BadInput(
            say("refused_facts.no_column", column=missing[0]),
            where=name,
            remedy=say("refused_facts.say_where_read"),
        )
    rows = []
    for cells in reader:
        rows.append(_row(cells, row_type, name=name, line=reader.line_num + told))
    if not rows:
        raise BadInput(say("refused_facts.no_rows"), where=name, remedy=say("refused_facts.add_a_row"))
    return tuple(rows)


def _row(cells: dict[str | Any, Any], row_type: type[RowT], *, name: str, line: int) -> RowT:
    if None in cells or any(value is None for value in cells.values()):
        raise BadInput(
            say("refused_facts.ragged_row"), where=_where(name, line), remedy=say("refused_facts.mend_csv")
        )
    source = {field: cells.pop(field).strip() for field in _SOURCE_FIELDS}
    for field in ("document", "place", "how"):
        if not source[field]:
            raise BadInput(
                say("refused_facts.no_source", field=field),
                where=_where(name, line),
                remedy=say("refused_facts.give_source"),
            )
    values = {key: value.strip() for key, value in cells.items() if value.strip()}
    try:
        return row_type.model_validate({**values, "source": source})
    except ValidationError as error:
        first = error.errors()[0]
        column = ".".join(str(part) for part in first["loc"]) or "row"
        raise BadInput(
            str(first["msg"]),
            where=say("refused_facts.where_cell", row=_where(name, line), column=column),
            remedy=say("refused_facts.mend_table"),
        ) from None


def _where(name: str, line: int) -> Saying:
    return say("refused_facts.where_row", name=name, line=line)


def load(row_type: type[RowT]) -> tuple[RowT, ...]:
    """Rows of the packaged table `facts/tables/<row_type.table>.csv` in its order, read once a process.

    `row_type` is a subclass of `FactRow` that names its table. Raises BadInput, which names the row and
    column, where a cell does not fit the type or a row does not say where it was read. **Source**:
    docs/decisions.md, "Facts are CSV with four source columns".
    """
    rows: tuple[RowT, ...] = _read(row_type)  # a cached generic function forgets its type
    return rows


@cache
def _read(row_type: type[RowT]) -> tuple[RowT, ...]:
    name = f"{row_type.table}.csv"
    text = files("rehaul.facts").joinpath("tables", name).read_text(encoding="utf-8")
    return parse(text, row_type, name=f"facts/{name}")
