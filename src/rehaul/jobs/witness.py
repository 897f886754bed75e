"""How far a log had come, kept beside it: what was acknowledged cannot go missing from its end unseen.

A log that lost its newest pages is a shorter log that looks whole. So after every commit its newest revisions
are written into a small file of their own. That file is never ahead of the disk, and needs no flushing: it is
there after a kill, and after a power cut it may lag, which takes nothing away.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
from pathlib import Path

from rehaul.jobs.chain import digest_of

MOST_BYTES = 1_000_000


class Witness:
    """The newest revision and link of every job of one log."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def heads(self) -> dict[str, tuple[int, str]]:
        """Revision and link by job; nothing where there is no file, or it was torn.

        **Validity**: it may lag behind the log after a power cut, and is never ahead of it. **Source**:
        docs/sharing.md, "What was written is what is read": a witness.
        """
        try:
            with self.path.open("rb") as file:
                return _read(file.read(MOST_BYTES))
        except OSError:
            return {}

    def saw(self, job: str, revision: int, link: str) -> None:
        """Note what was just committed; a disk that does not take it takes nothing away.

        Nothing is raised, and nothing flushed. Of two writers at once the higher revision stands (on
        Windows, which has no such lock, perhaps the lower). **Source**: docs/sharing.md, "What was written is
        what is read": a witness.
        """
        with contextlib.suppress(OSError):
            handle = os.open(self.path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o600)
            try:
                _hold(handle)  # or a slower writer would turn it back
                heads = _read(os.read(handle, MOST_BYTES))
                if heads.get(job, (-1, ""))[0] < revision:
                    self._write(handle, {**heads, job: (revision, link)})
            finally:
                os.close(handle)

    def reset(self, heads: dict[str, tuple[int, str]]) -> None:
        """What counts from now on, also lower revisions than before: after a repair or a backup put back.

        Jobs that are not named are forgotten. Where the disk does not take it the old one stays, and
        nothing is raised.
        """
        with contextlib.suppress(OSError):
            handle = os.open(self.path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o600)
            try:
                _hold(handle)
                self._write(handle, heads)
            finally:
                os.close(handle)

    @staticmethod
    def _write(handle: int, heads: dict[str, tuple[int, str]]) -> None:
        body = json.dumps({job: [*head] for job, head in heads.items()}, ensure_ascii=True)
        data = f"{digest_of(body)} {body}\n".encode()
        os.lseek(handle, 0, os.SEEK_SET)
        os.write(handle, data)
        os.ftruncate(handle, len(data))


def _read(data: bytes) -> dict[str, tuple[int, str]]:
    digest, _, body = data.decode("utf-8", "replace").strip().partition(" ")
    if not body or digest_of(body) != digest:
        return {}
    return {str(job): (int(revision), str(link)) for job, (revision, link) in json.loads(body).items()}


def _hold(handle: int) -> None:
    if sys.platform == "win32":  # there two writers at once may leave the lesser one
        return
    import fcntl

    with contextlib.suppress(OSError):
        fcntl.flock(handle, fcntl.LOCK_EX)
