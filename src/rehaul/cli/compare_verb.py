"""`rehaul compare`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, out_option, print_json


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
@json_option
def command(job_file: Path, out: Path | None, quantity: str, as_json: bool) -> None:
    """Before and after, room by room with the same device, and where it got no better.

    \b
    Example:
      rehaul compare mill.rehaul.json --out before-after.svg
    """
    from rehaul.house import Quantity
    from rehaul.jobs import current_job, write_whole
    from rehaul.proof import comparison

    found = comparison(current_job(job_file))
    if out:
        from rehaul.papers.comparison import comparison_svg

        write_whole(out, comparison_svg(found.pairs, Quantity(quantity)).encode())
    if as_json:
        print_json(found.model_dump(mode="json"))
        return
    for line in (found.sentence, *(pair.sentence for pair in found.pairs), *found.unpaired):
        click.echo(line)
