"""Run a tool of the locked environment: `python3 tools/locked.py ruff check`, `... tools/write_pages.py`.

What ends in `.py` is a script of this repository, everything else a module. `.venv` is what `run.py tests`
made; the Python that runs this stands in where there is none. Standard library only.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def command(words: list[str]) -> list[str]:
    """What is run for these words."""
    python = ROOT / ".venv" / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    tool = [words[0]] if words[0].endswith(".py") else ["-m", words[0]]
    return [str(python) if python.exists() else sys.executable, *tool, *words[1:]]


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    source = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "MYPYPATH": str(ROOT / "src")}
    sys.exit(subprocess.run(command(sys.argv[1:]), cwd=ROOT, env=source, check=False).returncode)
