"""Walls around a process that reads what a stranger made. Linux only; elsewhere there are none.

Landlock (Linux 5.13 and newer) leaves it Python's own files, fonts and the one file that it reads, all
to read only. A filter of system calls (x86-64 and ARM of 64 bits) takes away the network, starting and
touching other processes, and lifting its own limits. Both stay for good, and for every thread.
"""

from __future__ import annotations

import ctypes
import os
import struct
import sys
import sysconfig
from collections.abc import Iterator, Sequence
from pathlib import Path

from rehaul.apart.calls import ARCHITECTURES, Calls

NO_NEW_PRIVILEGES = 38  # prctl
ADD_RULE, RESTRICT_SELF, CREATE_RULESET = 445, 446, 444  # the same on every architecture
READ_FILE, READ_DIR = 1 << 2, 1 << 3
RIGHTS = ((1, 13), (2, 14), (3, 15), (5, 16))  # since which version of Landlock there are how many rights
NETWORK_SINCE, SCOPES_SINCE = 4, 6
BIND_AND_CONNECT = 0b11
ABSTRACT_SOCKETS_AND_SIGNALS = 0b11
FONTS = ("/usr/share/fonts", "/usr/local/share/fonts", "/usr/share/fontconfig", "/etc/fonts")
LIBRARIES = ("/lib", "/lib64", "/usr/lib", "/usr/lib64", "/usr/local/lib", "/etc/ld.so.cache")
PACKAGE = Path(__file__).resolve().parents[1]


def close_in(readable: Sequence[Path]) -> tuple[str, ...]:
    """Close this process in with files it may read; returns the names of the walls that stand.

    `files`: nothing can be opened but what is beneath `readable`, Python's own and fonts, to read only.
    `calls`: no network, no other process, no lifting of limits. Fewer or none come back where the system
    has them not; whoever calls decides whether that will do. Both stay for good. **Source**: Landlock and
    seccomp of the Linux kernel; docs/security.md, "Files of strangers, read apart".
    """
    if sys.platform != "linux":
        return ()
    try:
        libc = ctypes.CDLL(None, use_errno=True)
    except OSError:
        return ()
    if libc.prctl(NO_NEW_PRIVILEGES, 1, 0, 0, 0) != 0:
        return ()
    calls = ARCHITECTURES.get(os.uname().machine) if sys.maxsize > 2**32 else None
    files = _keep_to_files(libc, [*_python(), *map(Path, (*LIBRARIES, *FONTS)), *readable])
    filtered = calls is not None and _filter_calls(libc, calls)
    return tuple(name for name, stands in (("files", files), ("calls", filtered)) if stands)


def _python() -> Iterator[Path]:
    """Where this Python and what is installed for it lie."""
    yield PACKAGE
    yield from (Path(sysconfig.get_path(name)) for name in ("stdlib", "platstdlib", "purelib", "platlib"))
    yield from (Path(prefix) / "lib" for prefix in (sys.base_prefix, sys.prefix))


def _keep_to_files(libc: ctypes.CDLL, readable: Sequence[Path]) -> bool:
    version = libc.syscall(CREATE_RULESET, None, ctypes.c_size_t(0), 1)
    if version < 1:
        return False
    rights = (1 << max(count for since, count in RIGHTS if since <= version)) - 1
    network = BIND_AND_CONNECT if version >= NETWORK_SINCE else 0
    scopes = ABSTRACT_SOCKETS_AND_SIGNALS if version >= SCOPES_SINCE else 0
    words = struct.pack("=QQQ", rights, network, scopes)
    size = 24 if scopes else 16 if network else 8
    ruleset = libc.syscall(CREATE_RULESET, words, ctypes.c_size_t(size), 0)
    if ruleset < 0:
        return False
    try:
        for path in readable:
            _let_read(libc, ruleset, path)
        return bool(libc.syscall(RESTRICT_SELF, ruleset, 0) == 0)
    finally:
        os.close(ruleset)


def _let_read(libc: ctypes.CDLL, ruleset: int, path: Path) -> None:
    """Let what lies at or beneath a path be read; what is not there needs no rule."""
    try:
        handle = os.open(path, os.O_PATH | os.O_CLOEXEC)  # type: ignore[attr-defined,unused-ignore]
    except OSError:
        return
    try:
        rights = READ_FILE | READ_DIR if path.is_dir() else READ_FILE
        libc.syscall(ADD_RULE, ruleset, 1, struct.pack("=Qi", rights, handle), 0)
    finally:
        os.close(handle)


class _Filter(ctypes.Structure):
    _fields_ = (("length", ctypes.c_ushort), ("rows", ctypes.c_char_p))


def _filter_calls(libc: ctypes.CDLL, calls: Calls) -> bool:
    rows = calls.program(os.getpid())
    program = _Filter(len(rows) // 8, rows)
    set_filter, every_thread = 1, 1
    done = libc.syscall(calls.seccomp, set_filter, every_thread, ctypes.byref(program))
    return bool(done == 0)
