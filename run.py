#!/usr/bin/env python3
"""Sets rehaul up and runs it, with nothing but Python and this folder.

    python3 run.py demo     plan an invented house, put it on paper, open the result
    python3 run.py tests    pass every test; with --long those of many minutes, too
    python3 run.py serve    the jobs of ./jobs in a browser (and any other verb of rehaul)

Everything is kept in `.venv` beside this file. Only the standard library is used here.
"""

from __future__ import annotations

import sys

if sys.version_info < (3, 11):  # noqa: UP036  said in words to whoever has an older one
    sys.exit(f"rehaul needs Python 3.11 or newer; this is {sys.version.split()[0]}.")

import configparser
import hashlib
import html.parser
import importlib.util
import os
import shutil
import subprocess
import tempfile
import urllib.parse
import urllib.request
import venv
import webbrowser
from pathlib import Path

ROOT = Path(__file__).resolve().parent
HOME = ROOT / ".venv"
WINDOWS = os.name == "nt"
BROWSER = HOME / "browser"
BIN = HOME / ("Scripts" if WINDOWS else "bin")
PYTHON = BIN / ("python.exe" if WINDOWS else "python")
LOCKS = ROOT / "requirements.lock"
BUILD_LOCKS = ROOT / "requirements-build.lock"
DEV_LOCKS = ROOT / "requirements-dev.lock"
NODE_LOCKS = ROOT / "requirements-node.lock"
PIP_WHEEL = "pip-26.3-py3-none-any.whl"
PIP_SHA256 = "f3b60b20ffaadd4415ed7957212a38ac63fa4c5fa375bd0f4a797777940fad13"


def main(arguments: list[str]) -> int:
    """Do what was asked; the exit code."""
    if not arguments or arguments[0] in ("-h", "--help"):
        print(__doc__)
        return 0
    make_environment()
    if arguments[0] == "tests":
        return tests(arguments[1:])
    install("rehaul", [BUILD_LOCKS, LOCKS])
    compile_kernels()
    if arguments == ["demo"]:
        return demo()
    return call([BIN / "rehaul", *arguments])


def demo() -> int:
    """The main job on the invented house, and a look at what came of it."""
    out = ROOT / "out" / "demo"
    code = call([BIN / "rehaul", "demo", "--out", out])
    page = out / "index.html"
    if code == 0 and page.exists() and can_show():
        webbrowser.open(page.as_uri())
    return code


def tests(more: list[str]) -> int:
    """Lint, types, the pages' own checks, and every test."""
    install("rehaul and what its tests need", [BUILD_LOCKS, LOCKS, DEV_LOCKS])
    install_node()
    compile_kernels()
    environment = browser_environment()
    if "--long" in more:
        more = [word for word in more if word != "--long"]
        environment["REHAUL_LONG"] = "1"
    npm: list[str | Path] = [PYTHON, ROOT / "tools" / "pages.py"]
    steps: list[list[str | Path]] = [
        [BIN / "ruff", "check"],
        [BIN / "ruff", "format", "--check"],
        [BIN / "mypy"],
        *([[*npm, "run", "check"], [*npm, "test"]] if has_pages() else []),
        [PYTHON, "-m", "pytest", "-rs", "-n", "2", "--dist", "loadfile", *more],
    ]
    for step in steps:
        print("::", *(str(part).removeprefix(str(ROOT) + os.sep) for part in step), flush=True)
        code = call(step, environment)
        if code:
            return code
    print("Everything passed.")
    return 0


def call(command: list[str | Path], environment: dict[str, str] | None = None, folder: Path = ROOT) -> int:
    return subprocess.run(
        [str(part) for part in command], cwd=folder, env=environment, check=False
    ).returncode


def must(command: list[str | Path], why: str, environment: dict[str, str] | None = None) -> None:
    """Run a step of setting up, or stop with a sentence."""
    if call(command, environment):
        sys.exit(f"{why} failed; what it said stands above.")


