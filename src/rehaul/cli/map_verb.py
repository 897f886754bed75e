"""`rehaul map`"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from rehaul.cli.common import job_argument, json_option, out_option, print_json, print_table, progress, tell
from rehaul.cli.held import memory_option
from rehaul.words import term

if TYPE_CHECKING:
    from rehaul.predict import RoomRate


@click.command("map")
@job_argument
@out_option("A folder for one picture a storey (SVG).")
@click.option("--client", default="phone", show_default=True, help="The kind of device that listens.")
@click.option("--up", is_flag=True, help="The way towards the internet instead.")
@memory_option
@json_option
def command(job_file: Path, out: Path | None, replace: bool, client: str, up: bool, as_json: bool) -> None:
    """Mb/s today, room by room, with the narrowest link of each.

    \b
    Examples:
      rehaul map mill.rehaul.json
      rehaul map mill.rehaul.json --client "old laptop" --out maps
      rehaul map mill.rehaul.json --up
    """
    from rehaul.cli.reading import for_people
    from rehaul.jobs import current_job, require_folder, write_folder
    from rehaul.predict import Listener, coverage, standing_radiators

    if out:
        require_folder(out)
    job = current_job(job_file)
    with progress("Map"):
        found = coverage(job, standing_radiators(job), listener=Listener(client))
    if out:
        from rehaul.sheets import coverage_svgs

        write_folder(out, coverage_svgs(job, found, up=up), replace=replace, never=[job_file])
    if as_json:
        print_json(
            {"rooms": [room.model_dump(mode="json") for room in found.rooms], "notes": list(found.notes)}
        )
        return
    found = for_people(job, found)
    print_table(
        ["room", "storey", "low", "Mb/s up" if up else "Mb/s", "high", "dBm", "band", "narrowest link"],
        [
            (r.name, r.storey, *(f"{rate:.0f}" for rate in _rates_mbps(r, up)),
             f"{r.power_dbm:.0f}" if r.source else "", r.band.value if r.source else "",
             term(r.narrowest_up if up else r.narrowest))
            for r in found.rooms
        ],
    )  # fmt: skip
    for note in found.notes:
        tell(f"{note}.")


def _rates_mbps(room: RoomRate, up: bool) -> tuple[float, float, float]:
    """Low, middle and high."""
    if up:
        return room.up_low_mbps, room.up_median_mbps, room.up_high_mbps
    return room.low_mbps, room.median_mbps, room.high_mbps
