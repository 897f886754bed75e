"""Starts a real server over and over, quickly: everything is imported once, then each server is a fork.

Usage: zygote.py PLACE PORT [STORE]. A line on standard input starts a server; its process id is printed.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

import uvicorn

from rehaul.jobs import open_desk
from rehaul.web.app import make_app
from rehaul.web.pairing import Code, Codes
from rehaul.web.serving import listening, uvicorn_options
from rehaul.web.settings import Settings

FIXED_CODE = "ABCDEFGH"


class FixedCodes(Codes):
    """Always lets the test in."""

    def new(self) -> Code:
        return Code(FIXED_CODE, float("inf"))

    def use(self, typed: str, address: str = "") -> Code:
        assert typed == FIXED_CODE
        return self.new()


def serve(place: Path, port: int, store: str | None) -> None:
    with listening("127.0.0.1", port) as socket:
        app = make_app(open_desk(place, store), Settings(port=port), FixedCodes())
        uvicorn.Server(uvicorn.Config(app, **uvicorn_options())).run(sockets=[socket])


def main() -> None:
    place, port = Path(sys.argv[1]), int(sys.argv[2])
    store = sys.argv[3] if len(sys.argv) > 3 else None
    for _ in sys.stdin:
        child = os.fork()
        if child == 0:
            serve(place, port, store)
            os._exit(0)
        print(child, flush=True)
        os.waitpid(child, 0)  # the test kills it
        print("gone", flush=True)


if __name__ == "__main__":
    main()
