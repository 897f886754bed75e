"""Tables as CSV and XLSX: numbers stay numbers, and no cell can act as a formula."""

from __future__ import annotations

import csv
import datetime
import io
from collections.abc import Iterable

import xlsxwriter

from rehaul.sheets.svg import clean
from rehaul.sheets.table import Cell, Column, Table

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
LONGEST_CELL = 32_000  # a spreadsheet holds 32 767 characters in a cell
LONGEST_SHEET_NAME = 31


def csv_text(table: Table) -> str:
    """The table as CSV after RFC 4180: comma, CRLF, heads are the column keys.

    Text that a spreadsheet would run as a formula gets an apostrophe before it.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([column.key for column in table.columns])
    for row in table.rows:
        writer.writerow([_csv_cell(cell, column) for cell, column in zip(row, table.columns, strict=True)])
    return out.getvalue()


def harmless(text: str) -> str:
    """Text that no spreadsheet takes for a formula: an apostrophe before it where it begins like one.

    **Source**: docs/papers.md, "Tables": text that a spreadsheet would run as a formula.

    >>> harmless("=1+1"), harmless("G-01")
    ("'=1+1", 'G-01')
    """
    text = clean(text)
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text


def _csv_cell(cell: Cell, column: Column) -> str | int | float:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return harmless(cell)
    return _rounded(cell, column)


def _rounded(cell: int | float, column: Column) -> int | float:
    if isinstance(cell, int):
        return cell
    digits = 2 if column.kind == "money" else max(column.digits, 1)
    value = round(cell, digits)
    return int(value) if value == int(value) and column.kind == "whole" else value


def xlsx_bytes(tables: Iterable[Table], *, title: str, created: datetime.datetime) -> bytes:
    """One workbook with a sheet for each table; the same input gives the same bytes.

    Parameters
    ----------
    created : what the file says of its making; without it, bytes would differ from day to day

    Texts are cut at 32,000 characters and names of sheets at 31, which is what a spreadsheet holds. No text
    becomes a formula or a link. **Source**: 32,767 characters a cell and 31 a name (the format's limits, from
    memory); docs/papers.md, "How it is made".
    """
    out = io.BytesIO()
    options = {
        "in_memory": True,
        "strings_to_formulas": False,
        "strings_to_urls": False,
        "strings_to_numbers": False,
    }
    book = xlsxwriter.Workbook(out, options)
    book.set_properties({"title": clean(title), "created": created.replace(tzinfo=None)})
    head = book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"})
    wrap = book.add_format({"text_wrap": True, "valign": "top"})
    formats: dict[int, object] = {}
    for table in tables:
        sheet = book.add_worksheet(table.name[:LONGEST_SHEET_NAME])
        sheet.freeze_panes(1, 0)
        for c, column in enumerate(table.columns):
            sheet.write_string(0, c, column.head, head)
            sheet.set_column(c, c, _width(table, c))
            digits = 2 if column.kind == "money" else column.digits
            if digits not in formats:
                pattern = "0." + "0" * digits if digits else "0"
                formats[digits] = book.add_format({"num_format": pattern, "valign": "top"})
            for r, row in enumerate(table.rows, start=1):
                cell = row[c]
                if isinstance(cell, str):
                    sheet.write_string(r, c, clean(cell)[:LONGEST_CELL], wrap)
                elif cell is not None:
                    sheet.write_number(r, c, cell, formats[digits])
    book.close()
    return out.getvalue()


def _width(table: Table, index: int) -> float:
    longest = max((len(str(row[index] or "")) for row in table.rows), default=0)
    return float(min(48, max(8, len(table.columns[index].head) + 1, longest + 1)))
