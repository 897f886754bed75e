"""What only one operating system has is called behind a question which system this is, or in a net."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import mypy
import pytest

from counts import LONG

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "rehaul"
MODULES = {"fcntl", "resource", "pwd", "grp", "termios", "tty", "pty", "posix", "syslog", "msvcrt", "winreg"}
MODULES |= {"_winapi", "spwd", "crypt"}
# Of the standard library's modules, what Windows or macOS lack.
CALLS = {
    "os": """fork forkpty getuid geteuid getgid getegid getgroups setuid setgid uname kill killpg setsid
        setpgid getpgid wait wait3 wait4 waitpid
        mkfifo mknod chown fchown lchown lchmod chroot sched_getaffinity
        sched_setaffinity pipe2 memfd_create eventfd nice setpriority getpriority posix_spawn posix_fallocate
        posix_fadvise fdatasync sendfile sysconf confstr getloadavg register_at_fork fchmod fchdir ttyname
        openpty statvfs fstatvfs sync umask set_inheritable get_blocking set_blocking getxattr setxattr
        O_DIRECTORY O_NOFOLLOW O_PATH O_CLOEXEC O_NONBLOCK O_SYNC O_DSYNC O_TMPFILE O_BINARY O_NOCTTY WNOHANG
        WIFEXITED WEXITSTATUS startfile""",
    "signal": """SIGKILL SIGALRM SIGHUP SIGUSR1 SIGUSR2 SIGQUIT SIGCHLD SIGSTOP SIGCONT SIGPIPE SIGXCPU
        SIGWINCH setitimer alarm pause pthread_kill pthread_sigmask sigwait sigpending
        siginterrupt CTRL_C_EVENT""",
    "socket": "AF_UNIX AF_NETLINK AF_PACKET SO_REUSEPORT SO_PEERCRED SCM_RIGHTS socketpair send_fds recv_fds",
    "select": "poll epoll kqueue",
    "time": "clock_gettime clock_settime CLOCK_MONOTONIC tzset pthread_getcpuclockid",
    "loop": "add_signal_handler",
}
ONLY = {(module, name) for module, names in CALLS.items() for name in names.split()}
PLACES = re.compile(r"/(proc|sys|tmp|var|dev|etc|usr|lib64|lib|run|opt|Library|System)(/|$)")
ASKS = ("sys.platform", "os.name", "hasattr(", ".is_dir()", ".exists()")
MAY_FAIL = {"ImportError", "ModuleNotFoundError", "AttributeError", "OSError", "Exception"}
OF_ONE = re.compile(r"\b(Linux|macOS|Windows) only\b")


class Reading:
    """One source, with the parents of its parts."""

    def __init__(self, text: str) -> None:
        self.tree = ast.parse(text)
        self.parent = {child: node for node in ast.walk(self.tree) for child in ast.iter_child_nodes(node)}
        self.says_so = bool(OF_ONE.search(ast.get_docstring(self.tree) or ""))

    def faults(self) -> list[tuple[int, str]]:
        """Line and words of every use that nothing guards."""
        if self.says_so:
            return []
        return [(line, words) for line, words, node in self.uses() if not self.guarded(node)]

    def uses(self) -> Iterator[tuple[int, str, ast.AST]]:
        """Modules, calls, and paths: where those stand in a name of the module, wherever it is read."""
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Import | ast.ImportFrom):
                names = (
                    [node.module or ""] if isinstance(node, ast.ImportFrom) else [a.name for a in node.names]
                )
                for name in MODULES & {name.partition(".")[0] for name in names}:
                    yield node.lineno, f"import {name}", node
                if isinstance(node, ast.ImportFrom):
                    for name in (alias.name for alias in node.names if (node.module, alias.name) in ONLY):
                        yield node.lineno, f"{node.module}.{name}", node
            elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
                if (node.value.id, node.attr) in ONLY:
                    yield node.lineno, ast.unparse(node), node
            elif isinstance(node, ast.Constant) and isinstance(node.value, str) and PLACES.match(node.value):
                names = self.kept_in(node)
                if not names:
                    yield node.lineno, repr(node.value), node
                for read in ast.walk(self.tree):
                    if isinstance(read, ast.Name) and isinstance(read.ctx, ast.Load) and read.id in names:
                        yield read.lineno, f"{read.id} ({node.value})", read

    def kept_in(self, node: ast.AST) -> set[str]:
        """The names of the module that a constant is given to."""
        while node in self.parent and not isinstance(self.parent[node], ast.Module):
            node = self.parent[node]
        targets = node.targets if isinstance(node, ast.Assign) else []
        return {part.id for target in targets for part in ast.walk(target) if isinstance(part, ast.Name)}

    def guarded(self, node: ast.AST, within: tuple[str, ...] = ()) -> bool:
        """Whether a question or a net stands around a use, before it, or around all calls of its function."""
        while node in self.parent:
            above = self.parent[node]
            if isinstance(above, ast.If | ast.IfExp | ast.BoolOp) and _asks(getattr(above, "test", above)):
                return True
            if isinstance(above, ast.Try) and node in above.body and _nets(above):
                return True
            if isinstance(above, ast.With) and any(_suppresses(item) for item in above.items):
                return True
            if any(_leaves(before) for before in _before(above, node)):
                return True
            if isinstance(above, ast.FunctionDef | ast.AsyncFunctionDef):
                return above.name not in within and self.calls_guarded(above.name, (*within, above.name))
            node = above
        return False

    def calls_guarded(self, name: str, within: tuple[str, ...]) -> bool:
        """Whether a private function is only called where the question was asked."""
        calls = [
            node
            for node in ast.walk(self.tree)
            if isinstance(node, ast.Name) and node.id == name and isinstance(node.ctx, ast.Load)
        ]
        return name.startswith("_") and bool(calls) and all(self.guarded(call, within) for call in calls)


def _asks(test: ast.AST) -> bool:
    return any(words in ast.unparse(test) for words in ASKS)


def _nets(node: ast.Try) -> bool:
    caught = " ".join(ast.unparse(handler.type) if handler.type else "Exception" for handler in node.handlers)
    return bool(MAY_FAIL & set(re.findall(r"\w+", caught)))


def _suppresses(item: ast.withitem) -> bool:
    words = ast.unparse(item.context_expr)
    return "suppress(" in words and bool(MAY_FAIL & set(re.findall(r"\w+", words)))


def _before(above: ast.AST, node: ast.AST) -> list[ast.stmt]:
    body = getattr(above, "body", [])
    return body[: body.index(node)] if isinstance(body, list) and node in body else []


def _leaves(node: ast.stmt) -> bool:
    """A statement after which only some systems go on."""
    if isinstance(node, ast.Assert):
        return _asks(node.test)
    if not isinstance(node, ast.If) or not _asks(node.test):
        return False
    return isinstance(node.body[-1], ast.Return | ast.Raise | ast.Continue)


@pytest.mark.parametrize("path", sorted(SOURCE.rglob("*.py")), ids=lambda p: str(p.relative_to(SOURCE)))
def test_no_call_of_one_system_stands_unguarded(path: Path) -> None:
    assert not Reading(path.read_text(encoding="utf-8")).faults()


BARE = (
    "import fcntl",
    "import os\nos.fork()",
    "from signal import SIGKILL",
    "import os\ndef f():\n    return os.getuid()",
    "from pathlib import Path\nP = Path('/proc/self/status')\ndef f():\n    return P.read_text()",
    "import tempfile\ntempfile.mkdtemp(dir='/tmp')",
    "import os, sys\ndef f():\n    os.fork()\ndef g():\n    if sys.platform == 'linux':\n        f()",
    "import os\ndef _f():\n    os.fork()\ndef g():\n    _f()",
    "import os, sys\ndef f():\n    if sys.platform == 'linux':\n        pass\n    os.fork()",
    "try:\n    import resource\nexcept KeyError:\n    pass",
)
KEPT = (
    "import sys\nif sys.platform != 'win32':\n    import fcntl",
    "try:\n    import resource\nexcept ImportError:\n    resource = None",
    "import contextlib\nwith contextlib.suppress(ImportError):\n    import resource",
    "import os, sys\ndef f():\n    if sys.platform == 'win32':\n        return\n    os.fork()",
    "import os, sys\ndef _f():\n    os.fork()\ndef g():\n    if sys.platform == 'linux':\n        _f()",
    "from pathlib import Path\nP = Path('/var/tmp')\ndef f():\n    return P if P.is_dir() else None",
    '"""Walls. Linux only; elsewhere none."""\nimport os\nos.uname()',
    "import process\nprocess.kill()\nlink = '/usrs'",
)


@pytest.mark.parametrize("text", BARE)
def test_a_bare_call_is_found(text: str) -> None:
    assert Reading(text).faults()


@pytest.mark.parametrize("text", KEPT)
def test_a_guarded_call_passes(text: str) -> None:
    assert not Reading(text).faults()


TYPESHED = Path(mypy.__file__).parent / "typeshed" / "stdlib"
LACKED = {"win32": "getuid", "darwin": "O_PATH"}  # of `os`
# Where the rest of rehaul is taken as unknown, so that only what the system has is looked at; faults that
# come of that are left aside.
UNLOOKED = (
    "valid-type",
    "index",
    "has-type",
    "var-annotated",
    "overload-cannot-match",
)  # of what is taken as unknown
ALONE = (
    *("--follow-imports=skip", "--allow-subclassing-any", "--no-warn-return-any"),
    *("--allow-untyped-decorators", "--no-warn-unused-ignores"),
    *(f"--disable-error-code={code}" for code in UNLOOKED),
)


def modules_that_differ() -> set[str]:
    """Modules of the standard library that the checker has otherwise for another system."""
    stubs = (stub for stub in TYPESHED.rglob("*.pyi") if "sys.platform" in stub.read_text(encoding="utf-8"))
    parts = (stub.relative_to(TYPESHED).with_suffix("").parts for stub in stubs)
    return {".".join(part for part in name if part != "__init__") for name in parts} - {"builtins", "typing"}


def taken_by(path: Path) -> Iterator[str]:
    """Modules that a source imports, and names that may be modules of theirs."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield from (node.module, *(f"{node.module}.{alias.name}" for alias in node.names))


