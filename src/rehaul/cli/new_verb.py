"""`rehaul new`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import out_option, tell
from rehaul.words import say


@click.command("new")
@click.argument("title")
@out_option("The job file to write.", required=True)
@click.option("--country", default="US", show_default=True, help="Two-letter country code; sets the rules.")
@click.option("--units", type=click.Choice(["metric", "imperial"]), default="metric", show_default=True)
@click.option(
    "--down", "down_mbps", type=float, default=100.0, show_default=True, help="Subscribed rate down, Mb/s."
)
@click.option(
    "--up", "up_mbps", type=float, default=20.0, show_default=True, help="Subscribed rate up, Mb/s."
)
def command(
    title: str, out: Path, country: str, units: str, down_mbps: float, up_mbps: float, replace: bool
) -> None:
    """Start a job document.

    \b
    Example:
      rehaul new "House by the mill" --country GB --down 160 --out mill.rehaul.json
    """
    from rehaul.house import SCHEMA_VERSION, job_from_data
    from rehaul.jobs import kept_copy, new_job_id, refuse_existing, save_job

    refuse_existing(out, replace=replace)
    job = job_from_data(
        {
            "schema_version": SCHEMA_VERSION,
            "id": new_job_id(),
            "title": title,
            "country": country.upper(),
            "units": units,
            "service": {"down_mbps": down_mbps, "up_mbps": up_mbps},
        },
        where="rehaul new",
    )
    with kept_copy(out):
        save_job(out, job)
    tell(say("cli.started", file=out))
