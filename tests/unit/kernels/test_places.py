"""Where machine code is kept, and what goes when the sources have changed."""

from __future__ import annotations

import importlib.metadata
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from rehaul.kernels import places, sources

PART = "radio"


@pytest.fixture(autouse=True)
def package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A package of one module with a loop, a user with a home, and nothing chosen."""
    folder = tmp_path / "site-packages" / "rehaul"
    write(folder / PART / "cells.py", "from rehaul.kernels.loops import compiled\n")
    for module in (places, sources):
        monkeypatch.setattr(module, "PACKAGE", folder)
    for name in ("NUMBA_CACHE_DIR", "XDG_CACHE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setattr(sys, "platform", "linux")
    return folder


def write(path: Path, text: str = "") -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)


def place() -> Path | None:
    """As a new process would find it."""
    places.place_for.cache_clear()
    try:
        return places.place_for(PART)
    finally:
        places.place_for.cache_clear()


def sealed(folder: Path) -> None:
    """Nobody can make a folder under it, the administrator included."""
    write(folder)


def test_with_the_package_where_that_can_be_written(package: Path) -> None:
    found = place()
    assert found is not None and found.is_dir()
    assert found.parent == package / "__pycache__" / "kernels"


def test_in_the_users_cache_where_the_package_cannot_be_written(package: Path, tmp_path: Path) -> None:
    sealed(package / "__pycache__")
    found = place()
    assert found is not None and found.is_dir()
    assert found.parent.parent == tmp_path / "home" / ".cache"
    assert found.parent.name.startswith("rehaul-")


def test_two_installed_copies_do_not_share_a_folder(
    package: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sealed(package / "__pycache__")
    first = place()
    other = tmp_path / "other" / "rehaul"
    write(other / PART / "cells.py", "from rehaul.kernels.loops import compiled  # other\n")
    sealed(other / "__pycache__")
    for module in (places, sources):
        monkeypatch.setattr(module, "PACKAGE", other)
    second = place()
    assert first is not None and second is not None
    assert first.is_dir() and second.is_dir() and first.parent != second.parent


def test_a_chosen_folder_comes_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path / "chosen"))
    found = place()
    assert found is not None and found.is_relative_to(tmp_path / "chosen")


def test_nowhere_is_an_answer(package: Path, tmp_path: Path) -> None:
    sealed(package / "__pycache__")
    sealed(tmp_path / "home")
    assert place() is None


@pytest.mark.parametrize(
    ("system", "variable", "expected"),
    [
        ("linux", "XDG_CACHE_HOME", ".cache"),
        ("win32", "LOCALAPPDATA", "AppData/Local"),
        ("darwin", "", "Library/Caches"),
    ],
)
def test_each_system_has_its_own_custom(
    system: str, variable: str, expected: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "platform", system)
    assert places.user_cache() == tmp_path / "home" / expected
    if variable:
        monkeypatch.setenv(variable, str(tmp_path / "elsewhere"))
        assert places.user_cache() == tmp_path / "elsewhere"


def test_a_relative_cache_folder_is_passed_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As the base directory specification says."""
    monkeypatch.setenv("XDG_CACHE_HOME", "cache")
    assert places.user_cache() == tmp_path / "home" / ".cache"


def test_other_sources_have_another_folder_and_the_old_one_goes(package: Path) -> None:
    old = place()
    assert old is not None
    write(old / "machine.nbc")
    same = place()
    assert same == old and (old / "machine.nbc").exists()
    unrelated = old.parent / old.name.replace(PART, "exact")
    unrelated.mkdir()
    write(package / PART / "cells.py", "from rehaul.kernels.loops import compiled\n\nSTEP = 2\n")
    new = place()
    assert new is not None and new != old
    assert new.is_dir() and unrelated.is_dir() and not old.exists()


def test_code_of_a_package_that_is_gone_goes(package: Path, tmp_path: Path) -> None:
    sealed(package / "__pycache__")
    caches = tmp_path / "home" / ".cache"
    write(caches / "rehaul-000000000000" / places.OWNER, str(tmp_path / "gone"))
    write(caches / "rehaul-111111111111" / places.OWNER, str(package))
    assert place() is not None
    assert not (caches / "rehaul-000000000000").exists()
    assert (caches / "rehaul-111111111111").exists()


def test_the_key_knows_what_a_loop_is_made_of(package: Path) -> None:
    """The module of a loop, what it takes names from, and so on; nothing else of the package."""
    folder = package / PART
    text = "from rehaul.kernels.loops import compiled\nfrom rehaul.radio.finish import (\n    spread,\n)\n"
    write(folder / "cells.py", text)
    write(folder / "finish.py", "from rehaul.radio.antenna import STEPS\n")
    write(folder / "antenna.py", "STEPS = 128\n")
    write(folder / "report.py", "from rehaul.radio.cells import cells\n")
    names = [file.name for file in sources.files_of(PART)]
    assert names == ["antenna.py", "cells.py", "finish.py"]
    before = sources.key_of(PART)
    write(folder / "report.py", "from rehaul.radio.cells import cells  # changed\n")
    assert sources.key_of(PART) == before
    write(folder / "antenna.py", "STEPS = 64\n")
    assert sources.key_of(PART) != before


def test_the_key_knows_what_is_warmed_up(package: Path) -> None:
    """It says for which arguments there is machine code."""
    before = sources.key_of(PART)
    write(package / PART / "warm.py", "def warm_up():\n    pass\n")
    assert sources.key_of(PART) != before


def test_the_key_knows_numba(monkeypatch: pytest.MonkeyPatch) -> None:
    before = sources.key_of(PART)
    assert importlib.metadata.version("numba").encode() in sources.numba_version()
    monkeypatch.setattr(sources, "numba_version", lambda: b"99.0")
    assert sources.key_of(PART) != before


def test_a_numba_without_a_file_of_its_version_is_asked(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    elsewhere = SimpleNamespace(origin=str(tmp_path / "__init__.py"))
    monkeypatch.setattr(sources.importlib.util, "find_spec", lambda name: elsewhere)
    assert sources.numba_version() == importlib.metadata.version("numba").encode()
    monkeypatch.setattr(sources.importlib.util, "find_spec", lambda name: None)
    assert sources.numba_version() == b""
