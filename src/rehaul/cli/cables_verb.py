"""`rehaul cables`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, print_json, print_table


@click.command("cables")
@job_argument
@json_option
def command(job_file: Path, as_json: bool) -> None:
    """What each old cable can do: rate, power, reason, and what to look at first to know more.

    \b
    Example:
      rehaul cables mill.rehaul.json
    """
    from rehaul.jobs import current_job
    from rehaul.network.cabling import run_verdicts, telling

    job = current_job(job_file)
    verdicts = run_verdicts(job)
    tells = [telling(job, run) for run in job.house.runs]
    if as_json:
        rows = [
            {**verdict.model_dump(mode="json"), "telling": tell.model_dump(mode="json") if tell else None}
            for verdict, tell in zip(verdicts, tells, strict=True)
        ]
        print_json({"runs": rows})
        return
    print_table(
        ["cable", "ends", "m", "likely Mb/s", "maybe Mb/s", "PoE", "use", "why", "to know more"],
        [
            (v.run, "-".join(v.ends), f"{v.length_m:.0f}", f"{v.likely_mbps:.0f}", f"{v.hoped_mbps:.0f}",
             v.poe_class, "yes" if v.usable else "no", v.sentence, tell.sentence if tell else "")
            for v, tell in zip(verdicts, tells, strict=True)
        ],
    )  # fmt: skip
