"""Options and output that every verb shares."""

from __future__ import annotations

import errno
import json
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, TypeVar

import click

from rehaul.kernels import prepare
from rehaul.printable import printable, short

Function = TypeVar("Function", bound=Callable[..., Any])


class FileName(click.Path):
    """A path that the system has a name for; NUL and half letters are in none."""

    def __init__(self) -> None:
        super().__init__(path_type=Path)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        try:
            Path(value).stat()
        except OSError as error:
            fault = "is too long for a name" if error.errno == errno.ENAMETOOLONG else ""
        except ValueError:  # NUL, or half a letter
            fault = "is no name of a file"
        else:
            fault = ""
        if fault:
            self.fail(f"{short(str(value))!r} {fault}", param, ctx)
        return super().convert(value, param, ctx)


job_argument = click.argument("job_file", metavar="JOB", type=FileName())


def _plain(ctx: click.Context, _: click.Parameter, asked: bool) -> bool:
    """JSON is for programs, which read one language whatever the machine's is."""
    if asked:
        from rehaul.words import REFERENCE, speaking

        ctx.with_resource(speaking(REFERENCE))
    return asked


json_option = click.option(
    "--json", "as_json", is_flag=True, callback=_plain, help="Print JSON instead of a table."
)


def out_option(what: str, *, required: bool = False) -> Callable[[Function], Function]:
    """`--out` with its own words, and `--replace`, without which nothing of anybody's is written over."""
    out = click.option("--out", type=FileName(), required=required, help=what)
    replace = click.option("--replace", is_flag=True, help="Write over what stands at --out already.")
    return lambda function: out(replace(function))


def tell(*lines: object, err: bool = False) -> None:
    """Lines for the terminal, one an argument: all goes by here, and what would steer it is written out."""
    for line in lines or ("",):
        _put(printable(str(line)), err)


def print_json(data: object) -> None:
    """JSON on standard output, keys in their own order; what is written out in it is JSON's own escape."""
    _put(printable(json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False), keep="\n"), False)


def _put(text: str, err: bool) -> None:
    """Print what the terminal has letters for; the rest is written out too."""
    encoding = getattr(sys.stderr if err else sys.stdout, "encoding", None) or "utf-8"
    click.echo(text.encode(encoding, "backslashreplace").decode(encoding), err=err)


def print_table(headings: Sequence[str], rows: Sequence[Sequence[object]]) -> None:
    """A plain table, its headings in the reader's language; columns of numbers to the right."""
    from rehaul.words import term

    headings = [term(head) for head in headings]
    texts = [[printable(str(cell)) for cell in row] for row in rows]
    widths = [
        max(len(head), *(len(row[i]) for row in texts)) if texts else len(head)
        for i, head in enumerate(headings)
    ]
    right = [bool(texts) and all(_is_number(row[i]) for row in texts) for i in range(len(headings))]
    for row in [list(headings), *texts]:
        cells = [
            cell.rjust(width) if to_right else cell.ljust(width)
            for cell, width, to_right in zip(row, widths, right, strict=True)
        ]
        tell("  ".join(cells).rstrip())


def _is_number(text: str) -> bool:
    return bool(text) and text.replace(" ", "").replace(".", "").replace("-", "").isdigit()


@contextmanager
def progress(title: str) -> Iterator[Callable[[str], None]]:
    """Work that takes its time: yields a function that names the next step, shown on a terminal only.

    What has to be compiled for it is compiled before, which is said wherever it goes to.
    """
    prepare()
    if not sys.stderr.isatty():
        yield lambda step: None
        return
    from rich.console import Console
    from rich.markup import escape
    from rich.progress import Progress, SpinnerColumn, TextColumn, TimeElapsedColumn

    from rehaul.words import term

    columns = SpinnerColumn(), TextColumn("{task.description}"), TimeElapsedColumn()
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(term(title))
        yield lambda step: bar.update(task, description=escape(printable(f"{term(title)}: {term(step)}")))
