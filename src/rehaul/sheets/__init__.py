"""Drawings and documents: plan sheets, maps, schedules, labels, the quote, the page, the handover record."""

from rehaul.sheets.document import papers, pdf, write_papers
from rehaul.sheets.labels import labels_pdf
from rehaul.sheets.page import page_html
from rehaul.sheets.pins import pins_svg
from rehaul.sheets.plansheet import sheet_svg
from rehaul.sheets.portmap import ports_svg
from rehaul.sheets.rack import rack_svg
from rehaul.sheets.ratemap import coverage_svgs, map_svg
from rehaul.sheets.record import Photo, handover_files
from rehaul.sheets.schedules import tables
from rehaul.sheets.spreadsheet import csv_text, xlsx_bytes
from rehaul.sheets.table import Column, Table
from rehaul.sheets.typeset import Paper

__all__ = [
    "Column",
    "Paper",
    "Photo",
    "Table",
    "coverage_svgs",
    "csv_text",
    "handover_files",
    "labels_pdf",
    "map_svg",
    "page_html",
    "papers",
    "pdf",
    "pins_svg",
    "ports_svg",
    "rack_svg",
    "sheet_svg",
    "tables",
    "write_papers",
    "xlsx_bytes",
]
