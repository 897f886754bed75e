"""`rehaul check`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, print_json, tell
from rehaul.words import say, term


@click.command("check")
@job_argument
@json_option
def command(job_file: Path, as_json: bool) -> None:
    """Look a job over. A broken document is refused; an unfinished one gets numbered findings.

    \b
    Example:
      rehaul check mill.rehaul.json
    """
    from rehaul.cli.reading import for_people
    from rehaul.house.audit import audit
    from rehaul.jobs import current_job

    job = current_job(job_file)
    findings = audit(job)
    if as_json:
        print_json({"findings": [finding.model_dump(mode="json") for finding in findings]})
        return
    for number, finding in enumerate(for_people(job, findings), 1):
        tell(f"{number:3d}. [{term(finding.severity)}] {finding.sentence} {finding.proposed_fix}")
    tell(say("cli.findings", found=len(findings)))
