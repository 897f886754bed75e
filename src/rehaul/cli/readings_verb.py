"""`rehaul readings`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import FileName, job_argument, json_option, print_json
from rehaul.cli.held import memory_option


@click.command("readings")
@job_argument
@click.option("--from", "table", type=FileName(), help="A table (CSV) to take readings from.")
@click.option(
    "--column", "columns", multiple=True, metavar="HEADING=WORD", help="What a heading means; kept."
)
@click.option("--add", "said", multiple=True, metavar="WORD=VALUE", help="One reading, typed in.")
@memory_option
@json_option
def command(
    job_file: Path, table: Path | None, columns: tuple[str, ...], said: tuple[str, ...], as_json: bool
) -> None:
    """List the readings of a job, take them from a table, or add one.

    \b
    Examples:
      rehaul readings mill.rehaul.json
      rehaul readings mill.rehaul.json --from walk.csv --column "Sig=power_dbm"
      rehaul readings mill.rehaul.json --add down_mbps=120 --add room=Playroom
    """
    from rehaul.cli.readings import (
        add_reading,
        import_readings,
        print_readings,
        print_table_news,
        reading_rows,
    )
    from rehaul.jobs import current_job

    news = import_readings(job_file, table, columns) if table else None
    job = add_reading(job_file, said) if said else current_job(job_file)
    if as_json:
        print_json({"readings": reading_rows(job), "left_out": list(news.left_out) if news else []})
    elif news and table:
        print_table_news(news, table)
    else:
        print_readings(job)
