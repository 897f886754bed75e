"""Build docs/ as a site that needs no network: `python tools/build_site.py [FOLDER]` (out/site).

Sphinx does it, as docs/conf.py says; any warning fails. The folder is never committed.
"""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def missing() -> list[str]:
    """What of the tools is not installed here."""
    needed = {"sphinx": "sphinx", "myst_parser": "myst-parser"}
    return [name for module, name in needed.items() if importlib.util.find_spec(module) is None]


def build(out: Path) -> int:
    """Build into `out`; the exit code of Sphinx."""
    words = ["-W", "--keep-going", "--quiet", "-b", "html", "-c", "docs", "-d", str(out / ".doctrees")]
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1"}
    return subprocess.run(
        [sys.executable, "-m", "sphinx", *words, ".", str(out)], cwd=ROOT, env=environment, check=False
    ).returncode


def main(arguments: list[str]) -> int:
    lacking = missing()
    if lacking:
        print(f"The site needs {' and '.join(lacking)}: python -m pip install -r requirements-dev.lock")
        return 2
    out = Path(arguments[0] if arguments else ROOT / "out" / "site").resolve()
    code = build(out)
    if code == 0:
        print(f"The site begins at {out / 'docs' / 'index.html'}.")
    return code


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
