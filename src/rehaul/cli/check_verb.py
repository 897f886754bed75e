"""`rehaul check`"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from rehaul.cli.common import job_argument, json_option, print_json, tell
from rehaul.words import say, term

if TYPE_CHECKING:
    from rehaul.house.audit import Ask


@click.command("check")
@job_argument
@json_option
def command(job_file: Path, as_json: bool) -> None:
    """Look a job over. A broken document is refused; an unfinished one gets a numbered list of questions.

    \b
    Example:
      rehaul check mill.rehaul.json
    """
    from rehaul.cli.reading import for_people
    from rehaul.house.audit import asks, audit
    from rehaul.jobs import current_job

    job = current_job(job_file)
    findings = audit(job)
    asked = asks(job, findings)
    if as_json:
        rows = {"findings": findings, "asks": asked}
        print_json({name: [one.model_dump(mode="json") for one in found] for name, found in rows.items()})
        return
    for number, ask in enumerate(for_people(job, asked), 1):
        words = say("cli.ask", title=ask.title, why=ask.why, fix=ask.fix)
        tell(f"{number:3d}. [{term(ask.severity)}] {words}")
        for line in _about(ask):
            tell(f"       {line}")
    tell(say("cli.findings", questions=len(asked), found=len(findings)))


def _about(ask: Ask) -> list[str]:
    """What a question is about: a line for each thing of which more is said, else all names on one."""
    if any(one.says for one in ask.about):
        return [f"{one.name}: {one.says}" if one.says else one.name for one in ask.about]
    return ["; ".join(one.name for one in ask.about)] if len(ask.about) > 1 else []
