"""Every table of a plan, by name."""

from __future__ import annotations

from rehaul.planning import Plan
from rehaul.sheets.before_work import gate, live_checks
from rehaul.sheets.onsite import checks, drops
from rehaul.sheets.table import Table
from rehaul.sheets.tables_house import house_tables
from rehaul.sheets.tables_network import network_tables
from rehaul.sheets.tables_survey import floors, walls
from rehaul.sheets.tables_work import work_tables


def tables(plan: Plan) -> dict[str, Table]:
    """All tables of a plan by name: the name of its CSV file and of its sheet in the workbook.

    **Source**: docs/papers.md, "Tables", which a test holds against this.
    """
    every = (
        *house_tables(plan),
        *network_tables(plan),
        *work_tables(plan),
        gate(plan),
        live_checks(plan),
        walls(plan),
        floors(plan),
        drops(plan),
        checks(plan),
    )
    return {table.name: table for table in every}
