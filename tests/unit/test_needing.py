"""A test that needs a program asks for it by name; where it must be there, its absence is a failure."""

from __future__ import annotations

from pathlib import Path

import pytest

from needing import COMES_WITH, absent, need


@pytest.fixture
def on_path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The only folder that programs are looked for in."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.delenv("REHAUL_CI_TOOLS", raising=False)
    return tmp_path


@pytest.mark.parametrize("tool", COMES_WITH)
def test_an_absent_program_is_named_with_its_package(tool: str, on_path: Path) -> None:
    with pytest.raises(pytest.skip.Exception) as skipped:
        need(tool)
    assert str(skipped.value) == f"needs `{tool}` ({COMES_WITH[tool]})"


def test_one_of_two_is_not_enough(on_path: Path) -> None:
    program = on_path / "ip"
    program.write_text("#!/bin/sh\n")
    program.chmod(0o700)
    need("ip")
    with pytest.raises(pytest.skip.Exception, match="`tc`"):
        need("ip", "tc")


def test_where_everything_was_installed_absence_fails(on_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("REHAUL_CI_TOOLS", "1")
    with pytest.raises(pytest.fail.Exception, match="needs `ip`"):
        need("ip")
    with pytest.raises(pytest.fail.Exception, match="no server"):
        absent("no server")
