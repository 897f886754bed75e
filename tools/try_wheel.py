"""Install a wheel or sdist as a stranger would, and use it: environment, demo, plan, papers, a page served.

    python3 tools/try_wheel.py dist/rehaul-0.1.0-py3-none-any.whl "/srv/Дом 家 test"

Prints the seconds of each step and the sizes, and ends with 1 at the first that fails. No Node is on the PATH
of any step. Standard library only, so that it runs on a machine that has nothing yet.
"""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
import venv
from pathlib import Path

SLOWEST_START_S = 60.0


def main(package: Path, folder: Path) -> int:
    """Every step in order; the exit code."""
    folder.mkdir(parents=True, exist_ok=True)
    home = folder / "venv"
    tools = home / ("Scripts" if os.name == "nt" else "bin")
    environment = {**os.environ, "PATH": path_without_node(tools), "PYTHONUTF8": "1"}
    print(f"Python {sys.version.split()[0]}, {package.name}: {package.stat().st_size / 1e6:.2f} MB")
    begun = time.monotonic()
    venv.create(home, with_pip=True, clear=True)
    told("environment", begun)
    rehaul = tools / ("rehaul.exe" if os.name == "nt" else "rehaul")
    job = folder / "demo" / "demo.rehaul.json"
    steps: list[tuple[str, list[str | Path]]] = [
        ("install", [tools / "python", "-m", "pip", "install", "--quiet", package.resolve()]),
        ("demo, compiling", [rehaul, "demo", "--out", folder / "demo"]),
        ("plan", [rehaul, "plan", job, "--out", folder / "plan.json"]),
        ("papers", [rehaul, "papers", job, "--out", folder / "papers"]),
    ]
    for name, command in steps:
        begun = time.monotonic()
        done = subprocess.run(
            [str(part) for part in command], env=environment, cwd=folder, capture_output=True, check=False
        )
        if done.returncode:
            sys.stdout.buffer.write(done.stdout[-2000:] + done.stderr[-4000:])
            print(f"{name} failed with exit code {done.returncode}.")
            return 1
        told(name, begun)
    begun = time.monotonic()
    fault = served(rehaul, folder / "demo", environment)
    if fault:
        print(fault)
        return 1
    told("page served", begun)
    print(f"environment {size_of(home) / 1e6:.0f} MB, papers {size_of(folder / 'papers') / 1e6:.1f} MB")
    return 0


def path_without_node(tools: Path) -> str:
    """The PATH with `tools` first, less every folder that has a Node in it."""
    places = [place for place in os.environ.get("PATH", "").split(os.pathsep) if place]
    return os.pathsep.join([str(tools), *(p for p in places if not shutil.which("node", path=p))])


def served(rehaul: Path, jobs: Path, environment: dict[str, str]) -> str:
    """Start the server and ask for its first page and a script of it; what went wrong, or nothing."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    log = jobs.parent / "serve.txt"
    with log.open("wb") as out:
        server = subprocess.Popen(
            [str(rehaul), "serve", str(jobs), "--port", str(port)],
            env=environment,
            stdout=out,
            stderr=subprocess.STDOUT,
        )
        try:
            page = asked(f"http://127.0.0.1:{port}/", server)
        finally:
            server.terminate()
            server.wait(30)
    if "<title>" in page and "assets/" in page:
        return ""
    return f"GET / answered {page[:300]!r}; the server said: {log.read_text(errors='replace')[-2000:]}"


def asked(address: str, server: subprocess.Popen[bytes]) -> str:
    """What stands at `address`, as soon as the server answers; the last fault where it never does."""
    until = time.monotonic() + SLOWEST_START_S
    said = "nothing"
    while time.monotonic() < until and server.poll() is None:
        try:
            with urllib.request.urlopen(address, timeout=5) as answer:
                return str(answer.read().decode("utf-8"))
        except urllib.error.HTTPError as error:
            return f"{error.code} {error.reason}"
        except OSError as error:
            said = str(error)
            time.sleep(0.2)
    return said


def size_of(folder: Path) -> int:
    return sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())


def told(name: str, begun: float) -> None:
    print(f"{name}: {time.monotonic() - begun:.1f} s", flush=True)


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    sys.exit(main(Path(sys.argv[1]), Path(sys.argv[2])))
