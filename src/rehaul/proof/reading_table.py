"""Readings from a table with any headings: what is understood becomes readings, the rest is listed."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from rehaul.errors import BadInput
from rehaul.facts.calibration import calibration_number
from rehaul.facts.reading_columns import READING_FIELDS, ReadingField, column_words
from rehaul.house import Band, Box, Device, Job, Quantity, Reading, Room, Storey

NOTHING = ("nothing", "none", "not heard")
YES, NO = ("yes", "y", "true", "1", "wired", "cable"), ("no", "n", "false", "0", "", "air", "wireless")
QUANTITIES = tuple(quantity.value for quantity in Quantity)
BAND_EDGES_MHZ = ((2400, 2500, Band.GHZ_2_4), (4900, 5900, Band.GHZ_5), (5925, 7125, Band.GHZ_6))


@dataclass(frozen=True)
class ReadingTable:
    """What a table held."""

    readings: tuple[Reading, ...]
    columns: dict[str, ReadingField]  # heading to meaning, to be remembered
    ignored: tuple[str, ...]  # headings that mean nothing known
    left_out: tuple[str, ...]  # "row 7: why"


def readings_from_table(text: str, job: Job, remembered: Mapping[str, str] | None = None) -> ReadingTable:
    """Readings from comma, semicolon or tab separated text with one line of headings.

    Parameters: `remembered`, meanings of headings said before, which rule over the common words.
    One row may hold several quantities and gives a reading for each. Raises BadInput where no column
    holds anything that is measured, or a remembered meaning is none.
    """
    rows = _rows(text)
    columns = _columns(rows[0] if rows else [], remembered or {})
    if not any(meaning in QUANTITIES for meaning in columns.values()):
        raise BadInput(
            "no column is understood as something measured",
            where=", ".join(rows[0]) if rows else "the file is empty",
            remedy='Say which: --column "HEADING=down_mbps"; the words are ' + ", ".join(READING_FIELDS),
        )
    names = _Names(job)
    found: list[Reading] = []
    left_out: list[str] = []
    for number, row in enumerate(rows[1:], 2):
        cells: dict[str, str] = {
            columns[head]: cell.strip() for head, cell in zip(rows[0], row, strict=False) if head in columns
        }
        if not any(cells.get(quantity, "") for quantity in QUANTITIES):
            continue
        try:
            found += list(_readings(cells, names))
        except BadInput as problem:
            left_out.append(f"row {number}: {problem.problem}")
    return ReadingTable(
        readings=tuple(found),
        columns=columns,
        ignored=tuple(head for head in (rows[0] if rows else []) if head and head not in columns),
        left_out=tuple(left_out),
    )


def new_reading(job: Job, cells: Mapping[str, str]) -> tuple[Reading, ...]:
    """Readings typed in one by one, by the same words. Raises BadInput for what does not fit the job."""
    found = tuple(_readings(dict(cells), _Names(job)))
    if not found:
        raise BadInput("nothing measured is given", where="reading", remedy="Say for example down_mbps=120")
    return found


def _rows(text: str) -> list[list[str]]:
    first = text.lstrip("\ufeff").split("\n", 1)[0]
    mark = max(",;\t", key=first.count)
    reader = csv.reader(io.StringIO(text.lstrip("\ufeff")), delimiter=mark)
    return [[cell.strip() for cell in row] for row in reader if any(cell.strip() for cell in row)]


def _columns(headings: Sequence[str], remembered: Mapping[str, str]) -> dict[str, ReadingField]:
    found: dict[str, ReadingField] = {}
    for heading in headings:
        meaning = remembered.get(heading) or column_words().get(_plain(heading)) or _own_word(heading)
        if meaning is None:
            continue
        known = next((field for field in READING_FIELDS if field == meaning), None)
        if known is None:
            raise BadInput(
                f"{heading!r} cannot mean {meaning!r}",
                where="columns",
                remedy="Use " + ", ".join(READING_FIELDS),
            )
        found[heading] = known
    return found


def _plain(heading: str) -> str:
    return " ".join(re.sub(r"[()\[\]_,:]", " ", heading).casefold().split())


def _own_word(heading: str) -> str | None:
    return heading.casefold() if heading.casefold() in READING_FIELDS else None


class _Names:
    """Things of a job by id or name, and ids that are still free."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self._taken = {reading.id for reading in job.readings}
        self._number = len(job.readings)

    def find(self, what: str, things: Sequence[Room | Storey | Device | Box], name: str) -> str | None:
        if not name:
            return None
        for thing in things:
            if name == thing.id or name.casefold() == thing.name.casefold():
                return thing.id
        raise BadInput(f"the job has no {what} {name!r}", where=what)

    def next_id(self) -> str:
        while True:
            self._number += 1
            name = f"RD{self._number:02d}"
            if name not in self._taken:
                self._taken.add(name)
                return name


