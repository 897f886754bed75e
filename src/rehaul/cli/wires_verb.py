"""`rehaul wires`"""

from __future__ import annotations

import click

from rehaul.cli.common import json_option, print_json, tell


@click.command("wires")
@click.argument("far_pins")
@json_option
def command(far_pins: str, as_json: bool) -> None:
    """What a pin-to-pin reading means. FAR_PINS lists the far pin seen from each near pin, 1 to 8.

    Write a dash for an open wire and several pins in brackets for a short.

    \b
    Examples:
      rehaul wires 12345678
      rehaul wires 36145278
      rehaul wires 1-345678
      rehaul wires "(12)(12)345678"
    """
    from dataclasses import asdict

    from rehaul.cli.wiring import far_pins_of
    from rehaul.tracing import classify

    found = classify(far_pins_of(far_pins))
    if as_json:
        print_json(asdict(found))
        return
    tell(found.sentence)
