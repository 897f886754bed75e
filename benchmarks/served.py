"""A server of an invented job in a process of its own, for benchmarks that come from outside."""

from __future__ import annotations

import contextlib
import json
import os
import re
import socket
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path


@dataclass
class Served:
    """Where it listens, and its process."""

    port: int
    code: str
    pid: int

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def post(self, path: str, data: object, cookie: str = "") -> tuple[int, dict[str, object], str]:
        """Status, answer and the cookie that was set."""
        headers = {"origin": self.url, "content-type": "application/json", "cookie": cookie}
        request = urllib.request.Request(self.url + path, json.dumps(data).encode(), headers)
        try:
            with urllib.request.urlopen(request, timeout=60) as answer:
                said = answer.headers.get("set-cookie") or ""
                return answer.status, json.load(answer), said.split(";")[0]
        except urllib.error.HTTPError as error:
            return error.code, json.loads(error.read() or b"{}"), ""

    def pair(self, code: str, name: str) -> str:
        """The cookie of a new device."""
        status, answer, cookie = self.post("/api/pair", {"code": code, "name": name})
        assert status == 200, answer
        return cookie

    def memory_mb(self, which: str = "VmRSS") -> float:
        """Memory of the server's process, now or (VmHWM) at most so far."""
        text = Path(f"/proc/{self.pid}/status").read_text()
        return int(re.findall(rf"{which}:\s+(\d+)", text)[0]) / 1024


@contextlib.contextmanager
def served(folder: Path) -> Iterator[Served]:
    """`rehaul serve` of a folder."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "rehaul", "serve", str(folder), "--port", str(port)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env={**os.environ})
    try:
        assert process.stdout is not None
        code = ""
        while not code:
            line = process.stdout.readline()
            assert line, "the server did not start"
            found = re.search(r"#pair=(\w+)", line)
            code = found[1] if found else ""
        yield Served(port, code, process.pid)
    finally:
        process.terminate()
        process.wait(20)
