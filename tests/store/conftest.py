"""Databases for the store tests: SQLite in a folder, and a real PostgreSQL started here."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from replica import small_job

from rehaul.jobs import Ledger, Store, connect


def postgres_tools() -> Path | None:
    """The newest PostgreSQL server on this machine."""
    found = shutil.which("postgres")
    if found:
        return Path(found).parent
    folders = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda path: float(path.parent.name))
    return next((folder for folder in reversed(folders) if (folder / "postgres").exists()), None)


def _as_postgres(command: list[str]) -> list[str]:
    """PostgreSQL refuses to run as root."""
    return ["runuser", "-u", "postgres", "--", *command] if os.getuid() == 0 else command


@pytest.fixture(scope="session")
def postgres_url(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    tools = postgres_tools()
    if tools is None:
        pytest.skip("no PostgreSQL server is installed here; the store is tested on SQLite only")
    folder = Path(subprocess.check_output(["mktemp", "-d", "/tmp/rehaul-pg.XXXXXX"], text=True).strip())
    if os.getuid() == 0:
        shutil.chown(folder, "postgres")
    data = str(folder / "data")
    quiet = {"cwd": folder, "check": True, "stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    init = [str(tools / "initdb"), "-D", data, "-A", "trust", "-U", "rehaul", "-E", "UTF8", "--no-locale"]
    subprocess.run(_as_postgres(init), **quiet)
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    options = f"-c listen_addresses=127.0.0.1 -p {port} -k {folder}"
    control = [str(tools / "pg_ctl"), "-D", data, "-w", "-o", options, "-l", str(folder / "log")]
    subprocess.run(_as_postgres([*control, "start"]), **quiet)
    try:
        yield f"postgresql://rehaul@127.0.0.1:{port}/postgres"
    finally:
        subprocess.run(_as_postgres([str(tools / "pg_ctl"), "-D", data, "-m", "immediate", "stop"]), **quiet)
        shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture(params=["sqlite", "postgres"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> str | Path:
    """Where a store may be: a file, or a database of the running PostgreSQL made empty."""
    if request.param == "sqlite":
        return tmp_path / "log"
    url = str(request.getfixturevalue("postgres_url"))
    database = connect(url)
    database.run("DROP SCHEMA public CASCADE")
    database.run("CREATE SCHEMA public")
    database.close()
    return url


@pytest.fixture
def ledger(place: str | Path) -> Iterator[Ledger]:
    store = Store(connect(place))
    store.create(small_job())
    yield Ledger(store, "job", name_of=str.title)
    store.close()


@pytest.fixture
def tiny_disk(tmp_path: Path) -> Iterator[Path]:
    """A real disk of 1 MB."""
    folder = tmp_path / "tiny"
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(folder)]
    if os.name != "posix" or subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("a small disk cannot be mounted here (needs root)")
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=True)
