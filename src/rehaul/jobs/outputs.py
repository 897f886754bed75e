"""What a verb may write over: nothing of the person's unless they say `--replace`, and the job itself never.

A file is asked about before the work starts, by `refuse_existing`. A folder of papers holds a list of what
rehaul wrote into it, with digests: what is still as it was written is renewed, everything else is somebody's.
A job file that is replaced on purpose leaves a numbered copy of itself, with its log.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from rehaul.errors import BadInput, CannotSave
from rehaul.house import LARGEST_DOCUMENT_BYTES
from rehaul.jobs.files import read_bounded
from rehaul.jobs.logs import LOG, SIDES, SUFFIX, log_path
from rehaul.saving import reason_of, write_whole
from rehaul.words import say

MADE = ".rehaul-made.json"  # what rehaul wrote into a folder: name and digests
KEPT_COPIES = 5
OURS = (*(LOG + side for side in ("", *SIDES)), ".rehaul-people", ".rehaul-serving")  # no place for output
_FIRST_WORDS = re.compile(rb'\s*\{\s*"schema_version"')
_PREVIOUS = re.compile(r"\.previous-(\d+)$")


def refuse_existing(path: Path | str, *, replace: bool = False, never: Sequence[Path] = ()) -> None:
    """Raise BadInput where something stands at `path` that may not be written over.

    `never`: the files that the verb works on, which are not written over even with `replace`.
    """
    path = Path(path)
    for own in never:
        if _is_same(path, own):
            raise BadInput(
                say("refused_jobs.file_made_from"),
                where=str(path),
                remedy=say("refused_jobs.give_what_written_another"),
            )
    if path.is_dir():
        raise BadInput(
            say("refused_common.that_is_a_folder"), where=str(path), remedy=say("refused_jobs.give_name_file")
        )
    if path.name.endswith(OURS):
        raise BadInput(
            say("refused_jobs.name_log_company"),
            where=str(path),
            remedy=say("refused_jobs.choose_another_name"),
        )
    if not replace and _stands(path):
        raise BadInput(
            say("refused_jobs.already_file_name"),
            where=str(path),
            remedy=say("refused_jobs.choose_another_name_say"),
        )
    if not replace and log_path(path).exists():
        raise BadInput(
            say("refused_jobs.log_earlier_job_name"),
            where=str(path),
            remedy=say("refused_jobs.choose_another_name_say_replace"),
        )


def write_out(
    path: Path, data: bytes, *, replace: bool = False, never: Sequence[Path] = (), private: bool = False
) -> None:
    """Write one file of a verb, whole or not at all; on the disk when it returns.

    A job file that is replaced leaves a numbered copy (`kept_copy`). `private`: for its owner alone. Raises
    BadInput as `refuse_existing` does, or CannotSave; what stood there then stands there still.
    """
    refuse_existing(path, replace=replace, never=never)
    with kept_copy(path):
        write_whole(path, data, private=private)


def require_folder(folder: Path) -> None:
    """Raise BadInput where something that is no folder stands at `folder`."""
    if _stands(folder) and not folder.is_dir():
        raise BadInput(
            say("refused_jobs.that_is_a_file"), where=str(folder), remedy=say("refused_jobs.give_name_folder")
        )


def write_folder(
    folder: Path, contents: Mapping[str, bytes | str], *, replace: bool = False, never: Sequence[Path] = ()
) -> list[Path]:
    """Write files under a folder, their names split by `/`, and return their paths.

    Everything is looked at before anything is written. Raises BadInput for files that rehaul did not write
    there or that were changed since, unless `replace`; CannotSave where the disk does not take them.
    **Source**: docs/papers.md: what others changed is refused.
    """
    require_folder(folder)
    made = _made(folder)
    new = {name: text.encode() if isinstance(text, str) else text for name, text in contents.items()}
    paths = {name: folder.joinpath(*name.split("/")) for name in new}
    strange, to_write, accepted = [], [], dict(made)
    for name, path in paths.items():
        there = _digest_at(path)
        digest = hashlib.sha256(new[name]).hexdigest()
        if there == digest:  # not written, so not listed either: it may be somebody's own
            continue
        refuse_existing(path, replace=True, never=never)
        accepted[name] = [digest, *([there] if there and there in made.get(name, ()) else [])]
        to_write.append(name)
        if there and (there not in made.get(name, ()) or path.is_symlink() or _has_log(path)):
            strange.append(name)
    if strange and not replace:
        more = say("refused_jobs.and_more", n=len(strange) - 3) if len(strange) > 3 else ""
        raise BadInput(
            say("refused_jobs.not_as_rehaul_wrote", names=strange[:3], more=more),
            where=str(folder),
            remedy=say("refused_jobs.give_another_folder_say"),
        )
    write_whole(folder / MADE, _made_text(accepted), make_folders=True)
    for name in to_write:
        with kept_copy(paths[name]) if name in strange else contextlib.nullcontext():
            write_whole(paths[name], new[name], make_folders=True, private=name.endswith(SUFFIX))
    return list(paths.values())


@contextlib.contextmanager
def kept_copy(path: Path) -> Iterator[None]:
    """While a job file is replaced: a numbered copy of what stood there, with its log; the newest five stay.

    Where the new file is not written in the end, the log is put back. Raises CannotSave where a server
    works on the job. **Source**: docs/sharing.md, "Replaced on purpose": the newest five stay.
    """
    if not _has_log(path) and not _is_job(path):
        yield
        return
    from rehaul.jobs.beside import is_served  # seldom needed, and it brings the log

    if is_served(path):
        raise CannotSave(
            say("refused_common.server_works_on"),
            where=str(path),
            remedy=say("refused_common.stop_server_first"),
        )
    stem, ending = _split(path)
    known = copies_of(path)
    copy = path.with_name(f"{stem}.previous-{max(known, default=0) + 1}{ending}")
    if path.is_file():
        write_whole(copy, read_bounded(path, LARGEST_DOCUMENT_BYTES * 2), private=True)
    moved = _move_log(log_path(path), log_path(copy))
    try:
        yield
    except BaseException:
        for old, new in moved:
            new.replace(old)
        copy.unlink(missing_ok=True)
        raise
    for number in sorted(known)[: -(KEPT_COPIES - 1)]:
        for part in known[number]:
            part.unlink(missing_ok=True)


def is_copy(path: Path) -> bool:
    """Whether a job file is a numbered copy of one that was replaced, by its name alone.

    >>> from pathlib import Path
    >>> is_copy(Path("mill.previous-2.rehaul.json")), is_copy(Path("mill.rehaul.json"))
    (True, False)
    """
    return _PREVIOUS.search(_split(path)[0]) is not None


def copies_of(path: Path) -> dict[int, list[Path]]:
    """The numbered copies of a job file that are there, by number, each with its log and what goes with that.

    In no order. FileNotFoundError where there is no such folder.
    """
    stem, ending = _split(path)
    found: dict[int, list[Path]] = {}
    for entry in path.parent.iterdir():
        if not entry.name.startswith(f"{stem}.previous-"):
            continue
        number = re.match(r"\d+", entry.name.removeprefix(f"{stem}.previous-"))
        copy = path.with_name(f"{stem}.previous-{number[0]}{ending}") if number else None
        if number and copy and (entry == copy or entry.name.startswith(log_path(copy).name)):
            found.setdefault(int(number[0]), []).append(entry)
    return found


def _move_log(old: Path, new: Path) -> list[tuple[Path, Path]]:
    """Rename a log and the files beside it that begin with its name; what was renamed to what."""
    moved = []
    for part in sorted(old.parent.iterdir()):
        if part.name == old.name or part.name.startswith(f"{old.name}-"):
            target = new.with_name(new.name + part.name.removeprefix(old.name))
            part.replace(target)
            moved.append((part, target))
    return moved


def _split(path: Path) -> tuple[str, str]:
    ending = SUFFIX if path.name.endswith(SUFFIX) else path.suffix
    return path.name.removesuffix(ending), ending


def _is_job(path: Path) -> bool:
    """Whether a job stands there, by its name or its first words."""
    if not path.is_file():
        return False
    if path.name.endswith(SUFFIX):
        return True
    try:
        with path.open("rb") as file:
            return _FIRST_WORDS.match(file.read(200)) is not None
    except OSError:
        return False


def _has_log(path: Path) -> bool:
    return log_path(path).exists()


def _is_same(path: Path, own: Path) -> bool:
    if path.resolve() == own.resolve():
        return True
    with contextlib.suppress(OSError):
        return path.samefile(own)
    return False


def _stands(path: Path) -> bool:
    return os.path.lexists(path)


def _digest_at(path: Path) -> str:
    """Digest of what stands there; empty where nothing does."""
    if not path.is_file():
        return ""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        raise BadInput(
            say("refused_common.cannot_be_read", reason=reason_of(error)),
            where=str(path),
            remedy=say("refused_jobs.give_another_folder"),
        ) from None


def _made(folder: Path) -> dict[str, list[str]]:
    """What rehaul wrote into a folder, by name; nothing where the list is missing or no list."""
    try:
        data = json.loads((folder / MADE).read_bytes())
        files = data["files"]
        return {str(name): [str(digest) for digest in digests] for name, digests in files.items()}
    except (OSError, ValueError, RecursionError, KeyError, TypeError, AttributeError):
        return {}


def _made_text(files: Mapping[str, Sequence[str]]) -> bytes:
    data = {"about": "What rehaul wrote into this folder; it renews what is still so.", "files": files}
    return (json.dumps(data, indent=1, ensure_ascii=True, sort_keys=True) + "\n").encode()
