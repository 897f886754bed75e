"""`rehaul compare`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, out_option, print_json, tell
from rehaul.cli.held import memory_option


@click.command("compare")
@job_argument
@out_option("A picture of it (SVG).")
@click.option(
    "--quantity",
    type=click.Choice(["down_mbps", "up_mbps", "delay_ms", "loaded_delay_ms"]),
    default="down_mbps",
    show_default=True,
    help="What the picture shows.",
)
@memory_option
@json_option
def command(job_file: Path, out: Path | None, replace: bool, quantity: str, as_json: bool) -> None:
    """Before and after, room by room with the same device, and where it got no better.

    \b
    Example:
      rehaul compare mill.rehaul.json --out before-after.svg
    """
    from rehaul.cli.reading import for_people
    from rehaul.house import Quantity
    from rehaul.jobs import current_job, refuse_existing, write_out
    from rehaul.proof import comparison

    if out:
        refuse_existing(out, replace=replace, never=[job_file])
    job = current_job(job_file)
    found = comparison(job)
    if out:
        from rehaul.sheets.comparison import comparison_svg

        picture = comparison_svg(found.pairs, Quantity(quantity)).encode()
        write_out(out, picture, replace=replace, never=[job_file])
    if as_json:
        print_json(found.model_dump(mode="json"))
        return
    found = for_people(job, found)
    for line in (found.sentence, *(pair.sentence for pair in found.pairs), *found.unpaired):
        tell(line)
