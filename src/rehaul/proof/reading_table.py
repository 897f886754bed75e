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
from rehaul.facts.reading_ranges import is_false_date, reading_range, unit_words
from rehaul.house import Band, Box, Device, Job, Quantity, Reading, Room, Storey
from rehaul.numerals import number_of, writes_decimal_comma
from rehaul.printable import short
from rehaul.words import say

NOTHING = ("nothing", "none", "not heard")
YES, NO = ("yes", "y", "true", "1", "wired", "cable"), ("no", "n", "false", "0", "", "air", "wireless")
QUANTITIES = tuple(quantity.value for quantity in Quantity)
NUMBERS = (*QUANTITIES, "x_m", "y_m", "height_m", "repeats")
UNKNOWN = {  # what is said of a name that the job has not
    "room": ("refused_proof.job_no_room", "refused_proof.name_room"),
    "storey": ("refused_proof.job_no_storey", "refused_proof.name_storey"),
    "device": ("refused_proof.job_no_device", "refused_proof.name_device"),
    "box": ("refused_proof.job_no_box", "refused_proof.name_box"),
}
BAND_EDGES_MHZ = ((2400, 2500, Band.GHZ_2_4), (4900, 5900, Band.GHZ_5), (5925, 7125, Band.GHZ_6))


@dataclass(frozen=True)
class ReadingTable:
    """What a table held."""

    readings: tuple[Reading, ...]
    columns: dict[str, ReadingField]  # heading to meaning, to be remembered
    ignored: tuple[str, ...]  # headings that mean nothing known
    left_out: tuple[str, ...]  # "line 7, column 'Sig': why, and what to do"


def readings_from_table(text: str, job: Job, remembered: Mapping[str, str] | None = None) -> ReadingTable:
    """Readings from comma, semicolon or tab separated text with one line of headings.

    Parameters: `remembered`, meanings of headings said before, which rule over the common words.
    One row may hold several quantities and gives a reading for each; rows that do not fit are left out.
    Raises BadInput where no column holds anything that is measured, a remembered meaning is none, or no row
    fits. **Source**: docs/proof.md, "Readings in".
    """
    lines = _rows(text)
    rows = [row for _, row in lines]
    columns = _columns(rows[0] if rows else [], remembered or {})
    if not any(meaning in QUANTITIES for meaning in columns.values()):
        raise BadInput(
            say("refused_proof.nothing_measured_column"),
            where=short(", ".join(rows[0]), 120) if rows else say("refused_proof.where_empty"),
            remedy=say("refused_proof.say_which_column", known=list(READING_FIELDS)),
        )
    names = _Names(job)
    headings = {meaning: heading for heading, meaning in columns.items()}
    cells_of: list[dict[str, str]] = [
        {columns[head]: cell for head, cell in zip(rows[0], row, strict=False) if head in columns}
        for row in rows[1:]
    ]
    comma = writes_decimal_comma(cells.get(field, "") for cells in cells_of for field in NUMBERS)
    found: list[Reading] = []
    left_out: list[str] = []
    first: BadInput | None = None
    for (line, _), cells in zip(lines[1:], cells_of, strict=True):
        if not any(cells.get(quantity, "") for quantity in QUANTITIES):
            continue
        try:
            found += list(_readings(cells, names, comma))
        except BadInput as refusal:
            heading = next((name for field, name in headings.items() if field == refusal.where), "")
            where = (
                say("refused_proof.where_column", line=line, heading=short(heading))
                if heading
                else say("refused_common.where_line", line=line)
            )
            left_out.append(
                say("refused_proof.left_out", where=where, problem=refusal.problem, remedy=refusal.remedy)
            )
            first = first or BadInput(refusal.problem, where=where, remedy=refusal.remedy)
    if first and not found:
        more = len(left_out) - 1
        raise BadInput(
            say("refused_proof.no_line_of_several", problem=first.problem, more=more)
            if more
            else say("refused_proof.no_line", problem=first.problem),
            where=first.where,
            remedy=first.remedy,
        )
    return ReadingTable(
        readings=tuple(found),
        columns=columns,
        ignored=tuple(head for head in (rows[0] if rows else []) if head and head not in columns),
        left_out=tuple(left_out),
    )


