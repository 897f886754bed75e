"""Opening and saving a job file: whole or not at all, whatever the disk does."""

from __future__ import annotations

import errno
import os
import resource
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from rehaul import saving
from rehaul.errors import BadInput, CannotSave
from rehaul.house import SCHEMA_VERSION, Job, dump_job
from rehaul.jobs import files, migrate, open_job, save_job

SAMPLES = Path(__file__).parent / "samples"
JOB = Job(id="j", title="Before")
LARGER = Job(id="j", title="After", notes="x" * 2000)


@pytest.fixture
def saved(tmp_path: Path) -> Path:
    path = tmp_path / "house.rehaul.json"
    save_job(path, JOB)
    return path


def assert_untouched(path: Path) -> None:
    assert path.read_text() == dump_job(JOB)
    assert [entry.name for entry in path.parent.iterdir()] == [path.name], "a half-written file was left"


def test_round_trip(saved: Path) -> None:
    assert open_job(saved) == JOB
    save_job(saved, LARGER)
    assert open_job(saved) == LARGER


def test_a_link_stays_a_link_and_the_mode_stays(saved: Path, tmp_path: Path) -> None:
    saved.chmod(0o640)
    link = tmp_path / "link.json"
    link.symlink_to(saved)
    save_job(link, LARGER)
    assert link.is_symlink()
    assert open_job(saved) == LARGER
    assert saved.stat().st_mode & 0o777 == 0o640


@pytest.mark.parametrize("step", ["write", "fsync", "replace"])
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EROFS, errno.EIO])
def test_a_disk_that_fails_at_any_step(
    saved: Path, monkeypatch: pytest.MonkeyPatch, step: str, code: int
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise OSError(code, os.strerror(code))

    if step == "write":
        monkeypatch.setattr(saving.os, "open", fail)
    elif step == "fsync":
        monkeypatch.setattr(saving.os, "fsync", fail)
    else:
        monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(CannotSave) as caught:
        save_job(saved, LARGER)
    monkeypatch.undo()
    assert str(saved) in str(caught.value)
    assert_untouched(saved)


def test_a_size_limit_of_the_system(saved: Path) -> None:
    """A real short write: the process may not write files above 1,000 bytes."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, before[1]))
    try:
        with pytest.raises(CannotSave, match="larger than the disk allows"):
            save_job(saved, LARGER)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, handler)
    assert_untouched(saved)


def test_a_real_full_disk(tiny_disk: Path) -> None:
    path = tiny_disk / "house.rehaul.json"
    save_job(path, JOB)
    filler = tiny_disk / "filler"
    with pytest.raises(OSError, match="No space"):
        filler.write_bytes(b"x" * 1_200_000)
    with pytest.raises(CannotSave, match="the disk is full"):
        save_job(path, LARGER)
    assert sorted(entry.name for entry in tiny_disk.iterdir()) == ["filler", path.name]
    assert open_job(path) == JOB
    filler.unlink()
    save_job(path, LARGER)
    assert open_job(path) == LARGER


def test_a_real_read_only_disk(tiny_disk: Path) -> None:
    path = tiny_disk / "house.rehaul.json"
    save_job(path, JOB)
    subprocess.run(["mount", "-o", "remount,ro", str(tiny_disk)], check=True)
    with pytest.raises(CannotSave, match="the disk is read-only"):
        save_job(path, LARGER)
    assert_untouched(path)


def test_killed_in_the_middle_of_saving(saved: Path) -> None:
    """SIGKILL between the write and the rename: the old file is whole."""
    code = (
        "import os, signal, sys\n"
        "from rehaul.jobs import open_job, save_job\n"
        "os.fsync = lambda _: os.kill(os.getpid(), signal.SIGKILL)\n"
        "save_job(sys.argv[1], open_job(sys.argv[1]).model_copy(update={'title': 'After'}))\n"
    )
    done = subprocess.run([sys.executable, "-c", code, str(saved)], check=False)
    assert done.returncode == -signal.SIGKILL
    assert open_job(saved) == JOB


def test_no_folder(tmp_path: Path) -> None:
    with pytest.raises(CannotSave, match="no such folder"):
        save_job(tmp_path / "nowhere" / "a.json", JOB)


def test_bad_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(BadInput, match="no such file"):
        open_job(tmp_path / "absent.json")
    with pytest.raises(BadInput, match="folder"):
        open_job(tmp_path)
    short = tmp_path / "short.json"
    short.write_text(dump_job(JOB)[:40])
    with pytest.raises(BadInput, match="not JSON"):
        open_job(short)
    monkeypatch.setattr(files, "LARGEST_DOCUMENT_BYTES", 30)
    with pytest.raises(BadInput, match="larger than"):
        open_job(short)


def test_a_huge_file_is_not_read_whole(tmp_path: Path) -> None:
    huge = tmp_path / "huge.json"
    with huge.open("wb") as file:
        file.truncate(2_000_000_000)
    with pytest.raises(BadInput, match="larger than 67 MB"):
        open_job(huge)


@pytest.mark.parametrize("version", range(1, SCHEMA_VERSION + 1))
def test_kept_samples_of_every_version_open(version: int) -> None:
    job = open_job(SAMPLES / f"version-{version}.rehaul.json")
    assert job.schema_version == SCHEMA_VERSION
    assert job.house.outlets, "a kept sample should not be empty"


def test_upgrades_are_chained() -> None:
    upgrades = {1: lambda data: {**data, "b": data["a"]}, 2: lambda data: {**data, "c": data["b"] + 1}}
    old = {"schema_version": 1, "a": 5}
    new = migrate(old, to=3, upgrades=upgrades)
    assert new == {"schema_version": 3, "a": 5, "b": 5, "c": 6}
    assert old == {"schema_version": 1, "a": 5}, "the data handed in was changed"


@pytest.mark.parametrize("version", [None, True, "1", 2, 99, 0])
def test_what_cannot_be_upgraded_is_left_for_the_loader_to_refuse(version: object) -> None:
    data = {"schema_version": version}
    assert migrate(data, to=1, upgrades={}) == data
