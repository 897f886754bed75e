"""`rehaul disclose`"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

import click

from rehaul.cli.common import FileName, job_argument, json_option, print_json, tell
from rehaul.cli.household import name_option, where_options
from rehaul.errors import BadInput
from rehaul.words import say


@click.command("disclose")
@job_argument
@click.option("--out", type=FileName(), required=True, help="The folder to make, for its owner alone.")
@name_option
@where_options
@json_option
def command(
    job_file: Path,
    out: Path,
    names: tuple[str, ...],
    folders: tuple[Path, ...],
    store: str | None,
    as_json: bool,
) -> None:
    """Everything held about a household, as files it can read: fields, edits, photos, people, copies.

    index.txt says what is there and names every personal text with its field; the rest is JSON and pictures.
    It may be made while the job is served. Look it through before you hand it over: your crew is named in it.

    \b
    Example:
      rehaul disclose mill.rehaul.json --out mill-held
    """
    from rehaul.jobs.disclosure import disclose, disclose_stored

    for folder in folders:
        if not folder.is_dir():
            raise BadInput(
                say("refused_common.no_such_folder"),
                where=str(folder),
                remedy=say("refused_cli.name_one_backups"),
            )
    given = (
        disclose_stored(store, str(job_file), out, names)
        if store
        else disclose(job_file, out, names, folders)
    )
    if as_json:
        left = [{"file": one.name, "words": one.words} for one in given.left]
        print_json({**asdict(given), "left": left, "out": str(out)})
        return
    counts = f"{given.files} files with {given.personal} personal texts"
    tell(f"{given.title}: {counts}, in {out}. Begin with index.txt.")
    if given.others:
        tell(f"Not in it: {given.others} of the people who paired; the job names none of them.")
    for companion in given.left:
        tell(f"Not in it: {companion.name}: {companion.words}.")
