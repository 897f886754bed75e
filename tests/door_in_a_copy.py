"""The door of `rehaul.apart` with one thing changed: who reads is a copy of a process that has all imported.

Limits, walls, the answer and how it is looked at are the door's own. What a fresh interpreter does before it
reads (0.3 to 1.3 s of imports) is left out, so that tens of thousands of files can go through.
"""

from __future__ import annotations

import multiprocessing
import os
import sys
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import IO

import pytest

from fuzzing import LOADED
from rehaul.apart import door


class Copy:
    """As much of a `Popen` as the door asks for."""

    def __init__(self, question: bytes) -> None:
        context = multiprocessing.get_context("forkserver")
        context.set_forkserver_preload(list(LOADED))
        ours, theirs = context.Pipe(duplex=False)
        self._process: BaseProcess = context.Process(target=_read, args=(theirs, question), daemon=True)
        self._process.start()
        theirs.close()
        self.stdout: IO[bytes] = os.fdopen(os.dup(ours.fileno()), "rb")
        ours.close()

    def kill(self) -> None:
        self._process.kill()

    def wait(self) -> int:
        self._process.join()
        self.stdout.close()
        return self._process.exitcode or 0


def _read(answer: Connection, question: bytes) -> None:
    from rehaul.apart.inside import main

    asked = os.memfd_create("question")
    os.write(asked, question)
    os.lseek(asked, 0, os.SEEK_SET)
    os.dup2(asked, 0)
    os.dup2(answer.fileno(), 1)
    answer.close()
    sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115
    main()


def use(monkeypatch: pytest.MonkeyPatch) -> None:
    """From here on the door reads in copies."""
    for name, value in door.ENVIRONMENT.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(door, "_start", Copy)
