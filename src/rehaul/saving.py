"""A file onto the disk, whole or not at all; what was there before stays until then."""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
from pathlib import Path

from rehaul.errors import CannotSave
from rehaul.words import say

_REASONS = {
    errno.ENOSPC: "refused_common.disk_full",
    errno.EDQUOT: "refused_common.disk_share_used_up",
    errno.EFBIG: "refused_common.larger_than_disk_allows",
    errno.EROFS: "refused_common.disk_read_only",
    errno.EACCES: "refused_common.may_not_write_there",
    errno.EPERM: "refused_common.may_not_write_there",
    errno.ENOENT: "refused_common.no_such_folder",
    errno.ENOTDIR: "refused_common.no_such_folder",
    errno.EISDIR: "refused_common.that_is_a_folder",
}


def write_whole(path: Path, data: bytes, *, make_folders: bool = False, private: bool = False) -> None:
    """Put `data` at `path` whole or not at all: write beside, flush to disk, rename, flush the folder.

    `private`: a new file is for its owner alone; one that was there keeps its mode.

    Raises CannotSave where the disk would not take it.
    """
    path = Path(os.path.realpath(path))  # a link stays a link; the file it leads to is replaced
    beside = path.with_name(f".{path.name[:200]}.{secrets.token_hex(4)}.new")
    try:
        if make_folders:
            path.parent.mkdir(parents=True, exist_ok=True)
        try:
            write_new(beside, data, mode=_mode_of(path, 0o600 if private else 0o666))
            beside.replace(path)
        finally:
            with contextlib.suppress(OSError):
                beside.unlink(missing_ok=True)
        flush_folder(path.parent)
    except OSError as error:
        raise CannotSave(
            say("refused_common.could_not_be_saved", reason=reason_of(error)),
            where=str(path),
            remedy=say("refused_common.make_room_choose_another"),
        ) from None


def write_new(path: Path, data: bytes, *, mode: int) -> None:
    """Write a file that was not there and flush it to the disk.

    `mode` holds the rights of the new file, such as 0o600, less those that the process's mask takes away.
    Raises FileExistsError where something of that name stands already, else OSError as the disk says; a
    file begun may then be left behind.
    """
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
    with os.fdopen(handle, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _mode_of(path: Path, new: int) -> int:
    try:
        return path.stat().st_mode & 0o777
    except OSError:
        return new  # less the umask


def flush_folder(folder: Path) -> None:
    """Bring a new or renamed file's entry in `folder` to the disk; nothing is done on Windows.

    Raises OSError where the folder cannot be opened or flushed.
    """
    if os.name == "nt":  # folders cannot be opened there; the rename itself is journalled
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def reason_of(error: OSError) -> str:
    """What the disk said, for people: `the disk is full`, `you may not write there`.

    An error without words of ours comes back in the system's, in small letters.

    >>> import errno
    >>> reason_of(OSError(errno.ENOSPC, "No space left on device"))
    'the disk is full'
    """
    code = _REASONS.get(error.errno or 0)
    return say(code) if code else (error.strerror or str(error)).lower()
