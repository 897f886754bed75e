"""What stands about a job and holds what it held: numbered copies, backups, what a repair put aside.

Two files with one id need not be of one job, for `rehaul new` gives all the same. What goes with a job shares
edits with its log, or says the same of title, household, address or house.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from rehaul.errors import Refusal
from rehaul.house import Job, parse_job
from rehaul.jobs.backups import is_backup, unpack
from rehaul.jobs.files import open_job
from rehaul.jobs.logs import LOG, SIDES, log_path
from rehaul.jobs.outputs import MADE, copies_of

LARGEST_SEARCHED = 64_000_000
MOST_SEARCHED = 5_000
SHORTEST_SEARCHED = 5  # letters; shorter ones stand in anything


@dataclass(frozen=True)
class Companion:
    """One of them: its files, and what it is or why it is left."""

    files: tuple[Path, ...]
    words: str

    @property
    def name(self) -> str:
        """The file that it goes by."""
        return str(self.files[0])


@dataclass(frozen=True)
class Known:
    """A job by what tells it from others: the document, and the links of its log."""

    job: Job
    links: frozenset[str]

    def is_same(self, other: Known) -> bool:
        """Whether the other is the same job at another time.

        Yes where their logs share an edit, or they have one id and say the same of title, household or
        address, or of a house with rooms in it. An id alone is not enough: `rehaul new` gives all the same.
        """
        if self.links & other.links:
            return True
        mine, theirs = self.job, other.job
        said = [(one.title, one.contacts.household, one.contacts.address) for one in (mine, theirs)]
        alike = any(a and a == b for a, b in zip(*said, strict=True))
        return mine.id == theirs.id and (alike or bool(mine.house.rooms and mine.house == theirs.house))


def companions(
    path: Path, own: Known, folders: Sequence[Path] = ()
) -> tuple[tuple[Companion, ...], tuple[Companion, ...]]:
    """What goes with a job when it is erased, and what is left, each with the reason.

    Parameters
    ----------
    path : the job's file
    own : what the job itself says, to tell its copies and backups from those of others
    folders : where else than beside the file backups may be

    Nothing is taken away here. A copy that cannot be read is left, for nobody can say whose it is; so are
    papers, which are looked for in the job's folder and one folder down. **Source**: docs/security.md, "A
    household's data, erased for good".
    """
    goes: list[Companion] = []
    left: list[Companion] = []
    for one, is_own in (*_copies(path, own), *_backups(path, own, folders)):
        (goes if is_own else left).append(one)
    log = log_path(path)
    for pattern, words in (
        (f"{log.name}.damaged-*", "a damaged log that a repair put aside"),
        (f".{log.name}.*.mended*", "left by a repair that was stopped"),
        (f".{log.name}.*.new*", "left by a stop"),
        (f".{path.name}.*.new", "left by a stop"),
        (log.with_suffix(".rehaul-columns.json").name, "what columns of tables meant"),
    ):
        goes += [Companion((file,), words) for file in sorted(path.parent.glob(pattern)) if file.is_file()]
    left += [
        Companion((folder.parent,), "papers of a job; where they are of this one, take them away by hand")
        for folder in sorted([*path.parent.glob(f"*/{MADE}"), *path.parent.glob(MADE)])
    ]
    return tuple(goes), tuple(left)


def naming(files: Iterable[Path], texts: Sequence[str]) -> list[Path]:
    """Files in which one of the texts stands, in the order given, as it is or as JSON writes it.

    Texts shorter than `SHORTEST_SEARCHED` are left out, for they stand everywhere by chance; files that
    cannot be read count as not naming it.

    **Validity**: bytes as they lie on the disk: packed files (zip, PDF streams) are not unfolded. **Source**:
    docs/security.md, "A household's data, erased for good".
    """
    said = {text for text in texts if len(text.strip()) >= SHORTEST_SEARCHED}
    wanted = {form.encode() for text in said for form in (text, json.dumps(text, ensure_ascii=False)[1:-1])}
    found = []
    for file in files:
        with contextlib.suppress(OSError):
            data = file.read_bytes()
            if any(text in data for text in wanted):
                found.append(file)
    return found


def files_about(folder: Path, leave_out: Sequence[Path]) -> tuple[list[Path], bool]:
    """Files under a folder that are small enough to be searched, and whether those are all there are.

    At most `MOST_SEARCHED` files of at most `LARGEST_SEARCHED` bytes, folder by folder in order; symbolic
    links are not followed. The answer is False only where there were more files than that. **Source**:
    docs/security.md, "A household's data, erased for good".
    """
    found: list[Path] = []
    for place, folders, names in os.walk(folder):
        folders.sort()
        for name in sorted(names):
            file = Path(place, name)
            if len(found) >= MOST_SEARCHED:
                return found, False
            with contextlib.suppress(OSError):
                fit = file not in leave_out and file.is_file() and not file.is_symlink()
                if fit and file.stat().st_size <= LARGEST_SEARCHED:
                    found.append(file)
    return found, True


def own_files(path: Path) -> tuple[Path, ...]:
    """The job's file and its log, with what goes with that; whether they are there or not.

    The file first, then the log, its write-ahead log, its shared memory and its witness.
    """
    log = log_path(path)
    return path, *(log.with_name(log.name + side) for side in ("", *SIDES))


def _links_of(log: Path) -> frozenset[str]:
    """The links of a log, read from a copy of it; none where it cannot be read."""
    with tempfile.TemporaryDirectory(prefix="rehaul-erase-") as place, contextlib.suppress(OSError):
        copy = Path(place) / "log"
        shutil.copyfile(log, copy)
        if (left := log.with_name(f"{log.name}-wal")).exists():
            shutil.copyfile(left, copy.with_name("log-wal"))
        with (
            contextlib.suppress(sqlite3.Error, UnicodeError),
            contextlib.closing(sqlite3.connect(copy)) as connection,
        ):
            return frozenset(str(row[0]) for row in connection.execute("SELECT link FROM edit") if row[0])
    return frozenset()


def _copies(path: Path, own: Known) -> Iterator[tuple[Companion, bool]]:
    for number, files in sorted(copies_of(path).items()):
        files = sorted(files, key=lambda file: (not file.name.endswith(path.suffix), file.name))
        log = next((file for file in files if file.name.endswith(LOG)), None)
        links = _links_of(log) if log else frozenset()
        yield _told(
            tuple(files),
            f"previous copy {number}",
            partial(_on_disk, files[0], links),
            own,
        )


def _backups(path: Path, own: Known, folders: Sequence[Path]) -> Iterator[tuple[Companion, bool]]:
    for folder in dict.fromkeys([path.parent, *folders]):
        for file in sorted(folder.iterdir()):
            if file.is_file() and file != path and is_backup(file):
                yield _told((file,), "a backup", partial(_backed_up, file), own)


def _on_disk(file: Path, links: frozenset[str]) -> Known:
    return Known(open_job(file), links)


def _backed_up(file: Path) -> Known:
    _, document, log = unpack(file)
    if not log:
        return Known(parse_job(document, where=file.name), frozenset())
    with tempfile.TemporaryDirectory(prefix="rehaul-erase-") as place:
        copy = Path(place) / "log"
        copy.write_bytes(log)
        return Known(parse_job(document, where=file.name), _links_of(copy))


def _told(
    files: tuple[Path, ...], words: str, known: Callable[[], Known], own: Known
) -> tuple[Companion, bool]:
    try:
        other = known()
    except Refusal:
        return Companion(files, f"{words} that cannot be read: nobody can say whose it is"), False
    if own.is_same(other):
        return Companion(files, words), True
    return Companion(files, f"{words} of another job, {other.job.title!r}"), False
