"""`rehaul map`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, out_option, print_json, print_table, progress


@click.command("map")
@job_argument
@out_option("A folder for one picture a storey (SVG).")
@click.option("--client", default="phone", show_default=True, help="The kind of device that listens.")
@json_option
def command(job_file: Path, out: Path | None, client: str, as_json: bool) -> None:
    """Mb/s today, room by room, with the narrowest link of each.

    \b
    Examples:
      rehaul map mill.rehaul.json
      rehaul map mill.rehaul.json --client "old laptop" --out maps
    """
    from rehaul.jobs import current_job, write_whole
    from rehaul.predict import Listener, coverage, standing_radiators

    job = current_job(job_file)
    with progress("Map"):
        found = coverage(job, standing_radiators(job), listener=Listener(client))
    if out:
        from rehaul.papers import coverage_svgs

        for name, text in coverage_svgs(job, found).items():
            write_whole(out / name, text.encode())
    if as_json:
        print_json({"rooms": [room.model_dump(mode="json") for room in found.rooms]})
        return
    print_table(
        ["room", "storey", "low", "Mb/s", "high", "dBm", "band", "narrowest link"],
        [
            (r.name, r.storey, f"{r.low_mbps:.0f}", f"{r.median_mbps:.0f}", f"{r.high_mbps:.0f}",
             f"{r.power_dbm:.0f}" if r.source else "", r.band.value if r.source else "", r.narrowest)
            for r in found.rooms
        ],
    )  # fmt: skip