@pytest.mark.slow
@pytest.mark.parametrize("system", ["win32", pytest.param("darwin", marks=pytest.mark.long)])
def test_types_hold_as_another_system_has_them(system: str, tmp_path: Path) -> None:
    """The checker follows `sys.platform`: what the standard library lacks there is an error.

    In every run the sources that import what differs, by themselves; with `--long` the whole. A planted use
    shows that it would be found.
    """
    planted = tmp_path / "planted.py"
    planted.write_text(f"import os\n\nFOUND = os.{LACKED[system]}\n", encoding="utf-8")
    differ = modules_that_differ()
    files = [path for path in sorted(SOURCE.rglob("*.py")) if differ & set(taken_by(path))]
    assert len(files) > 50
    asked = [SOURCE] if LONG else [*ALONE, *files]
    place = f".mypy_cache/{system}" if LONG else f".mypy_cache/{system}-alone"
    words = ["--platform", system, "--cache-dir", place, "--no-error-summary", *map(str, asked), str(planted)]
    done = subprocess.run(
        [sys.executable, "-m", "mypy", *words], cwd=ROOT, capture_output=True, text=True, check=False
    )
    errors = [line for line in done.stdout.splitlines() if ": error: " in line]
    assert len(errors) == 1 and "planted.py:3:" in errors[0] and LACKED[system] in errors[0], done.stdout
