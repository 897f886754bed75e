"""`rehaul`: one verb a command. Nothing heavy is imported until a verb runs."""

from __future__ import annotations

import atexit
import functools
import gc
import importlib
import json
import os
import sys
from collections.abc import Callable
from typing import Any, NoReturn

import click

from rehaul.apart import memory_given_bytes, short_of_memory
from rehaul.cli.common import tell
from rehaul.cli.held import HELD, run_held
from rehaul.errors import Refusal
from rehaul.printable import short
from rehaul.words import again

VERBS: dict[str, str] = {
    "new": "Start a job document.",
    "read": "Read a house from a building model or a room list.",
    "check": "Look a job over: what is wrong, what is missing, what to do.",
    "now": "Where the job stands, and the one thing to do next.",
    "map": "Mb/s and dBm today, room by room and storey by storey.",
    "cables": "What each old cable can do.",
    "trace": "Which cable end is which outlet: plugs, walks, and what the readings say.",
    "wires": "What a pin-to-pin reading means, and which two wires to change over.",
    "pins": "Which wire goes on which pin.",
    "readings": "What was measured: list it, take it from a table, add one.",
    "link": "What this machine's own links have negotiated.",
    "next": "Where to stand for the next reading, or that none is worth it.",
    "why": "Why a room is slow, with the evidence and the test that decides.",
    "learn": "What a firm's earlier houses teach, for the predictions of its next one.",
    "compare": "Before and after, room by room.",
    "plan": "The whole job: access points, runs, channels, boxes, price, order of work.",
    "work": "The order of work with times, and a calendar file.",
    "accept": "Freeze one offer of the quote as accepted.",
    "papers": "Plan sheets, schedules, quote, order of work and labels, as PDF and tables.",
    "handover": "The record that stays with the house, readable without rehaul.",
    "demo": "An invented house, planned and on paper.",
    "serve": "The job in a browser, on this machine or the local network.",
    "verify": "Whether a job's log is what was written, and whether its file follows it.",
    "repair": "What can be saved of a damaged log, and with --write the log made anew from it.",
    "backup": "One job with its whole history in one file, also while it is served.",
    "restore": "A job put back from a backup.",
    "disclose": "Everything held about a household, as files it can read.",
    "erase": "A household's personal data taken out of a job for good.",
}

LONGEST_SENTENCE = 1500  # what was typed may stand in it, however long
# Nearly all that a verb makes stays until it ends: looking through it for rubbish took a fifth of its time,
# and once more half a second at the end.
RUBBISH = (200_000, 50, 100)
# Our matrices are small: threads of the linear algebra cost more in waiting than they save.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


class _Verbs(click.Group):
    """Commands that are imported when they are called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(VERBS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in VERBS:
            return None
        from rehaul.cli.reading import language_option

        command: click.Command = importlib.import_module(f"rehaul.cli.{cmd_name}_verb").command
        if not any(option.name == "language" for option in command.params):
            command.params.append(language_option())
            assert command.callback is not None
            command.callback = _refusing(command.callback)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Verbs"):
            formatter.write_dl(list(VERBS.items()))


@click.group(cls=_Verbs, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="rehaul")
def rehaul() -> None:
    """From what stands in a house to a wired network that is proven to work.

    \b
    Example:
      rehaul demo --out out/demo
    """


def main(arguments: list[str] | None = None) -> None:
    """Run the command line. Exit code 0 done, 2 bad input, 1 our fault."""
    if arguments is None:
        arguments = sys.argv[1:]
        if arguments and arguments[0] in HELD:
            ended = run_held(arguments)
            if ended is not None:
                sys.exit(ended)
    gc.set_threshold(*RUBBISH)
    atexit.register(gc.freeze)
    try:
        rehaul.main(args=arguments, prog_name="rehaul", standalone_mode=False)
    except Refusal as refusal:
        _refuse(refusal, "--json" in arguments)
    except click.ClickException as error:
        where = (
            f" See: {error.ctx.command_path} --help"
            if isinstance(error, click.UsageError) and error.ctx
            else ""
        )
        _end_with(error.format_message() + where)
    except MemoryError:
        _refuse(short_of_memory(memory_given_bytes()), "--json" in arguments)
    except (click.Abort, KeyboardInterrupt):
        tell("Stopped.", err=True)
        sys.exit(130)


def _refusing(callback: Callable[..., Any]) -> Callable[..., Any]:
    """A verb that says what it refuses while it is still known who reads; click forgets that at its end."""

    @functools.wraps(callback)
    def run(*given: Any, **named: Any) -> Any:
        try:
            return callback(*given, **named)
        except Refusal as refusal:
            _refuse(refusal, bool(named.get("as_json")))
        except MemoryError:
            _refuse(short_of_memory(memory_given_bytes()), bool(named.get("as_json")))

    return run


def _refuse(refusal: Refusal, as_json: bool) -> NoReturn:
    if as_json:
        tell(json.dumps({"refused": again(dict(refusal.as_dict()))}, ensure_ascii=False))
    _end_with(str(refusal))


def _end_with(sentence: str) -> NoReturn:
    tell(f"rehaul: {short(sentence, LONGEST_SENTENCE)}", err=True)
    sys.exit(2)
