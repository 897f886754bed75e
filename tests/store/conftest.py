"""Databases for the store tests: SQLite in a folder, and a real PostgreSQL started here."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from damage import NAME
from household import worked_on
from replica import small_job

from needing import absent, need
from rehaul.jobs import Ledger, Store, connect


def postgres_tools() -> Path | None:
    """The newest PostgreSQL server on this machine."""
    found = shutil.which("postgres")
    if found:
        return Path(found).parent
    folders = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda path: float(path.parent.name))
    return next((folder for folder in reversed(folders) if (folder / "postgres").exists()), None)


class PostgresServer:
    """A real server of our own on loopback, that can be stopped hard and started again."""

    def __init__(self, tools: Path, folder: Path) -> None:
        self._tools = tools
        self._folder = folder
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self._port = probe.getsockname()[1]
        if os.getuid() == 0:
            shutil.chown(folder, "postgres")
        self._run("initdb", "-A", "trust", "-U", "rehaul", "-E", "UTF8", "--no-locale")

    @property
    def url(self) -> str:
        return f"postgresql://rehaul@127.0.0.1:{self._port}/postgres"

    def start(self) -> None:
        options = f"-c listen_addresses=127.0.0.1 -p {self._port} -k {self._folder}"
        self._run("pg_ctl", "-w", "-o", options, "-l", str(self._folder / "log"), "start")

    def stop_hard(self) -> None:
        """As a crash would: no shutdown checkpoint, connections cut."""
        self._run("pg_ctl", "-m", "immediate", "stop")

    def _run(self, tool: str, *words: str) -> None:
        command = [str(self._tools / tool), "-D", str(self._folder / "data"), *words]
        if os.getuid() == 0:  # PostgreSQL refuses to run as root
            command = ["runuser", "-u", "postgres", "--", *command]
        quiet = subprocess.DEVNULL
        subprocess.run(command, cwd=self._folder, check=True, stdout=quiet, stderr=quiet)


@pytest.fixture(scope="session")
def postgres() -> Iterator[PostgresServer]:
    tools = postgres_tools()
    if tools is None:
        absent("needs a PostgreSQL server (postgresql); without one the store is tested on SQLite only")
    if os.getuid() == 0:
        need("runuser")
    folder = Path(tempfile.mkdtemp(prefix="rehaul-pg."))  # a socket's path must be short
    server = PostgresServer(tools, folder)
    server.start()
    try:
        yield server
    finally:
        server.stop_hard()
        shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture
def postgres_url(postgres: PostgresServer) -> str:
    """An empty database of the running server."""
    database = connect(postgres.url)
    database.run("DROP SCHEMA public CASCADE")
    database.run("CREATE SCHEMA public")
    database.close()
    return postgres.url


@pytest.fixture(params=["sqlite", "postgres"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> str | Path:
    """Where a store may be: a file, or a database of the running PostgreSQL made empty."""
    if request.param == "sqlite":
        return tmp_path / "log"
    return str(request.getfixturevalue("postgres_url"))


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
    need("mount")
    mount = ["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(folder)]
    if os.name != "posix" or subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("a small disk cannot be mounted here (needs root)")
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=True)


@pytest.fixture(scope="session")
def household_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a job that a household's data stand in everywhere, made once."""
    return worked_on(tmp_path_factory.mktemp("before") / "jobs").parent


@pytest.fixture
def household_job(household_folder: Path, tmp_path: Path) -> Path:
    """A copy of that folder to work in; the job's file."""
    shutil.copytree(household_folder, tmp_path / "jobs")
    shutil.copytree(household_folder.with_name("jobs-elsewhere"), tmp_path / "jobs-elsewhere")
    return tmp_path / "jobs" / NAME
