"""Run the narrow tests with another Python, or with the oldest packages that pyproject.toml allows.

    python3.13 tools/try_versions.py out/3.13            the newest of every package
    python3.11 tools/try_versions.py out/lowest --lowest  the oldest of those rehaul needs itself

The Python that runs this is the one that is tried. Everything is kept in the folder named: environment,
compiled code, and what each step said. Only wheels are installed. Prints one line a step, and ends with 1 if
any failed.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
TESTS = ("tests/unit", "tests/laws", "tests/docs")
SLOWEST_S = 2400.0
# Browsers and the fuzzer are not part of the narrow tests.
TOOLS = (
    "highspy",
    "httpx",
    "hypothesis",
    "networkx",
    "openpyxl",
    "pypdf",
    "pytest",
    "scikit-rf",
    "zxing-cpp",
)


def main(folder: Path, lowest: bool) -> int:
    """Environment, demo and tests; the exit code."""
    folder.mkdir(parents=True, exist_ok=True)
    home = folder / "venv"
    python = home / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    if not python.exists():
        venv.create(home, with_pip=True)
    pip: list[str | Path] = [python, "-m", "pip", "install", "--quiet"]
    uv: list[str | Path] = [python, "-m", "uv", "pip", "install", "--quiet", "--python", python]
    which = "lowest-direct" if lowest else "highest"
    chosen = folder / "chosen.txt"
    compiled: list[str | Path] = [python, "-m", "uv", "pip", "compile", "--quiet", "--python", python]
    compiled += ["--no-annotate", "--resolution", which, ROOT / "pyproject.toml", "-o", chosen]
    wheels = ["--only-binary", ":all:"]
    steps: list[tuple[str, list[str | Path]]] = [
        ("uv", [*pip, "uv"]),
        ("choice", [*compiled, *wheels]),
        ("packages", [*uv, *wheels, "-r", chosen, *TOOLS]),
        ("demo", [python, "-m", "rehaul", "demo", "--out", folder / "demo", "--replace"]),
    ]
    for place in TESTS:
        words = ["-q", "-p", "no:cacheprovider", "-o", "addopts=", "-W", "error::DeprecationWarning:rehaul.*"]
        steps.append((place, [python, "-m", "pytest", *words, place]))
    environment = {**os.environ, "PYTHONPATH": f"{ROOT / 'src'}{os.pathsep}{ROOT / 'tests'}"}
    environment |= {"NUMBA_CACHE_DIR": str(folder.resolve() / "compiled"), "PYTHONDONTWRITEBYTECODE": "1"}
    print(f"Python {sys.version.split()[0]}, packages: {which}", flush=True)
    worst = 0
    for name, command in steps:
        code = step(name, command, folder, environment)
        worst = max(worst, code)
        if code and name in ("uv", "choice", "packages"):
            break
    return worst


def step(name: str, command: list[str | Path], folder: Path, environment: dict[str, str]) -> int:
    """Run one step, keep what it says, print its last line; 0 or 1."""
    begun = time.monotonic()
    log = folder / f"{re.sub(r'[^a-z0-9]+', '-', name)}.txt"
    with log.open("wb") as out:
        try:
            done = subprocess.run(
                [str(part) for part in command],
                cwd=ROOT,
                env=environment,
                stdout=out,
                stderr=subprocess.STDOUT,
                timeout=SLOWEST_S,
                check=False,
            )
            code = int(done.returncode != 0)
        except subprocess.TimeoutExpired:
            code = 1
    said = log.read_text(encoding="utf-8", errors="replace").strip().splitlines()
    last = said[-1] if said and (code or "pytest" in str(command)) else "done"
    print(f"{name}: {last} ({time.monotonic() - begun:.0f} s)", flush=True)
    return code


if __name__ == "__main__":
    given = [word for word in sys.argv[1:] if word != "--lowest"]
    if len(given) != 1:
        sys.exit(__doc__)
    sys.exit(main(Path(given[0]).resolve(), "--lowest" in sys.argv))
