"""`rehaul pins`"""

from __future__ import annotations

import click

from rehaul.cli.common import json_option, print_json, print_table, say
from rehaul.facts.cables import cables


@click.command("pins")
@click.option("--standard", type=click.Choice(["T568A", "T568B"]), default="T568B", show_default=True)
@click.option(
    "--kind",
    type=click.Choice(list(cables())),
    default="cat5e",
    show_default=True,
    help="Kind of cable.",
)
@click.option("--pairs", type=click.IntRange(1, 4), default=4, show_default=True)
@json_option
def command(standard: str, kind: str, pairs: int, as_json: bool) -> None:
    """Which wire goes on which pin, with the lengths to strip and to untwist.

    \b
    Example:
      rehaul pins --standard T568A --kind quad --pairs 2
    """
    from dataclasses import asdict

    from rehaul.house import CableKind
    from rehaul.tracing import termination

    sheet = termination(standard, CableKind(kind), pairs)
    if as_json:
        print_json(asdict(sheet))
        return
    print_table(
        ["pin", "pair", "wire", "old telephone wire"],
        [(row.pin, row.pair, row.colour, row.telephone_colour) for row in sheet.rows],
    )
    say(sheet.advice)
    for caution in sheet.cautions:
        say(f"!  {caution}")
