"""What a verb does not use it does not load: each big library named here costs every start of a verb."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from rehaul.kernels import prepare

JOB = Path(__file__).parents[2] / "examples" / "1974-small-flat.rehaul.json"
LOADED = """
import json, sys
from rehaul.cli.main import main
try:
    main(sys.argv[1:])
except SystemExit as end:
    assert not end.code, end.code
print(json.dumps(sorted(sys.modules)), file=sys.stderr)
"""
# Of others: what compiles, what solves, frames of data, drawing, readers, the server.
SELDOM = {
    "numba", "pandas", "scipy", "ezdxf", "ifcopenshell", "typst", "PIL", "contourpy", "xlsxwriter",
    "pypdfium2", "segno", "cryptography", "starlette", "uvicorn", "websockets", "pg8000", "rich", "asyncio",
}  # fmt: skip
# Of ours: the log and who shares it, papers, pages, what only other verbs ask of the proof.
OURS = {
    "rehaul.jobs.ledger", "rehaul.jobs.people", "rehaul.jobs.store", "rehaul.sheets", "rehaul.web",
    "rehaul.kernels.making",
}  # fmt: skip
ALL = SELDOM | OURS
PLANNING = {"rehaul.planning", "rehaul.design", "rehaul.takeoff", "rehaul.auditor"}
DIAGNOSIS = {"rehaul.proof.diagnosis", "rehaul.proof.reading_table", "rehaul.proof.way"}
NOT_LOADED = {
    "--help": ALL | PLANNING | {"numpy", "pydantic", "shapely", "llvmlite", "ortools", "importlib.metadata"},
    "check": ALL | DIAGNOSIS | {"llvmlite", "ortools"},
    "cables": ALL | DIAGNOSIS | {"llvmlite", "ortools"},
    "map": ALL | DIAGNOSIS | {"ortools"},
    "next": ALL | {"ortools", "rehaul.proof.reading_table"},
    "compare": ALL | DIAGNOSIS | {"ortools"},
    "why": ALL | {"ortools", "rehaul.proof.reading_table"},
    "plan": ALL | DIAGNOSIS,
}
WORDS = {"--help": ["--help"], "why": ["why", str(JOB), "Bedroom"]}


@pytest.mark.slow
@pytest.mark.parametrize("verb", NOT_LOADED)
def test_a_verb_loads_what_it_uses(verb: str) -> None:
    prepare()
    words = WORDS.get(verb, [verb, str(JOB)])
    done = subprocess.run([sys.executable, "-c", LOADED, *words], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    loaded = set(json.loads(done.stderr.splitlines()[-1]))
    assert not NOT_LOADED[verb] & loaded
    assert "rehaul.cli.main" in loaded


def test_loading_the_library_loads_none_of_them() -> None:
    code = "import json, sys, rehaul; print(json.dumps(sorted(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert not NOT_LOADED["--help"] & set(json.loads(done.stdout))
