"""A household's job made and erased while every write is recorded; it says when it is made, and erased."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from household import CREW, worked_on

from rehaul.jobs.erasing import ErasureAsked, erase


def main(folder: Path) -> None:
    path = worked_on(folder)
    os.sync()
    os.write(1, b"ack 1 made\n")
    erase(path, ErasureAsked(), CREW)
    os.write(1, b"ack 2 erased\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
