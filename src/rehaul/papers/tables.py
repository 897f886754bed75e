"""Every table of a plan, by name."""

from __future__ import annotations

from rehaul.papers.before_work import gate, live_checks
from rehaul.papers.onsite import checks, drops
from rehaul.papers.table import Table
from rehaul.papers.tables_house import house_tables
from rehaul.papers.tables_network import network_tables
from rehaul.papers.tables_survey import floors, walls
from rehaul.papers.tables_work import work_tables
from rehaul.plan import Plan


def tables(plan: Plan) -> dict[str, Table]:
    """All tables of a plan by name: the name of its CSV file and of its sheet in the workbook."""
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
