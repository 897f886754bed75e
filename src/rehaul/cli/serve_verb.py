"""`rehaul serve`"""

from __future__ import annotations

from pathlib import Path

import click

from rehaul.cli.common import FileName


@click.command("serve")
@click.argument("folder", type=FileName(), default=Path("jobs"))
@click.option("--port", type=click.IntRange(1, 65535), default=8720, show_default=True)
@click.option(
    "--lan", is_flag=True, help="Let paired devices on the local network in; shows a code and a QR."
)
@click.option("--tls", is_flag=True, help="Serve over TLS with a certificate made on this machine.")
@click.option("--store", help="Database URL; a file in FOLDER by default.")
def command(folder: Path, port: int, lan: bool, tls: bool, store: str | None) -> None:
    """Open the jobs of a folder in a browser, on this machine or the local network.

    The folder is one that is there: none is made.

    \b
    Examples:
      rehaul serve
      rehaul serve jobs --lan
    """
    from rehaul.kernels import prepare
    from rehaul.web import serve

    prepare()
    serve(folder, port=port, lan=lan, tls=tls, store=store)
