"""Logs damaged on purpose, and what becomes of them: nothing may go missing without a word."""

from __future__ import annotations

import random
import shutil
from dataclasses import dataclass
from pathlib import Path

from replica import change, edit_data, put, small_job

from rehaul.errors import Refusal
from rehaul.house import Job
from rehaul.jobs import LogBeside, edit_from_data, log_path, save_job
from rehaul.jobs.logs import SIDES
from rehaul.jobs.mending import mend
from rehaul.jobs.salvage import salvage
from rehaul.jobs.store import Store

EDITS = 24
NAME = "house.rehaul.json"


@dataclass(frozen=True)
class Kept:
    """A folder with a job that was worked on, and what was acknowledged."""

    folder: Path
    job: Job
    rows: tuple[str, ...]

    @property
    def path(self) -> Path:
        return self.folder / NAME


def worked_on(folder: Path, *, hot: bool, follows: bool = True) -> Kept:
    """A job of some edits; `hot` leaves the write-ahead log as a killed program would."""
    work = folder / "work"
    work.mkdir(parents=True)
    save_job(work / NAME, small_job())
    beside = LogBeside(work / NAME)
    ledger, acknowledged = beside.ledger, []
    for number in range(EDITS):
        note = f"said {number} " + "x" * (number * 37 % 400)
        edit = change("wall", f"w{number % 4 + 1}", note=note)
        if number % 5 == 4:
            edit = put("reading", id=f"y{number}", quantity="down_mbps", value=40 + number, room="r2")
        data = edit_data(ledger.revision, edit)
        acknowledged.append(ledger.submit("ann" if number % 2 else "bob", edit_from_data(data)).edit)
        if number == EDITS // 2:
            ledger.keep_snapshot()
    if follows:
        beside.export()
    kept, last = folder / "kept", ledger.job
    if hot:
        shutil.copytree(work, kept)
        beside.close()
    else:
        beside.close()
        shutil.copytree(work, kept)
    return Kept(kept, last, tuple(acknowledged))


def flip(path: Path, random_: random.Random) -> int:
    """Turn one bit of a file; where it stood."""
    data = bytearray(path.read_bytes())
    place = random_.randrange(len(data) * 8)
    data[place // 8] ^= 1 << (place % 8)
    path.write_bytes(bytes(data))
    return place


def tear(path: Path, random_: random.Random) -> int:
    """Cut a file off, or blank half a kilobyte of it as a torn page would be; where."""
    data = path.read_bytes()
    place = random_.randrange(len(data))
    if random_.random() < 0.5:
        path.write_bytes(data[:place])
    else:
        path.write_bytes(data[:place] + bytes(len(data[place : place + 512])) + data[place + 512 :])
    return place


def becomes(kept: Kept, folder: Path) -> str:
    """What opening makes of a damaged copy: whole, refused and mended with a word, or a silent loss."""
    path = folder / NAME
    try:
        beside = LogBeside(path)
    except Refusal as refusal:
        assert refusal.remedy
        return _mended(kept, path)
    try:
        rows = tuple(row.edit for row in beside.ledger.store.rows("job", 0))
        if beside.ledger.job == kept.job and rows == kept.rows:
            return "whole"
        same = "as it was" if beside.ledger.job == kept.job else "another"
        return f"SILENT LOSS: {len(rows)} of {len(kept.rows)} edits, the job is {same}"
    finally:
        beside.close()


def _mended(kept: Kept, path: Path) -> str:
    try:
        found = salvage(path)
        mend(path, found)
        beside = LogBeside(path)
    except Refusal as refusal:
        return f"refused: {str(refusal)[:60]}"
    try:
        assert not Store(beside.store.database).database.unsound()
        if beside.ledger.job == kept.job:
            return "mended, nothing lost"
        return "mended, the loss told" if found.lost else "SILENT LOSS in mending"
    finally:
        beside.close()


def copy_of(kept: Kept, folder: Path) -> Path:
    """A copy to damage."""
    if folder.exists():
        shutil.rmtree(folder)
    shutil.copytree(kept.folder, folder)
    return folder


def files_of(folder: Path) -> list[Path]:
    """The files of the log."""
    log = log_path(folder / NAME)
    parts = [log.with_name(log.name + side) for side in ("", *SIDES)]
    return [part for part in parts if part.exists() and part.stat().st_size]
