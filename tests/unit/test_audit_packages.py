"""The audit of locked packages: neither an advisory nor silence is ever taken for all well."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
TOOL = ROOT / "tools" / "audit_packages.py"
NOT_ANSWERED = 75


@contextmanager
def index(named: dict[str, list[str]], *, answer: bytes | None = None, pages: int = 1) -> Iterator[Any]:
    """An index as documented, on loopback: `named` are advisories by package."""
    asked: list[dict[str, Any]] = []

    class Index(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            queries = json.loads(self.rfile.read(int(self.headers["content-length"])))["queries"]
            asked.extend(queries)
            said = answer if answer is not None else json.dumps({"results": [*map(row, queries)]}).encode()
            self.send_response(200 if self.path == "/v1/querybatch" else 404)
            self.end_headers()
            self.wfile.write(said)

        def log_message(self, *_: object) -> None:
            pass

    def row(query: dict[str, Any]) -> dict[str, Any]:
        names, page = named.get(query["package"]["name"], []), int(query.get("page_token", "0"))
        here = names[page::pages]
        more = {"next_page_token": str(page + 1)} if names and page + 1 < pages else {}
        return (
            {"vulns": [{"id": name, "modified": "2026-01-01T00:00:00Z"} for name in here], **more}
            if names
            else {}
        )

    server = HTTPServer(("127.0.0.1", 0), Index)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}", asked
    finally:
        server.shutdown()
        server.server_close()


def audit(address: str) -> tuple[int, str]:
    done = subprocess.run(
        [sys.executable, str(TOOL)],
        env={"REHAUL_ADVISORIES": address},
        capture_output=True,
        text=True,
        check=False,
    )
    assert not done.stderr
    return done.returncode, done.stdout


def test_every_locked_package_is_asked_about() -> None:
    with index({}) as (address, asked):
        code, said = audit(address)
    assert code == 0
    assert "advisories name 0 of them" in said
    names = {(query["package"]["ecosystem"], query["package"]["name"], query["version"]) for query in asked}
    pins = {
        ("PyPI", *line.split(" ")[0].split("=="))
        for lock in ROOT.glob("requirements*.lock")
        for line in lock.read_text().splitlines()
        if re.match(r"\w.*==", line)
    }
    assert pins and pins == {name for name in names if name[0] == "PyPI"}
    pages = json.loads((ROOT / "frontend" / "package-lock.json").read_text())["packages"]
    assert len({name for name in names if name[0] == "npm"}) == len(
        {(place.rpartition("node_modules/")[2], row["version"]) for place, row in pages.items() if place}
    )


@pytest.mark.parametrize("pages", [1, 2, 3])
def test_what_an_advisory_names_is_told(pages: int) -> None:
    with index({"pillow": ["PYSEC-1", "PYSEC-2", "GHSA-3"]}, pages=pages) as (address, _):
        code, said = audit(address)
    assert code == 1
    assert re.search(r"^pillow [\d.]+ \(PyPI\): ", said, re.MULTILINE)
    assert all(name in said for name in ("PYSEC-1", "PYSEC-2", "GHSA-3"))


@pytest.mark.parametrize("answer", [b"<html>", b"[]", b'{"results": []}', b'{"results": null}'])
def test_another_answer_is_no_all_well(answer: bytes) -> None:
    with index({}, answer=answer) as (address, _):
        code, said = audit(address)
    assert code == NOT_ANSWERED
    assert said.startswith("SKIPPED: ") and "No package was checked" in said


def test_nobody_there() -> None:
    code, said = audit("http://127.0.0.1:9")
    assert code == NOT_ANSWERED
    assert said.startswith("SKIPPED: ")


@pytest.mark.long
def test_no_advisory_names_what_we_lock() -> None:
    done = subprocess.run([sys.executable, str(TOOL)], capture_output=True, text=True, check=False)
    if done.returncode == NOT_ANSWERED:
        pytest.skip(done.stdout.strip())
    assert done.returncode == 0, done.stdout
