"""Bad input at the command line: one clear sentence, exit code 2, no traceback, nothing overwritten."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from needing import need
from rehaul.cli.main import main
from rehaul.house import dump_job
from rehaul.jobs import demo_job

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def call(*arguments: str | Path) -> tuple[int, str, str]:
        code = 0
        try:
            main([str(argument) for argument in arguments])
        except SystemExit as stop:
            code = int(stop.code or 0)
        out, err = capsys.readouterr()
        return code, out, err

    return call


def refused(result: tuple[int, str, str], *words: str) -> None:
    code, _, err = result
    assert code == 2, err
    assert err.startswith("rehaul: ") and err.count("\n") == 1, err
    assert "Traceback" not in err
    for word in words:
        assert word in err


@pytest.fixture
def job_text() -> str:
    return dump_job(demo_job())


@pytest.mark.parametrize("verb", ["check", "map", "cables", "plan"])
def test_a_missing_file(run: Run, verb: str, tmp_path: Path) -> None:
    refused(run(verb, tmp_path / "gone.rehaul.json"), "no such file", "gone.rehaul.json")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda text: "this is not JSON", ["not JSON"]),
        (lambda text: text[: len(text) // 2], ["cut short"]),
        (lambda text: text.replace('"schema_version": 3', '"schema_version": 99'), ["schema version 99"]),
        (
            lambda text: text.replace('"elevation_m": 2.9', '"elevation_m": NaN'),
            ["(1).elevation_m", "finite", "NaN"],
        ),
        (
            lambda text: text.replace('"thickness_m": 0.15', '"thickness_m": -0.15'),
            ["thickness_m", "greater than"],
        ),
        (lambda text: text.replace("9.8,\n          0.0", "0.0,\n          0.0", 1), ["no length"]),
        (
            lambda text: text.replace("10.1,\n          1.6", "101.0,\n          1.6", 1),
            ["outside the house"],
        ),
        (lambda text: text.replace('"id": "1-02"', '"id": "1-01"', 1), ["already used"]),
        (lambda text: text.replace('"1-03"\n', '"9-99"\n', 1), ["no outlet, meeting point or splitter"]),
    ],
    ids=["not JSON", "truncated", "version", "NaN", "negative", "no length", "outside", "twice", "nowhere"],
)
def test_a_broken_job(
    run: Run, tmp_path: Path, job_text: str, change: Callable[[str], str], words: list[str]
) -> None:
    broken = change(job_text)
    assert broken != job_text
    path = tmp_path / "bad.rehaul.json"
    path.write_text(broken)
    refused(run("check", path), *words)
    assert path.read_text() == broken


def test_a_building_model_that_is_none(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "house.ifc"
    path.write_bytes(b"\x00\x01 this is not a building model")
    refused(run("read", path), "house.ifc")


def test_a_file_of_200_mb(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "huge.rehaul.json"
    with path.open("wb") as file:
        file.write(b'{"schema_version": 1, "notes": "')
        file.truncate(200_000_000)
    for verb in ("check", "read"):
        refused(run(verb, path), "MB")


def test_nothing_is_written_over(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "mine.rehaul.json"
    path.write_text("mine")
    refused(run("new", "House", "--out", path), "already a file")
    assert path.read_text() == "mine"


def test_a_full_disk_leaves_the_old_file_whole(run: Run, tmp_path: Path, job_text: str) -> None:
    """A real file system that is full; needs the right to mount one."""
    need("mount")
    disk = tmp_path / "disk"
    disk.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(disk)], capture_output=True, check=False
    )
    if mounted.returncode:
        pytest.skip("this user may not mount a small disk")
    try:
        path = disk / "job.rehaul.json"
        path.write_text(job_text)
        (disk / "ballast").write_bytes(b"x" * (64 * 1024 - len(job_text.encode()) - 8192))
        rooms = tmp_path / "job.rehaul.json"
        rooms.write_text(job_text)
        refused(run("read", rooms, "--into", path), "the disk is full")
        assert path.read_text() == job_text
        assert {item.name for item in disk.iterdir()} == {"job.rehaul.json", "ballast"}
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def test_unknown_words_are_refused_too(run: Run) -> None:
    refused(run("bogus"), "No such command")
    refused(run("map"), "JOB")
    refused(run("map", "x", "--speed"), "--speed")


def test_json_carries_the_same_refusal(run: Run, tmp_path: Path) -> None:
    code, out, _ = run("check", tmp_path / "gone.rehaul.json", "--json")
    assert code == 2
    assert json.loads(out)["refused"]["code"] == "bad-input"


def test_every_verb_helps_with_an_example(run: Run) -> None:
    from rehaul.cli.main import VERBS

    for verb in VERBS:
        code, out, _ = run(verb, "--help")
        assert code == 0
        assert "Example" in out and f"rehaul {verb}" in out, verb


def test_help_imports_nothing_heavy() -> None:
    """What makes `--help` fast: none of the big libraries is loaded for it."""
    code = (
        "import sys\n"
        "from rehaul.cli.main import main\n"
        "try:\n    main(['--help'])\n"
        "except SystemExit:\n    pass\n"
        "heavy = {'numpy', 'scipy', 'numba', 'pydantic', 'shapely', 'typst'} & set(sys.modules)\n"
        "sys.exit(3 if heavy else 0)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False, env={**os.environ}
    )
    assert done.returncode == 0, done.stdout + done.stderr
