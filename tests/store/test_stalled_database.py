"""A PostgreSQL server that stands still: nobody waits for it but who asked it something."""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx

sys.path.insert(0, str(Path(__file__).parents[1] / "faces"))
from server import running


@contextlib.contextmanager
def standing_still(postgres: Any) -> Iterator[None]:
    """Stop every process of the server that this test started."""
    first = int((postgres._folder / "data" / "postmaster.pid").read_text().splitlines()[0])
    pids = [first]
    for entry in Path("/proc").iterdir():
        with contextlib.suppress(OSError, ValueError):
            if int(entry.joinpath("stat").read_text().rsplit(")", 1)[1].split()[1]) == first:
                pids.append(int(entry.name))
    for pid in pids:
        os.kill(pid, signal.SIGSTOP)
    try:
        yield
    finally:
        for pid in pids:
            with contextlib.suppress(ProcessLookupError):
                os.kill(pid, signal.SIGCONT)


def timed(client: httpx.Client, path: str, **headers: str) -> tuple[int, float]:
    started = time.monotonic()
    status = client.get(path, headers=headers).status_code
    return status, time.monotonic() - started


def test_a_made_up_cookie_holds_nobody_up(postgres: Any, postgres_url: str, tmp_path: Path) -> None:
    with running(tmp_path, postgres_url) as server:
        ann = server.paired("Ann")
        assert ann.get("/api/me").status_code == 200
        with standing_still(postgres):
            time.sleep(1.1)  # the last look at the store is too old to let anybody in by
            eve = server.stranger(cookie=f"{server.settings.cookie}={'x' * 43}")
            status, seconds = timed(eve, "/api/me")
            assert (status, seconds < 7) == (503, True), seconds
            status, seconds = timed(ann, "/api/me")
            assert (status, seconds < 7) == (503, True), seconds
            bare = server.stranger()
            status, seconds = timed(bare, "/")
            assert (status, seconds < 0.5) == (200, True), seconds
            status, seconds = timed(bare, "/api/me")
            assert (status, seconds < 0.5) == (401, True), seconds
        ends = time.monotonic() + 25
        while ann.get("/api/me").status_code != 200:
            assert time.monotonic() < ends, "it does not come back"
            time.sleep(0.2)