def new_reading(job: Job, cells: Mapping[str, str]) -> tuple[Reading, ...]:
    """Readings typed in one by one, by the same words. Raises BadInput for what does not fit the job."""
    found = tuple(_readings(dict(cells), _Names(job), None))
    if not found:
        raise BadInput(
            say("refused_proof.nothing_measured"), where="reading", remedy=say("refused_proof.say_measured")
        )
    return found


def _rows(text: str) -> list[tuple[int, list[str]]]:
    """Every row that is not empty, with the line that it ends on."""
    text = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if "\0" in text:
        raise BadInput(say("refused_proof.no_table"), where="table", remedy=say("refused_proof.save_as_csv"))
    mark = max(",;\t", key=text.split("\n", 1)[0].count)
    reader = csv.reader(io.StringIO(text), delimiter=mark)
    rows = []
    try:
        for row in reader:
            cells = [cell.strip() for cell in row]
            if any(cells):
                rows.append((reader.line_num, cells))
    except csv.Error as error:
        raise BadInput(
            say("refused_proof.not_read", error=str(error)),
            where=say("refused_common.where_line", line=reader.line_num),
            remedy=say("refused_proof.mend_line"),
        ) from None
    return rows


def _columns(headings: Sequence[str], remembered: Mapping[str, str]) -> dict[str, ReadingField]:
    found: dict[str, ReadingField] = {}
    for heading in headings:
        meaning = remembered.get(heading) or column_words().get(_plain(heading)) or _own_word(heading)
        if meaning is None:
            continue
        known = next((field for field in READING_FIELDS if field == meaning), None)
        if known is None:
            raise BadInput(
                say("refused_proof.no_meaning", heading=short(heading), meaning=short(meaning)),
                where="columns",
                remedy=say("refused_proof.use_meaning", known=list(READING_FIELDS)),
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
        problem, remedy = UNKNOWN[what]
        raise BadInput(say(problem, name=short(name)), where=what, remedy=say(remedy))

    def next_id(self) -> str:
        while True:
            self._number += 1
            name = f"RD{self._number:02d}"
            if name not in self._taken:
                self._taken.add(name)
                return name


def _readings(cells: Mapping[str, str], names: _Names, comma: bool | None) -> Iterator[Reading]:
    """One reading for each quantity of a row. Raises BadInput with what does not fit."""
    job = names.job
    common: dict[str, Any] = {
        "room": names.find("room", job.house.rooms, cells.get("room", "")),
        "storey": names.find("storey", job.house.storeys, cells.get("storey", "")),
        "device": names.find("device", job.devices, cells.get("device", "")),
        "box": names.find("box", job.boxes, cells.get("box", "")),
        "band": _band(cells.get("band", "")),
        "wired": _wired(cells.get("wired", "")),
        "time": _time(cells.get("time", "")),
        "note": cells.get("note", ""),
    }
    for field in ("stage", "doors"):
        if cells.get(field):
            common[field] = cells[field].casefold()
    if cells.get("repeats"):
        common["repeats"] = _whole(cells["repeats"], "repeats", comma)
    if cells.get("height_m"):
        common["height_m"] = _number(cells["height_m"], "height_m", comma)
    here = [axis for axis in ("x_m", "y_m") if cells.get(axis)]
    if len(here) == 2:
        common["position"] = tuple(_number(cells[axis], axis, comma) for axis in here)
    elif here:
        raise BadInput(
            say("refused_proof.alone", axis=here[0]), where=here[0], remedy=say("refused_proof.give_both")
        )
    for quantity in Quantity:
        if cells.get(quantity.value):
            value, at_most = _value(cells[quantity.value], quantity, comma)
            said = {"id": names.next_id(), "quantity": quantity, "value": value, "at_most": at_most, **common}
            try:
                yield Reading.model_validate(said)
            except ValidationError as error:
                fault = error.errors(include_url=False)[0]
                where = str(fault["loc"][0])
                message = str(fault["msg"]).removeprefix("Value error, ")
                raise BadInput(
                    say("refused_proof.field_says", field=where, problem=message),
                    where=where,
                    remedy=say("refused_common.mend_it"),
                ) from None


def _time(text: str) -> str:
    """When it was, as it was written. Raises BadInput for a date that there is not; words may say it too."""
    if is_false_date(text):
        span = reading_range("year")
        raise BadInput(
            say("refused_proof.no_date", text=short(text), low=span.low, high=span.high),
            where="time",
            remedy=say("refused_proof.write_date"),
        )
    return text


def _value(text: str, quantity: Quantity, comma: bool | None) -> tuple[float, bool]:
    """A value, and whether nothing was heard: `<-90`, or `nothing` for the level that devices still hear."""
    if quantity is not Quantity.POWER_DBM:
        return _number(text, quantity.value, comma), False
    if text.casefold() in NOTHING:
        return calibration_number("hearing_floor"), True
    bound = text.startswith(("<", "≤"))
    return _number(text.lstrip("<≤= ") if bound else text, quantity.value, comma), bound


def _number(text: str, field: str, comma: bool | None) -> float:
    """A number in the unit of its field. Raises BadInput for what a reading cannot be."""
    span = reading_range(field)
    value, behind = number_of(text, decimal_comma=comma, where=field)
    value *= _factor(behind, span.unit, field) if behind else 1.0
    if not span.holds(value):
        raise BadInput(
            say("refused_proof.out_of_range", text=short(text), low=span.low, high=span.high, field=field),
            where=field,
            remedy=say("refused_proof.check_number"),
        )
    return value


def _factor(word: str, unit: str, field: str) -> float:
    known = unit_words(unit)
    folded = {name.casefold(): factor for name, factor in known.items() if factor is not None}
    factor = known[word] if word in known else folded.get(word.casefold())
    if factor is None:
        listed = [name for name, one in known.items() if one is not None]
        raise BadInput(
            say("refused_proof.two_units", word=short(word))
            if word in known
            else say("refused_proof.no_unit", word=short(word), field=field),
            where=field,
            remedy=say("refused_proof.write_unit", known=listed)
            if listed
            else say("refused_proof.write_number_alone"),
        )
    return factor


def _whole(text: str, field: str, comma: bool | None) -> int:
    value = _number(text, field, comma)
    if value != int(value):
        raise BadInput(
            say("refused_proof.no_whole_number", text=short(text)),
            where=field,
            remedy=say("refused_proof.write_3"),
        )
    return int(value)


def _band(text: str) -> Band | None:
    """A band from `5`, `5 GHz`, `2.437` or a frequency in MHz."""
    if not text:
        return None
    value, unit = number_of(text, where="band")
    value_mhz = value * (_factor(unit, "mhz", "band") if unit else 1000.0 if value < 10 else 1.0)
    if value_mhz in (2400.0, 5000.0, 6000.0):
        return Band(f"{value_mhz / 1000:g}")
    for low, high, band in BAND_EDGES_MHZ:
        if low <= value_mhz <= high:
            return band
    raise BadInput(
        say("refused_proof.no_band", text=short(text)), where="band", remedy=say("refused_proof.write_band")
    )


def _wired(text: str) -> bool:
    if text.casefold() not in (*YES, *NO):
        raise BadInput(
            say("refused_proof.yes_or_no", text=short(text)),
            where="wired",
            remedy=say("refused_proof.write_yes_or_no"),
        )
    return text.casefold() in YES
