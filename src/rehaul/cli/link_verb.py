"""`rehaul link`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import FileName, json_option, print_json, print_table, tell
from rehaul.words import say


@click.command("link")
@click.option("--into", type=FileName(), help="A job that takes it in as readings.")
@click.option("--room", default="", help="The room where this machine stands.")
@click.option("--device", default="", help="Which device of the job this machine is.")
@json_option
def command(into: Path | None, room: str, device: str, as_json: bool) -> None:
    """What this machine's own links have negotiated: rate, power, channel.

    \b
    Examples:
      rehaul link
      rehaul link --into mill.rehaul.json --room Playroom
    """
    from rehaul.cli.own_link import own_links, with_links
    from rehaul.jobs import edit_job

    links = own_links()
    if into:
        edit_job(into, lambda job: with_links(job, links, room, device), label="Own link read")
    if as_json:
        print_json({"links": [link.model_dump(mode="json") for link in links]})
        return
    print_table(
        ["link", "kind", "Mb/s", "duplex", "dBm", "channel", "band", "MHz"],
        [
            ["" if value is None else value for value in
             (x.name, x.kind, x.rate_mbps, x.duplex, x.power_dbm, x.channel, x.band, x.width_mhz)]
            for x in links
        ],
    )  # fmt: skip
    if not links:
        tell(say("cli.no_link"))
