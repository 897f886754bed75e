"""`rehaul compare`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, out_option, print_json


@click.command("compare")
@job_argument
@out_option("A picture of it (SVG).")
@json_option
def command(job_file: Path, out: Path | None, as_json: bool) -> None:
    """Before and after, room by room with the same device, and where it got no better.

    \b
    Example:
      rehaul compare mill.rehaul.json --out before-after.svg
    """
    from rehaul.jobs import current_job, write_whole
    from rehaul.proof import comparison

    found = comparison(current_job(job_file))
    if out:
        from rehaul.papers.comparison import comparison_svg

        write_whole(out, comparison_svg(found.pairs).encode())
    if as_json:
        print_json(found.model_dump(mode="json"))
        return
    for line in (found.sentence, *(pair.sentence for pair in found.pairs), *found.unpaired):
        click.echo(line)
