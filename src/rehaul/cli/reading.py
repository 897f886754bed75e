"""In which language a verb speaks: what was asked for, else what the machine itself speaks."""

from __future__ import annotations

import locale
import os
from typing import TypeVar

import click

from rehaul.house import Job
from rehaul.words import LANGUAGES, Language, Reader, again, reader, speaking

FoundT = TypeVar("FoundT")
ASKED_BY_NAME = "REHAUL_LANGUAGE"
_TOLD_BY = ("LC_ALL", "LC_MESSAGES", "LANG")  # in the order in which POSIX has them


def language_option() -> click.Option:
    """`--language`, which every verb has; a fresh one each time, as a command owns its options."""
    return click.Option(
        ["--language"],
        type=click.Choice(LANGUAGES),
        envvar=ASKED_BY_NAME,
        callback=_speak,
        is_eager=True,
        expose_value=False,
        help="The language to speak; the machine's own where it is one of these, else English.",
    )


def language_of_machine() -> Language:
    """The language that the machine is set to, where rehaul speaks it; English otherwise."""
    told = next((found for name in _TOLD_BY if (found := os.environ.get(name))), None)
    own = (told or locale.getlocale()[0] or "").lower()
    return next((language for language in LANGUAGES if own.startswith(language)), "en")


def for_people(job: Job, found: FoundT) -> FoundT:
    """What was found, said again to whoever reads the terminal; so is all after it, to the end of the verb.

    Lengths are in the job's units from here on.
    """
    click.get_current_context().with_resource(speaking(Reader(reader().language, job.units)))
    return again(found)


def _speak(ctx: click.Context, _: click.Parameter, asked: Language | None) -> None:
    ctx.with_resource(speaking(Reader(asked or language_of_machine())))
