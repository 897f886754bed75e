"""The same list as a table with commas, semicolons or tabs: one room a row, named columns."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from rehaul.errors import BadInput
from rehaul.house.readers.room_list.entries import Build, Listing, OpeningEntry, RoomEntry, StoreyEntry
from rehaul.house.readers.room_list.text import (
    LONGEST_LINE,
    OPENING_KINDS,
    add_room,
    current_storey,
    elevation_m,
    new_storey,
    set_build,
)
from rehaul.house.readers.room_list.words import length_m, require_span
from rehaul.words import say

COLUMNS = ("storey", "room", "width", "length", "place", "height", "elevation", "outer", "inner", "floor")
NEEDED = ("room", "width", "length")


def looks_like_table(text: str) -> bool:
    """True where the first line that is not empty names the needed columns: room, width and length.

    Commas, semicolons and tabs part columns; upper and lower case are one. **Source**: docs/readers.md, "A
    room list by tape or laser": as a table.

    >>> looks_like_table("Room;Width;Length"), looks_like_table("Kitchen 3.10 x 4.20")
    (True, False)
    """
    head = next((line for line in text.splitlines() if line.strip()), "")
    names = {cell.strip().strip('"').lower() for cell in head.split(_delimiter(head))}
    return set(NEEDED) <= names


def parse_table(text: str, where: str) -> Listing:
    """Everything that stands in the table, unplaced; columns may come in any order.

    `where` is the file's name, for refusals. Raises BadInput, which names the line or the column that is
    not known. **Source**: docs/readers.md, "A room list by tape or laser": as a table.
    """
    listing = Listing(where)
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    head = next((line for line in text.splitlines() if line.strip()), "")
    reader = csv.DictReader(io.StringIO(text.lstrip("\n\r")), delimiter=_delimiter(head))
    reader.fieldnames = [(name or "").strip().lower() for name in reader.fieldnames or ()]
    unknown = [name for name in reader.fieldnames if name not in COLUMNS]
    if unknown:
        raise BadInput(
            say("refused_rooms.column_not_known", unknown=unknown[0]),
            where=where,
            remedy=say("refused_rooms.use_columns", columns=COLUMNS),
        )
    for cells in _rows(listing, reader):
        row = {key: (value or "").strip() for key, value in cells.items() if isinstance(key, str)}
        if any(len(value) > LONGEST_LINE for value in row.values()):
            raise listing.refuse(
                reader.line_num,
                say("refused_rooms.cell_over_letters_long", longest_line=LONGEST_LINE),
                say("refused_rooms.write_one_room_row"),
            )
        if any(row.values()):
            _take_row(listing, reader.line_num, row)
    return listing


def _rows(listing: Listing, reader: csv.DictReader[str]) -> Iterator[dict[str, str]]:
    try:
        yield from reader
    except csv.Error as error:
        raise listing.refuse(
            reader.reader.line_num,
            say("refused_rooms.not_read_as_table", error=error),
            say("refused_rooms.mend_line_quotation_mark"),
        ) from None


def _delimiter(head: str) -> str:
    return max(",;\t", key=head.count)


def _take_row(listing: Listing, line: int, row: dict[str, str]) -> None:
    storey = _storey(listing, line, row)
    name = row["room"]
    kind, _, words = name.partition(" ")
    if kind.lower() in OPENING_KINDS and words and not row.get("width"):
        place = row.get("place", "")
        words = f"{words}, {place}" if place else words
        storey.openings.append(OpeningEntry(line, kind.lower(), words.strip()))
        return
    for column in NEEDED:
        if not row.get(column):
            raise listing.refuse(
                line,
                say("refused_rooms.column_missing", column=column),
                say("refused_rooms.fill_room_width_length"),
            )
    width_m, depth_m = (length_m(listing, row[column], line) for column in ("width", "length"))
    add_room(listing, storey, RoomEntry(line, name, width_m, depth_m, row.get("place", "")))


def _storey(listing: Listing, line: int, row: dict[str, str]) -> StoreyEntry:
    name = row.get("storey", "")
    nothing: dict[str, Build] = {}
    if name and (not listing.storeys or listing.storeys[-1].name.casefold() != name.casefold()):
        new_storey(listing, nothing, line, name)
    storey = current_storey(listing, nothing, line)
    if row.get("height"):
        storey.height_m = length_m(listing, row["height"], line)
        require_span(listing, "storey_height_m", storey.height_m, line)
    if row.get("elevation"):
        storey.elevation_m = elevation_m(listing, row["elevation"], line)
    for part in ("outer", "inner", "floor"):
        if row.get(part):
            set_build(listing, nothing, line, part, row[part])
    return storey
