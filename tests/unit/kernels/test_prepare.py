"""Compiling ahead: said once, done once, kept for the next process."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from rehaul.kernels import prepare as front
from rehaul.kernels.machine import index_of, tag
from rehaul.kernels.places import place_for

prepare = sys.modules[front.__module__]

LOADED = """
import json, sys
from rehaul.proof import warm
warm.warm_up()
print(json.dumps("numba" in sys.modules))
"""


@pytest.fixture
def compiled(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Two packages, and a list of those that were compiled."""
    done: list[str] = []
    monkeypatch.setattr(prepare, "packages", lambda: ["exact", "radio"])
    monkeypatch.setattr(prepare, "place_for", lambda package: tmp_path)
    monkeypatch.setattr(prepare, "is_done", lambda package: package in done)
    monkeypatch.setattr(prepare, "compile_apart", done.append)
    return done


def test_it_is_said_once_and_done_once(compiled: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    front()
    out, err = capsys.readouterr()
    assert out == "", "standard output belongs to the verb, which may be printing JSON"
    assert err.count("\n") == 1 and "minute" in err and "once" in err
    assert compiled == ["exact", "radio"]
    front()
    assert capsys.readouterr() == ("", "")
    assert compiled == ["exact", "radio"]


def test_only_what_is_missing_is_compiled(compiled: list[str]) -> None:
    compiled.append("exact")
    front()
    assert compiled == ["exact", "radio"]


def test_where_nothing_can_be_kept_it_says_so_and_what_to_do(
    compiled: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(prepare, "place_for", lambda package: None)
    for _ in range(2):
        front()
        said = capsys.readouterr().err
        assert "every time" in said and "NUMBA_CACHE_DIR" in said
    assert compiled == [], "a process apart would compile for nothing"


def test_what_was_compiled_apart_is_only_loaded_afterwards(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With the smallest of the packages, in a folder of its own."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    place_for.cache_clear()
    try:
        prepare.compile_apart("proof")
        assert prepare.is_done("proof")
    finally:
        place_for.cache_clear()
    done = subprocess.run(
        [sys.executable, "-c", LOADED], capture_output=True, text=True, check=True, env={**os.environ}
    )
    assert json.loads(done.stdout) is False, "what would compile is not even there"


def test_what_another_machine_made_is_not_done_here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """They may share a folder; each makes its own."""
    monkeypatch.setattr(prepare, "place_for", lambda package: tmp_path)
    (tmp_path / f"done-{tag()}").touch()
    assert prepare.is_done("proof")
    monkeypatch.setattr("rehaul.kernels.machine.tag", lambda: "another")
    assert not prepare.is_done("proof")


def test_what_was_ended_before_it_was_done_is_made_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Code that lies there already is not what the loops are heard through."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    place_for.cache_clear()
    try:
        for _ in range(2):
            prepare.compile_apart("proof")
            place = place_for("proof")
            assert place is not None and index_of(place).exists()
            (place / f"done-{tag()}").unlink()
        assert not list(place.rglob("*.nbi"))
    finally:
        place_for.cache_clear()


@pytest.mark.parametrize("step", ["MAKE", "LINK", "TRY"])
def test_where_machine_code_is_not_to_be_had_numba_keeps_its_own(
    step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each of the processes may end in any way."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    monkeypatch.setattr(prepare, step, "import os; os.abort()")
    place_for.cache_clear()
    try:
        prepare.compile_apart("proof")
        assert prepare.is_done("proof")
        place = place_for("proof")
    finally:
        place_for.cache_clear()
    assert place is not None and list(place.rglob("*.nbi"))
    assert [path.name for path in place.iterdir() if path.is_file()] == [f"done-{tag()}"]
    done = subprocess.run(
        [sys.executable, "-c", LOADED], capture_output=True, text=True, check=True, env={**os.environ}
    )
    assert json.loads(done.stdout) is True


def test_what_failed_is_not_taken_for_done(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    monkeypatch.setattr(sys, "executable", "/bin/false")
    place_for.cache_clear()
    try:
        prepare.compile_apart("proof")
        assert not prepare.is_done("proof")
    finally:
        place_for.cache_clear()
