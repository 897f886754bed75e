"""What the pages know of a job is written from its schema, and says the same as the edits of the server."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from rehaul.house import SCHEMA_VERSION
from rehaul.jobs.kinds import KINDS, SINGLES

ROOT = Path(__file__).parents[2]
JOB = ROOT / "frontend" / "src" / "job"


def words_of(text: str, name: str) -> Any:
    """A value that a file of TypeScript exports: the same as JSON, but for bare keys and last commas."""
    found = re.search(rf"export const {name} = (.*?)(?: as const)?;\n", text, re.DOTALL)
    assert found, name
    quoted = re.sub(r"^(\s*)(\w+):", r'\1"\2":', found[1], flags=re.MULTILINE)
    quoted = re.sub(r"([{,] )(\w+):", r'\1"\2":', quoted)
    return json.loads(re.sub(r",(\s*[}\]])", r"\1", quoted))


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """The schemas and what is written from them, elsewhere."""
    for name in ("docs/job.schema.json", "docs/plan.schema.json", "tools/write_types.py", "tools/pages.py"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        shutil.copy(ROOT / name, tmp_path / name)
    for folder in ("frontend/src/job", "frontend/src/net", "frontend/src/words", "src/rehaul/words/tables"):
        shutil.copytree(ROOT / folder, tmp_path / folder)
    return tmp_path


def ran(copy: Path, *words: str) -> subprocess.CompletedProcess[str]:
    bare = {"PATH": "/nowhere"}  # no Node on it
    command = [sys.executable, *words]
    return subprocess.run(command, cwd=copy, env=bare, capture_output=True, text=True, check=False)


def test_the_written_types_are_in_step() -> None:
    done = ran(ROOT, "tools/write_types.py", "--check")
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize(
    ("there", "here"),
    [
        ('"bell wire"', '"door wire"'),  # a word of a list
        ('"default": 0.3,', '"default": 0.4,'),  # a height that nobody gave
        ('"old_label": {', '"taped_label": {'),  # a field
    ],
)
def test_a_changed_schema_is_noticed_and_written(copy: Path, there: str, here: str) -> None:
    schema = copy / "docs" / "job.schema.json"
    text = schema.read_text()
    assert there in text
    schema.write_text(text.replace(there, here))
    said = ran(copy, "tools/write_types.py", "--check")
    assert said.returncode == 1 and "run python tools/write_types.py" in said.stderr
    for words in (["run", "check"], ["run", "build"]):  # before any Node is looked for
        stopped = ran(copy, "tools/pages.py", *words)
        assert stopped.returncode == 1 and "not as docs/*.schema.json have it" in stopped.stderr
    assert ran(copy, "tools/write_types.py").returncode == 0
    assert ran(copy, "tools/write_types.py", "--check").returncode == 0


def test_the_pages_and_the_edits_know_the_same_kinds() -> None:
    text = (JOB / "kinds.ts").read_text()
    assert words_of(text, "LISTS") == {
        name: {"field": kind.field, "inHouse": kind.in_house} for name, kind in KINDS.items()
    }
    assert words_of(text, "SINGLES") == list(SINGLES)
    assert words_of(text, "SCHEMA_VERSION") == SCHEMA_VERSION


def test_what_stands_where_nothing_is_said_is_what_the_server_fills_in() -> None:
    """A thing shows the same before its edit is acknowledged and after."""
    given = words_of((JOB / "defaults.ts").read_text(), "DEFAULTS")
    assert set(given) == set(KINDS)
    for name, kind in KINDS.items():
        fields = kind.model.model_fields
        filled = {field: info for field, info in fields.items() if not info.is_required()}
        made = kind.model.model_construct(**{field: info.get_default() for field, info in filled.items()})
        assert given[name] == json.loads(json.dumps(made.model_dump(mode="json", include=set(filled))))
