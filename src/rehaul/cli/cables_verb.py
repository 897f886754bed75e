"""`rehaul cables`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, print_json, print_table, tell
from rehaul.words import term


@click.command("cables")
@job_argument
@json_option
def command(job_file: Path, as_json: bool) -> None:
    """What each old cable can do: rate, power, reason, and what to look at first to know more.

    \b
    Example:
      rehaul cables mill.rehaul.json
    """
    from rehaul.cli.reading import for_people
    from rehaul.jobs import current_job
    from rehaul.network import closer_looks

    job = current_job(job_file)
    verdicts = closer_looks(job)
    if as_json:
        print_json({"runs": [verdict.model_dump(mode="json") for verdict in verdicts]})
        return
    verdicts = for_people(job, verdicts)
    print_table(
        ["cable", "ends", "m", "likely Mb/s", "maybe Mb/s", "PoE", "use", "why"],
        [
            (v.run, "-".join(v.ends), f"{v.length_m:.0f}", f"{v.likely_mbps:.0f}", f"{v.hoped_mbps:.0f}",
             v.poe_class, term("yes" if v.usable else "no"), v.sentence)
            for v in verdicts
        ],
    )  # fmt: skip
    looks = [(v.run, words) for v in verdicts for words in v.closer]
    if looks:
        tell("")
        print_table(["cable", "on a closer look"], looks)
