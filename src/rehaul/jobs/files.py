"""A job as one file: opened strictly, saved so that the old file stays whole until the new one is."""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
from pathlib import Path

from rehaul.errors import BadInput, CannotSave
from rehaul.house import LARGEST_DOCUMENT_BYTES, Job, data_from_text, dump_job, job_from_data
from rehaul.jobs.migration import migrate

REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is used up",
    errno.EFBIG: "the file would be larger than the disk allows",
    errno.EROFS: "the disk is read-only",
    errno.EACCES: "you may not write there",
    errno.EPERM: "you may not write there",
    errno.ENOENT: "there is no such folder",
    errno.ENOTDIR: "there is no such folder",
    errno.EISDIR: "that is a folder",
}


def open_job(path: Path | str) -> Job:
    """The job saved at `path`, of this or an earlier schema version."""
    path = Path(path)
    text = read_bounded(path, LARGEST_DOCUMENT_BYTES)
    return job_from_data(migrate(data_from_text(text, where=path.name)), where=path.name)


def save_job(path: Path | str, job: Job) -> None:
    """Save the job at `path`. Raises CannotSave; what was saved before is then still whole."""
    write_whole(Path(path), dump_job(job).encode("utf-8"))


def refuse_existing(path: Path | str, *, replace: bool = False) -> None:
    """Raise BadInput where a file already stands at `path`, unless it may be replaced."""
    if not replace and Path(path).exists():
        raise BadInput(
            "there is already a file of that name",
            where=str(path),
            remedy="Choose another name, or say --replace",
        )


def read_bounded(path: Path, most_bytes: int) -> bytes:
    """The bytes of a file, refused before they fill the memory if there are more than `most_bytes`."""
    try:
        with path.open("rb") as file:
            data = file.read(most_bytes + 1)
    except FileNotFoundError:
        raise BadInput(
            "there is no such file", where=str(path), remedy="Check the name and the folder"
        ) from None
    except OSError as error:
        raise BadInput(
            f"it cannot be read: {_reason(error)}", where=str(path), remedy="Give a file you may read"
        ) from None
    if len(data) > most_bytes:
        raise BadInput(
            f"the file is larger than {most_bytes / 1e6:.0f} MB",
            where=str(path),
            remedy="Give a job document; photos and building models are kept beside it, not in it",
        )
    return data


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` at `path` whole or not at all: write beside, flush to disk, rename, flush the folder.

    Raises CannotSave where the disk would not take it.
    """
    path = Path(os.path.realpath(path))  # a link stays a link; the file it leads to is replaced
    beside = path.with_name(f".{path.name[:200]}.{secrets.token_hex(4)}.new")
    try:
        try:
            _write_new(beside, data, mode=_mode_of(path))
            beside.replace(path)
        finally:
            with contextlib.suppress(OSError):
                beside.unlink(missing_ok=True)
        _flush_folder(path.parent)
    except OSError as error:
        raise CannotSave(
            f"it could not be saved: {_reason(error)}",
            where=str(path),
            remedy="Make room or choose another place; what was saved there before is unchanged",
        ) from None


def _write_new(path: Path, data: bytes, *, mode: int) -> None:
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
    with os.fdopen(handle, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _mode_of(path: Path) -> int:
    try:
        return path.stat().st_mode & 0o777
    except OSError:
        return 0o666  # less the umask


def _flush_folder(folder: Path) -> None:
    if os.name == "nt":  # folders cannot be opened there; the rename itself is journalled
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _reason(error: OSError) -> str:
    return REASONS.get(error.errno or 0, (error.strerror or str(error)).lower())
