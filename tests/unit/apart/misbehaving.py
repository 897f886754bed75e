"""Readers that do what a reader taken over by a file might do. Run only behind the door."""

from __future__ import annotations

import ctypes
import os
import signal
import socket
import subprocess
import threading
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any


def read(file: Path, asked: Mapping[str, Any]) -> tuple[str, bytes]:
    return DEEDS[asked["deed"]](file)


def well(file: Path) -> tuple[str, bytes]:
    print("what libraries print")
    os.write(2, b"and say")
    return f'{{"length": {len(file.read_bytes())}}}', b"\0beside"


def home(_: Path) -> tuple[str, bytes]:
    return f'{{"home": "{Path.home()}"}}', b""


def crash(_: Path) -> tuple[str, bytes]:
    ctypes.string_at(0)
    raise AssertionError


def divide(_: Path) -> tuple[str, bytes]:
    signal.raise_signal(signal.SIGFPE)
    raise AssertionError


def abort(_: Path) -> tuple[str, bytes]:
    os.abort()


def swell(_: Path) -> tuple[str, bytes]:
    return "", bytes(bytearray(b"x") * 3_000_000_000)


def for_ever(_: Path) -> tuple[str, bytes]:
    while True:
        pass


def bug(_: Path) -> tuple[str, bytes]:
    raise KeyError("secret of the file")


def deep(_: Path) -> tuple[str, bytes]:
    return deep(_)


def babble(_: Path) -> tuple[str, bytes]:
    return "x" * 50_000_000, b""


def lie(_: Path) -> tuple[str, bytes]:
    """Write to whatever is open, as if it were the answer."""
    for handle in range(3, 20):
        try:
            os.write(handle, b'\x80\x04cos\nsystem\n(S"touch /tmp/x"\ntR.\n')
        except OSError:
            continue
    os._exit(0)


def other_shape(_: Path) -> tuple[str, bytes]:
    return '{"length": "long", "more": 1}', b""


def reach(_: Path) -> tuple[str, bytes]:
    """Every way out, by the name of those that stood open."""
    ways: dict[str, Callable[[], object]] = {
        "network": lambda: socket.socket(),
        "other files": lambda: Path("/etc/passwd").read_text(),
        "list": lambda: list(Path("/home").iterdir()),
        "write": lambda: Path("/tmp/written-by-a-reader").write_text("x"),
        "program": lambda: subprocess.run(["/bin/true"], check=True),
        "fork": _fork,
        "kill": lambda: os.kill(os.getppid(), 0),
        "limits": _lift,
    }
    found = []
    for name, way in ways.items():
        try:
            way()
            found.append(name)
        except OSError:
            continue
    threading.Thread(target=int).start()  # threads are left: libraries need them
    return '{"open": [' + ",".join(f'"{name}"' for name in found) + "]}", b""


def _fork() -> None:
    if os.fork() == 0:
        os._exit(0)


def _lift() -> None:
    import resource

    try:
        resource.setrlimit(resource.RLIMIT_AS, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    except ValueError:
        raise OSError from None


DEEDS: dict[str, Callable[[Path], tuple[str, bytes]]] = {
    name: deed
    for name, deed in list(globals().items())
    if callable(deed) and getattr(deed, "__module__", "") == __name__ and name != "read"
}
