"""`rehaul serve`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.apart import DEFAULT_MEMORY_BYTES
from rehaul.cli.common import FileName
from rehaul.cli.held import LARGEST_GB, SMALLEST_GB


@click.command("serve")
@click.argument("folder", type=FileName(), default=Path("jobs"))
@click.option("--port", type=click.IntRange(1, 65535), default=8720, show_default=True)
@click.option(
    "--lan", is_flag=True, help="Let paired devices on the local network in; shows a code and a QR."
)
@click.option("--tls", is_flag=True, help="Serve over TLS with a certificate made on this machine.")
@click.option(
    "--memory",
    "memory_gb",
    type=click.FloatRange(SMALLEST_GB, LARGEST_GB),
    default=DEFAULT_MEMORY_BYTES / 1e9,
    show_default=True,
    metavar="GB",
    help="The most memory that a plan or its papers may take.",
)
@click.option(
    "--store",
    help="Database URL (postgresql://user@host/name?sslmode=verify-full); a file in FOLDER by default. "
    "Its password comes from PGPASSWORD, a password file (PGPASSFILE) or the terminal: put none into "
    "the URL, which every user of this machine can read.",
)
@click.option("--security", is_flag=True, help="Print who paired, was refused or let out, and serve nothing.")
def command(
    folder: Path, port: int, lan: bool, tls: bool, memory_gb: float, store: str | None, security: bool
) -> None:
    """Open the jobs of a folder in a browser, on this machine or the local network.

    The folder is one that is there: none is made.

    \b
    Examples:
      rehaul serve
      rehaul serve jobs --lan
    """
    from rehaul.kernels import prepare
    from rehaul.web.serving import print_security, serve

    if security:
        print_security(folder, store)
        return
    prepare()
    serve(folder, port=port, lan=lan, tls=tls, store=store, memory_bytes=int(memory_gb * 1e9))
