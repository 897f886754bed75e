"""`rehaul why`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, print_json, print_table, progress, tell
from rehaul.cli.held import memory_option
from rehaul.words import say, term


@click.command("why")
@job_argument
@click.argument("room")
@click.option(
    "--stage", type=click.Choice(["before", "during", "after"]), default="before", show_default=True
)
@memory_option
@json_option
def command(job_file: Path, room: str, stage: str, as_json: bool) -> None:
    """Why a room is slow: causes with their chances, the evidence, what stands in the way, the next test.

    \b
    Example:
      rehaul why mill.rehaul.json "Living room"
    """
    from rehaul.cli.reading import for_people
    from rehaul.jobs import current_job
    from rehaul.proof import diagnose, room_case, room_named, way_to

    job = current_job(job_file)
    with progress("Why"):
        place = room_named(job, room)
        found, way = diagnose(*room_case(job, place, stage)), way_to(job, place, stage)
    if as_json:
        print_json({**found.model_dump(mode="json"), "way": way.model_dump(mode="json")})
        return
    found, way = for_people(job, (found, way))
    print_table(
        ["narrowest link", "chance", "what it means", "what to do"],
        [
            (term(c.narrowest), f"{c.probability:.0%}", c.says, c.remedy)
            for c in found.causes
            if c.probability >= 0.01
        ],
    )
    for line in found.evidence:
        tell(line)
    tell(say("cli.straight_way", way=way.sentence))
    if found.next_test:
        tell(say("cli.next", what=found.next_test.instruction))
