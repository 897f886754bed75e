"""A verb of the command line in this process: what it tells; the library's heavy parts are stood in for."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rehaul.cli import common
from rehaul.cli.main import main
from rehaul.house import Job
from rehaul.jobs import save_job

Told = tuple[int, list[str], str]  # exit code, lines told, what went wrong
Run = Callable[..., Told]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    monkeypatch.setattr(common, "prepare", lambda: None)
    monkeypatch.setattr("rehaul.kernels.prepare", lambda: None)

    def call(*arguments: object) -> Told:
        code = 0
        try:
            main([str(argument) for argument in arguments])
        except SystemExit as stop:
            code = int(stop.code or 0)
        out, err = capsys.readouterr()
        return code, out.splitlines(), err

    return call


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    path = tmp_path / "mill.rehaul.json"
    save_job(path, Job(id="mill", title="Mill house", paper="Letter"))
    return path


class Stands:
    """Stands for functions of the library: notes what they are given, and gives what it is told."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.patch = monkeypatch
        self.calls: list[tuple[str, tuple[Any, ...], dict[str, Any]]] = []

    def for_(self, name: str, gives: Any) -> None:
        def stand(*given: Any, **named: Any) -> Any:
            named.pop("progress", None)
            self.calls.append((name.rsplit(".", 1)[1], given, named))
            return gives(*given) if callable(gives) else gives

        self.patch.setattr(f"rehaul.{name}", stand)

    def names(self) -> list[str]:
        return [name for name, _, _ in self.calls]


@pytest.fixture
def stands(monkeypatch: pytest.MonkeyPatch) -> Stands:
    return Stands(monkeypatch)