def _readings(cells: Mapping[str, str], names: _Names) -> Iterator[Reading]:
    """One reading for each quantity of a row. Raises BadInput with what does not fit."""
    job = names.job
    common: dict[str, Any] = {
        "room": names.find("room", job.house.rooms, cells.get("room", "")),
        "storey": names.find("storey", job.house.storeys, cells.get("storey", "")),
        "device": names.find("device", job.devices, cells.get("device", "")),
        "box": names.find("box", job.boxes, cells.get("box", "")),
        "band": _band(cells.get("band", "")),
        "wired": _wired(cells.get("wired", "")),
        "time": cells.get("time", ""),
        "note": cells.get("note", ""),
    }
    for field in ("stage", "doors"):
        if cells.get(field):
            common[field] = cells[field].casefold()
    if cells.get("repeats"):
        common["repeats"] = int(_number(cells["repeats"], "repeats"))
    if cells.get("height_m"):
        common["height_m"] = _number(cells["height_m"], "height_m")
    if cells.get("x_m") and cells.get("y_m"):
        common["position"] = (_number(cells["x_m"], "x_m"), _number(cells["y_m"], "y_m"))
    for quantity in Quantity:
        if cells.get(quantity.value):
            value, at_most = _value(cells[quantity.value], quantity)
            try:
                yield Reading(id=names.next_id(), quantity=quantity, value=value, at_most=at_most, **common)
            except ValidationError as error:
                fault = error.errors()[0]
                where = ".".join(str(part) for part in fault["loc"])
                raise BadInput(f"{where}: {fault['msg']}", where=where) from None


def _value(text: str, quantity: Quantity) -> tuple[float, bool]:
    """A value, and whether nothing was heard: `<-90`, or `nothing` for the level that devices still hear."""
    if quantity is not Quantity.POWER_DBM:
        return _number(text, quantity.value), False
    if text.casefold() in NOTHING:
        return calibration_number("hearing_floor"), True
    bound = text.startswith(("<", "≤"))
    return _number(text.lstrip("<≤= ") if bound else text, quantity.value), bound


def _number(text: str, where: str) -> float:
    found = re.match(r"^\s*([+-]?[0-9]+(?:[.,][0-9]+)?)", text.replace("−", "-"))
    if not found:
        raise BadInput(f"{text!r} is not a number", where=where)
    return float(found[1].replace(",", "."))


def _band(text: str) -> Band | None:
    """A band from `5`, `5 GHz`, `2.437` or a frequency in MHz."""
    if not text:
        return None
    value = _number(text, "band")
    if value in (2.4, 5.0, 6.0):
        return Band(f"{value:g}")
    value_mhz = value * 1000 if value < 10 else value
    for low, high, band in BAND_EDGES_MHZ:
        if low <= value_mhz <= high:
            return band
    raise BadInput(f"{text!r} is no band", where="band")


def _wired(text: str) -> bool:
    if text.casefold() not in (*YES, *NO):
        raise BadInput(f"{text!r} is neither yes nor no", where="wired")
    return text.casefold() in YES
