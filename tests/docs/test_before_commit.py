"""What is run before a commit is there, is locked, and looks at files that there are."""

from __future__ import annotations

import importlib.util
import os
import re
import runpy
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
CONFIG = ROOT / ".pre-commit-config.yaml"
LOCKED = runpy.run_path(str(ROOT / "tools" / "locked.py"))
SCRIPTS = {"ruff": "ruff", "mypy": "mypy"}  # modules that hooks call, by the package that is locked

pytestmark = pytest.mark.skipif(
    importlib.util.find_spec("pre_commit") is None,
    reason="pre-commit is not installed (requirements-dev.lock): its configuration is not read",
)


def hooks() -> list[dict[str, Any]]:
    """The hooks as pre-commit itself reads them, which refuses what it does not know."""
    from pre_commit.clientlib import load_config

    repos = load_config(str(CONFIG))["repos"]
    assert [repo["repo"] for repo in repos] == ["local"]
    return list(repos[0]["hooks"])


def tracked() -> list[str]:
    """Files of the repository, or of the folder where it is not one."""
    asked = ["git", "ls-files"]
    done = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True, check=False)
    if done.returncode:
        pytest.skip("this is no repository: which files hooks look at cannot be asked")
    return done.stdout.splitlines()


def test_every_hook_names_what_is_there() -> None:
    locked = (ROOT / "requirements-dev.lock").read_text(encoding="utf-8")
    called = [hook["entry"].split() for hook in hooks() if hook["language"] != "fail"]
    assert len(called) == 6
    for start, tool, name, *_ in called:
        assert (start, tool) == ("python3", "tools/locked.py")
        if name.endswith(".py"):
            assert (ROOT / name).is_file(), name
        else:
            assert re.search(rf"^{re.escape(SCRIPTS[name])}==", locked, re.M), name
            assert importlib.util.find_spec(name), name


def test_every_hook_looks_at_something_and_built_pages_are_none_of_it() -> None:
    files = tracked()
    for hook in hooks():
        found = [name for name in files if re.search(hook["files"], name)]
        assert bool(found) == (hook["language"] != "fail"), (hook["id"], found[:3])
    (never,) = [hook["files"] for hook in hooks() if hook["language"] == "fail"]
    for name in (
        "src/rehaul/web/static/app/index.html",
        "frontend/dist/index.html",
        "out/site/docs/index.html",
    ):
        assert re.search(never, name), name


def test_a_tool_runs_from_any_folder(tmp_path: Path) -> None:
    """Its exit code comes through: a file that is not in form is told of."""
    bad = tmp_path / "bad.py"
    bad.write_text("x = {  'a':1 }\n", encoding="utf-8")
    words = [sys.executable, str(ROOT / "tools" / "locked.py"), "ruff", "format", "--check", str(bad)]
    assert subprocess.run(words, cwd=tmp_path, capture_output=True, check=False).returncode == 1
    bad.write_text('x = {"a": 1}\n', encoding="utf-8")
    assert subprocess.run(words, cwd=tmp_path, capture_output=True, check=False).returncode == 0
    python = LOCKED["command"](["ruff", "check"])[0]
    assert Path(python).exists() or os.name == "nt"
