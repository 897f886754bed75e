"""Drawings and documents: plan sheets, maps, schedules, labels, the quote, the page, the handover record."""

from rehaul.papers.document import papers, pdf, write_papers
from rehaul.papers.handover import Photo, handover, handover_files
from rehaul.papers.labels import labels_pdf
from rehaul.papers.page import page_html
from rehaul.papers.pins import pins_svg
from rehaul.papers.plansheet import sheet_svg
from rehaul.papers.portmap import ports_svg
from rehaul.papers.rack import rack_svg
from rehaul.papers.ratemap import coverage_svgs, map_svg
from rehaul.papers.spreadsheet import csv_text, xlsx_bytes
from rehaul.papers.table import Column, Table
from rehaul.papers.tables import tables
from rehaul.papers.typeset import Paper

__all__ = [
    "Column",
    "Paper",
    "Photo",
    "Table",
    "coverage_svgs",
    "csv_text",
    "handover",
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
