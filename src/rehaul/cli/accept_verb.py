"""`rehaul accept`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import job_argument, json_option, print_json, progress, tell
from rehaul.cli.held import memory_option
from rehaul.words import say


@click.command("accept")
@job_argument
@click.option("--option", "name", required=True, help="The offer's name, as in the quote.")
@click.option("--by", required=True, help="Who accepts it.")
@click.option("--date", required=True, help="Day of the signature, YYYY-MM-DD.")
@click.option("--words", default="", help="What was said with it.")
@memory_option
@json_option
def command(job_file: Path, name: str, by: str, date: str, words: str, as_json: bool) -> None:
    """Freeze one offer of the quote as accepted, with its plan and a hash by which a later change shows.

    The plan of that offer stays in force: parts, price and steps as signed. What a new plan would change is a
    proposal until it is accepted.

    \b
    Example:
      rehaul accept mill.rehaul.json --option Good --by "A. Miller" --date 2026-12-01
    """
    from rehaul.jobs import current_job, edit_job
    from rehaul.planning import signed_offer, weigh
    from rehaul.takeoff import accept, signature, signed_plan_text

    signed = signature(by, date, words)
    with progress("Quote") as step:
        weighed = weigh(current_job(job_file), progress=step)
        kept = signed_plan_text(signed_offer(weighed, name, progress=step))
    quote = weighed.fresh.takeoff.quote
    job = edit_job(
        job_file, lambda old: accept(old, quote, name, signed, kept), label=f"Offer accepted: {name}"[:80]
    )
    last = job.accepted_offers[-1]
    if as_json:
        print_json(last.model_dump(mode="json", exclude={"plan"}))
    else:
        offer = {"offer": last.option, "total": last.total, "currency": last.currency}
        tell(say("cli.accepted", **offer, by=by, date=date), last.sha256)
