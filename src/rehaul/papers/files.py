"""Papers onto the disk: each file whole or not at all, and what was there before stays until then."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from rehaul.errors import CannotSave


def write_all(folder: Path, contents: Mapping[str, bytes | str]) -> list[Path]:
    """Write every file, in order, under the folder; returns their paths.

    Names may hold folders, split by `/`. Raises CannotSave.
    """
    written = []
    for name, content in contents.items():
        path = folder.joinpath(*name.split("/"))
        write_whole(path, content.encode() if isinstance(content, str) else content)
        written.append(path)
    return written


def write_whole(path: Path, content: bytes) -> None:
    """Write beside, flush to the disk, then rename over. Raises CannotSave."""
    beside = path.with_name(f".{path.name}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with beside.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError as error:
        beside.unlink(missing_ok=True) if path.parent.is_dir() else None
        raise CannotSave(
            f"the disk would not take it: {(error.strerror or str(error)).lower()}",
            where=str(path),
            remedy="Free some space or choose another folder; what was there before is still whole",
        ) from None
