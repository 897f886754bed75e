"""`rehaul erase`"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from rehaul.cli.common import job_argument, json_option, print_json, progress, tell
from rehaul.cli.household import name_option, where_options
from rehaul.errors import BadInput
from rehaul.printable import short
from rehaul.words import say

if TYPE_CHECKING:
    from rehaul.jobs.erasing import Done, ErasurePlan

LONGEST_SHOWN = 60  # letters of a text
MOST_SHOWN = 300  # fields
BEYOND = (
    "Not reached: what was mailed, printed or copied elsewhere, tablets that have not been back since, and "
    "what a disk keeps of what is deleted."
)


@click.command("erase")
@job_argument
@click.option("--yes", is_flag=True, help="Erase what is listed. It cannot be brought back.")
@click.option("--by", default="", help="Who erases it; the log keeps that. With --yes.")
@name_option
@click.option("--keep-signer", is_flag=True, help="Keep the name of who accepted an offer.")
@where_options
@json_option
def command(
    job_file: Path,
    yes: bool,
    by: str,
    names: tuple[str, ...],
    keep_signer: bool,
    folders: tuple[Path, ...],
    store: str | None,
    as_json: bool,
) -> None:
    """A household's personal data taken out of a job for good: names, address, notes, photos.

    Without --yes it lists what would go, what stays and what it cannot reach, and writes nothing. The texts
    of every earlier edit go, and copies and backups of the job. Measured values, results, amounts and days
    stay; undo brings nothing back.

    \b
    Example:
      rehaul erase mill.rehaul.json
      rehaul erase mill.rehaul.json --yes --by "Tess Wirewright"
    """
    from rehaul.jobs.erasing import ErasureAsked, erase, erase_stored, planned, planned_stored

    for folder in folders:
        if not folder.is_dir():
            raise BadInput(
                say("refused_common.no_such_folder"),
                where=str(folder),
                remedy=say("refused_cli.name_one_backups"),
            )
    if yes and not by.strip():
        raise BadInput(
            say("refused_cli.say_who_erases"), where="--by", remedy=say("refused_cli.say_who_by_name")
        )
    asked = ErasureAsked(names, keep_signer, folders)
    plan = planned_stored(store, str(job_file), asked) if store else planned(job_file, asked)
    if not as_json:
        _list(plan)
    done: Done | None = None
    if yes and plan.anything:
        with progress("Erasing") as step:
            if store:
                plan = erase_stored(store, str(job_file), asked, by)
            else:
                done = erase(job_file, asked, by, step=step)
    if as_json:
        print_json(_data(plan, done, erased=yes and plan.anything))
    elif not plan.anything:
        tell("Nothing personal is left in it.")
    elif yes:
        _tell(plan, done, by)
    else:
        tell("Nothing was erased. Say --yes --by NAME to erase it; it cannot be brought back.")


def _list(plan: ErasurePlan) -> None:
    tell(f"{plan.title}")
    if plan.unfinished:
        tell("An erasure was begun and stopped midway; it would come to its end.")
    if plan.anything:
        tell(f"Goes: {plan.counts.words}.")
    fields = (*plan.found, *plan.in_file)
    for found in fields[:MOST_SHOWN]:
        becomes = f" -> {found.becomes}" if found.becomes else ""
        tell(f"  {found.at}: {short(found.was, LONGEST_SHOWN)}{becomes}")
    if len(fields) > MOST_SHOWN:
        tell(f"  and {len(fields) - MOST_SHOWN} fields more; --json lists them all")
    for name in plan.people:
        tell(f"  Who paired: {name}, with the devices of that name")
    for companion in plan.goes:
        tell(f"  {companion.name}: {companion.words}")
    for sentence in plan.stays:
        tell(f"Stays: {sentence}")
    for name in plan.ids:
        tell(f"Stays: the name {name}, though it names the household: ids are on tape, files are yours.")
    for companion in plan.left:
        tell(f"Not reached: {companion.name}: {companion.words}.")
    tell(BEYOND)


def _tell(plan: ErasurePlan, done: Done | None, by: str) -> None:
    tell(f"Erased for good by {by.strip()}: {plan.counts.words}.")
    if done is None:
        tell(
            "Not reached: the database's own write-ahead log, its replicas and backups, and files that "
            "backup, disclose or repair --aside wrote."
        )
        return
    for file in done.still:
        tell(f"A text that was erased still stands in {file}. Say the same again.")
    for file in done.elsewhere:
        tell(f"The household is still named in {file}.")
    if not done.all_searched:
        tell(f"Only the first {done.searched} files of the folder were looked through for its names.")


def _data(plan: ErasurePlan, done: Done | None, *, erased: bool) -> dict[str, Any]:
    data = asdict(plan)
    for name in ("goes", "left"):
        data[name] = [{"file": one.name, "words": one.words} for one in getattr(plan, name)]
    data["erased"] = erased
    if done:
        data |= {"still": [str(file) for file in done.still], "elsewhere": [str(f) for f in done.elsewhere]}
    return data
