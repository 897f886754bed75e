"""`rehaul read`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import FileName, json_option, out_option, print_json, print_table, tell
from rehaul.words import say


@click.command("read")
@click.argument("model", type=FileName())
@click.option("--into", type=FileName(), help="Put the house into this job file.")
@out_option("Write a new job file with the house.")
@json_option
def command(model: Path, into: Path | None, out: Path | None, replace: bool, as_json: bool) -> None:
    """Read a house from a building model (IFC), a room list, or another job.

    \b
    Examples:
      rehaul read house.ifc --json
      rehaul read rooms.txt --out mill.rehaul.json
    """
    import logging

    from rehaul.cli.houses import keep_house, require_place
    from rehaul.house.readers import read_apart

    require_place(model, into, out, replace)
    logging.getLogger("rehaul.apart").setLevel(logging.ERROR)  # here the sentence is enough
    report = read_apart(model)
    saved = keep_house(report, model, into, out)
    counts = dict(report.counts)
    if as_json:
        print_json(
            {
                **counts,
                "not_understood": [item.model_dump(mode="json") for item in report.not_understood],
                "notes": list(report.notes),
                "saved": str(saved) if saved else None,
            }
        )
        return
    print_table(list(counts), [list(counts.values())])
    for note in report.notes:
        tell(say("cli.read_note", note=note))
    for item in report.not_understood:
        tell(say("cli.not_understood", times=item.count, kind=item.kind, why=item.why))
    if saved:
        tell(say("cli.saved", file=saved))
