"""Papers onto the disk: each file whole or not at all, and what was there before stays until then."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from rehaul.saving import write_whole


def write_all(folder: Path, contents: Mapping[str, bytes | str]) -> list[Path]:
    """Write every file, in order, under the folder; returns their paths.

    Names may hold folders, split by `/`. Raises CannotSave.
    """
    written = []
    for name, content in contents.items():
        path = folder.joinpath(*name.split("/"))
        data = content.encode() if isinstance(content, str) else content
        write_whole(path, data, make_folders=True)
        written.append(path)
    return written
