"""Setting up where Python came without the parts to make an environment."""

from __future__ import annotations

import importlib.util
import os
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]
WHEEL = "pip-23.0.1-py3-none-any.whl"
pytestmark = pytest.mark.skipif(os.name != "posix", reason="programs here are shell scripts")


@pytest.fixture
def script(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """`run.py` over an empty environment, on a machine with no program and no index set."""
    spec = importlib.util.spec_from_file_location("set_up", ROOT / "run.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    spec.loader.exec_module(module)
    home = tmp_path / "environment"
    home.mkdir()
    monkeypatch.setattr(module, "HOME", home)
    monkeypatch.setattr(module, "index_url", lambda: "")
    (tmp_path / "bin").mkdir()
    monkeypatch.setenv("PATH", f"{tmp_path / 'bin'}")
    return module


def program(folder: Path, name: str, does: str) -> None:
    file = folder / "bin" / name
    file.write_text(f"#!/bin/sh\nPATH=/usr/bin:/bin\n{does}\n")
    file.chmod(0o700)


def test_pip_comes_from_debians_own_package(script: ModuleType, tmp_path: Path) -> None:
    program(tmp_path, "apt-get", 'case "$*" in *download*) : > python3-pip-whl_23_all.deb;; esac')
    unpack = f'mkdir -p "$3/usr/share/python-wheels" && echo wheel > "$3/usr/share/python-wheels/{WHEEL}"'
    program(tmp_path, "dpkg-deb", unpack)
    found = script.pip_from_debian()
    assert found == script.HOME / WHEEL
    assert found.read_text() == "wheel\n"


def test_apt_writes_nothing_outside_its_own_folder(script: ModuleType, tmp_path: Path) -> None:
    """Neither lists nor locks of the system, which a plain user may not touch."""
    program(tmp_path, "apt-get", f'echo "$@" >> {tmp_path / "asked"}')
    assert script.pip_from_debian() is None
    lines = (tmp_path / "asked").read_text().splitlines()
    assert [line.split()[-1] for line in lines] == ["update", "python3-pip-whl"]
    for line in lines:
        assert "Dir::State::Lists=/" in line and "Dir::Cache=/" in line and "NoLocking" in line
        assert "/var/" not in line


def test_without_any_source_it_says_what_to_install(script: ModuleType) -> None:
    assert script.pip_from_debian() is None, "no apt here"
    with pytest.raises(SystemExit, match=r"apt install python3-venv.*PIP_INDEX_URL"):
        script.pip_from_index()


def test_long_asks_for_the_long_tests(script: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is not handed to pytest, which does not know it."""
    ran: list[tuple[list[str], dict[str, str] | None]] = []

    def call(command: list[str | Path], environment: dict[str, str] | None = None) -> int:
        ran.append(([str(part) for part in command], environment))
        return 0

    for name in ("install", "install_node", "compile_kernels"):
        monkeypatch.setattr(script, name, lambda *_: None)
    monkeypatch.setattr(script, "browser_environment", dict)
    monkeypatch.setattr(script, "call", call)
    assert script.tests(["--long", "-x"]) == 0
    command, environment = ran[-1]
    assert "--long" not in command and command[-1] == "-x"
    assert environment == {"REHAUL_LONG": "1"}
    assert script.tests([]) == 0 and ran[-1][1] == {}
