"""`rehaul pins`"""

from __future__ import annotations

import click

from rehaul.cli.common import json_option, print_json, print_table, tell
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
@click.option("--two-links", is_flag=True, help="Two links of 100 Mb/s on one cable of four pairs.")
@json_option
def command(standard: str, kind: str, pairs: int, two_links: bool, as_json: bool) -> None:
    """Which wire goes on which pin, with the lengths to strip and to untwist.

    \b
    Example:
      rehaul pins --standard T568A --kind quad --pairs 2
      rehaul pins --two-links
    """
    from dataclasses import asdict

    from rehaul.house import CableKind
    from rehaul.tracing import termination
    from rehaul.tracing import two_links as both

    sheets = both(standard) if two_links else (termination(standard, CableKind(kind), pairs),)
    if as_json:
        print_json({"jacks": [asdict(sheet) for sheet in sheets]} if two_links else asdict(sheets[0]))
        return
    for sheet in sheets:
        if two_links:
            tell(f"{sheet.title[0].upper()}{sheet.title[1:]}")
        print_table(
            ["pin", "pair", "wire", "old telephone wire"],
            [(row.pin, row.pair, row.colour, row.telephone_colour) for row in sheet.rows],
        )
    tell(sheets[0].advice)
    for caution in sheets[0].cautions:
        tell(f"!  {caution}")