# The environment ------------------------------------------------------------------------------------------


def make_environment() -> None:
    """`.venv` with a pip in it, also where Python came without the parts to make one."""
    if PYTHON.exists() and call_quietly([PYTHON, "-m", "pip", "--version"]):
        return
    print("Making an environment in .venv ...", flush=True)
    if importlib.util.find_spec("ensurepip") or venv_from_debian():
        must([sys.executable, "-m", "venv", "--clear", HOME], "Making the environment")
        return
    venv.create(HOME, with_pip=False, clear=True, symlinks=not WINDOWS)
    wheel = pip_from_debian() or pip_from_index()
    must([PYTHON, wheel / "pip", "install", "--quiet", "--no-index", wheel], "Installing pip")


def venv_from_debian() -> bool:
    """Debian packs the venv module apart: fetch it where we may. True if it is there now."""
    if WINDOWS or os.geteuid() != 0 or not shutil.which("apt-get"):
        return False
    quiet = ["apt-get", "-qq", "-o", "Dpkg::Use-Pty=0"]
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for step in ([*quiet, "update"], [*quiet, "install", "-y", "--no-install-recommends", "python3-venv"]):
        if subprocess.run(step, env=environment, stdout=subprocess.DEVNULL, check=False).returncode:
            return False
    return True


def pip_from_debian() -> Path | None:
    """Pip's wheel out of Debian's own package, whose signature apt checks: fetched, which needs no rights."""
    if not shutil.which("apt-get"):
        return None
    with tempfile.TemporaryDirectory() as folder:
        for part in ("lists/partial", "cache/archives/partial"):
            Path(folder, part).mkdir(parents=True)
        own = (f"Dir::State::Lists={folder}/lists", f"Dir::Cache={folder}/cache", "Debug::NoLocking=1")
        apt = ["apt-get", "-qq", *(word for setting in own for word in ("-o", setting))]
        for step in ([*apt, "update"], [*apt, "download", "python3-pip-whl"]):
            subprocess.run(
                step, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False
            )
        for package in Path(folder).glob("python3-pip-whl_*.deb"):
            call_quietly(["dpkg-deb", "--extract", package, folder])
        for wheel in Path(folder).glob("usr/share/python-wheels/pip-*.whl"):
            return Path(shutil.copy(wheel, HOME))
    return None


def call_quietly(command: list[str | Path]) -> bool:
    texts = [str(part) for part in command]
    return subprocess.run(texts, capture_output=True, check=False).returncode == 0


def pip_from_index() -> Path:
    """Pip's own wheel from the package index that is set here, checked by its digest."""
    if not index_url():
        sys.exit(
            "This Python came without the parts to make an environment, and they could not be fetched. "
            "Install them (Debian: apt install python3-venv), or set PIP_INDEX_URL to a package index, "
            "and run this again."
        )
    index = index_url().rstrip("/") + "/pip/"
    try:
        with urllib.request.urlopen(index, timeout=60) as answer:
            links = Links(answer.read().decode("utf-8", "replace"))
        address = urllib.parse.urljoin(index, links.to(PIP_WHEEL))
        with urllib.request.urlopen(address, timeout=120) as answer:
            data = answer.read(20_000_000)
    except (OSError, LookupError) as error:
        sys.exit(
            f"Pip could not be fetched from {index}: {error}. "
            "Check the network, or install Python's venv module (Debian: apt install python3-venv)."
        )
    if hashlib.sha256(data).hexdigest() != PIP_SHA256:
        sys.exit(f"What {index} gave for {PIP_WHEEL} is not what was expected; nothing was installed.")
    wheel = HOME / PIP_WHEEL
    wheel.write_bytes(data)
    return wheel


