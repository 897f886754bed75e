"""What the verbs on a household's data are told: whose names, and where else to look."""

from __future__ import annotations

import click

from rehaul.cli.common import FileName, Function

_name = click.option(
    "--name", "names", multiple=True, help="A name of somebody of the household. Repeatable."
)
_backups = click.option(
    "--backups",
    "folders",
    multiple=True,
    type=FileName(),
    help="A folder with backups to look through, beside the job's own. Repeatable.",
)
_store = click.option("--store", help="A database; JOB is then the id of a job in it.")


def name_option(function: Function) -> Function:
    """`--name`, as `names`."""
    return _name(function)


def where_options(function: Function) -> Function:
    """`--backups`, as `folders`, and `--store`."""
    return _backups(_store(function))