class Links(html.parser.HTMLParser):
    """The links of an index page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.found += [value for name, value in attributes if tag == "a" and name == "href" and value]

    def to(self, name: str) -> str:
        for link in self.found:
            if urllib.parse.urlsplit(link).path.endswith("/" + name):
                return link
        raise LookupError(f"{name} is not listed")


def index_url() -> str:
    """The package index that pip is set to use here; empty where nothing says so."""
    if os.environ.get("PIP_INDEX_URL"):
        return os.environ["PIP_INDEX_URL"]
    places = [os.environ.get("PIP_CONFIG_FILE"), Path.home() / ".config/pip/pip.conf", "/etc/pip.conf"]
    config = configparser.ConfigParser(interpolation=None)
    for place in places:
        if place and config.read(place) and config.has_option("global", "index-url"):
            return config.get("global", "index-url")
    return ""


def install(what: str, locks: list[Path]) -> None:
    """Bring the environment to the locked packages, and rehaul itself; nothing if that is so already."""
    stamp = HOME / "rehaul-installed"
    wanted = digest_of([*locks, ROOT / "pyproject.toml", *sorted((ROOT / "tools").glob("*.py")), *pages()])
    done = stamp.read_text().split() if stamp.exists() else []
    if wanted in done:
        return
    print(f"Installing {what}; the first time takes a minute or two ...", flush=True)
    pip: list[str | Path] = [PYTHON, "-m", "pip", "--disable-pip-version-check", "install", "--quiet"]
    for lock in locks:
        must([*pip, "--require-hashes", "--only-binary", ":all:", "-r", lock], f"Installing {lock.name}")
    install_node()
    must([*pip, "--no-deps", "--no-build-isolation", "-e", ROOT], "Installing rehaul")
    stamp.write_text("\n".join([*done[-3:], wanted]))


def compile_kernels() -> None:
    """Compile what has to be fast; nothing where that was done for the sources as they are."""
    must([PYTHON, "-m", "rehaul.kernels"], "Compiling")


def digest_of(files: list[Path]) -> str:
    total = hashlib.sha256()
    for file in files:
        total.update(str(file).encode() + hashlib.sha256(file.read_bytes()).digest())
    return total.hexdigest()


def pages() -> list[Path]:
    """Sources of the pages: when they change, they are built again."""
    found = (ROOT / "frontend").rglob("*")
    return sorted(path for path in found if path.is_file() and "node_modules" not in path.parts)


# Node and a browser ---------------------------------------------------------------------------------------


def has_pages() -> bool:
    return (ROOT / "frontend" / "index.html").exists()


def install_node() -> None:
    """Node as a wheel, where the pages need one and none on PATH is new enough."""
    if has_pages() and not call_quietly([PYTHON, ROOT / "tools" / "pages.py", "node"]):
        pip: list[str | Path] = [PYTHON, "-m", "pip", "--disable-pip-version-check", "install", "--quiet"]
        must([*pip, "--require-hashes", "--only-binary", ":all:", "-r", NODE_LOCKS], "Installing Node")


def browser_environment() -> dict[str, str]:
    """What the browser tests need: a Chromium on PATH, and a Node that Playwright can start."""
    environment = dict(os.environ)
    if not has_pages():
        return environment
    must([PYTHON, ROOT / "tools" / "browser.py", BROWSER], "Installing a browser")
    environment["PATH"] = os.pathsep.join([environment.get("PATH", ""), str(BROWSER)])
    if not call_quietly([PYTHON, "-m", "playwright", "--version"]):  # its own Node lacks a library here
        asked = [str(PYTHON), str(ROOT / "tools" / "pages.py"), "node"]
        node = subprocess.run(asked, capture_output=True, text=True, check=True).stdout.strip()
        environment["PLAYWRIGHT_NODEJS_PATH"] = node
    return environment


def can_show() -> bool:
    """Whether there is a screen to show a page on."""
    screens = ("DISPLAY", "WAYLAND_DISPLAY")
    return WINDOWS or sys.platform == "darwin" or any(os.environ.get(name) for name in screens)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
