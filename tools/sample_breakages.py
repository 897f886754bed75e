"""How many small breakages of the source do the tests see? Breaks a copy of the tree, again and again.

    python tools/sample_breakages.py --package takeoff --seed 7    ten files of it, two changes each
    python tools/sample_breakages.py --seed 7                      the same of all packages in `TESTS`

All tests are run once, each file by itself, to see which of them calls which function; that is kept until
the file of tests changes, or with `--afresh` not at all. Then every change is tried on the tests that call
what it changes, those of `TESTS` first, up to the first that fails. Survivors are listed with what changed,
also those that no test reaches. Some change nothing that could be seen; which, a reader says.
"""

from __future__ import annotations

import argparse
import ast
import compileall
import gc
import hashlib
import json
import multiprocessing
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import _lru_cache_wrapper
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any

import pytest
from breaking import Change, change_at, places

ROOT = Path(__file__).parents[1]
NOT_COPIED = (".git", "node_modules", "__pycache__", ".hypothesis", "out", "dist", "gallery", ".venv")
NOT_BROKEN = ("__main__.py", "warm.py")  # warm.py compiles ahead: slowness is no fault that a test sees
STARTS = ("subprocess", "two_hosts", "household", "power_cut")  # tests whose work is done by other processes
FILE_S = 900.0  # of the tests of one file, to see what they call
LEFT_OUT = ("browser", "long")  # marks of tests that are not tried: minutes, or a browser
TESTS = {  # tried for a package after tests/unit/<package>, the likeliest to see a breakage first
    "auditor": "laws/test_strip* twins/test_auditor* stories/test_held* stories/test_demo_job*",
    "cli": "faces/test_cli_* unit/predict/test_learning* unit/test_front* stories/test_work_verbs*",
    "copper": "laws/test_[ct]* published/test_[cde]* references/test_scikit* unit/design/test_dsl*",
    "design": "laws/test_[fosu]* twins/test_[cdfpruw]* unit/takeoff/test_offers* unit/auditor unit/predict"
    " stories/test_demo_j* stories/test_[ns]*",
    "exact": "laws/test_feeding* twins/test_[fp]*t* twins/test_robust_p* unit/design/test_why*"
    " references/test_[fps]*_against_highs* unit/auditor",
    "facts": "published laws/test_power* unit/radio unit/power unit/wlan",
    "house": "laws/test_r* laws/test_tie* laws/test_drawing* unit/predict stories/test_d*",
    "jobs": "faces/test_server_[ftu]* store faces/test_cli_held* unit/house/test_document*",
    "network": "unit/design unit/auditor twins/test_coax* twins/test_feeding* unit/tracing",
    "power": "laws/test_power* published/test_power* unit/takeoff/test_checks* unit/design unit/auditor",
    "predict": "laws/test_[cou]* laws/test_feeding* unit/design twins/test_[prw]* references/test_pred*",
    "proof": "laws/test_calibration* unit/predict stories/test_[am]* faces/test_server_plan*",
    "radio": "laws/test_radio* published/test_p* published/test_diff* twins/test_radio* unit/predict",
    "sheets": "laws/test_papers* stories/test_[dps]* unit/takeoff faces/test_papers* twins/test_planes*",
    "takeoff": "unit/design/test_p* stories/test_papers.py stories/test_w* unit/sheets unit/auditor "
    "stories/test_demo_j* faces/test_cli_outputs* unit/design",
    "tracing": "laws/test_t* twins/test_[tp]* published/test_trace* references/test_trace* faces/*_trace*",
    "web": "faces/test_server_[lpuge]* faces/test_server_* faces/test_papers* unit/apart",
    "wlan": "laws/test_[wo]* published/test_w* twins/test_wlan* references/test_[cw]* unit/predict",
}


def tests_of(package: str, tree: Path) -> list[str]:
    """The files of tests that are tried first for a package, the likeliest before the others."""
    patterns = [f"unit/{package}", *TESTS.get(package, "").split()]
    files = [file for one in patterns for file in sorted((tree / "tests").glob(one))]
    found = [
        each for file in files for each in (sorted(file.rglob("test_*.py")) if file.is_dir() else [file])
    ]
    return list(dict.fromkeys(str(file.relative_to(tree)) for file in found))


def drawn(tree: Path, package: str, files: int, per_file: int, chance: random.Random) -> list[Change]:
    """Changes by chance: some files, and in each some places, every kind of change alike often."""
    source = tree / "src" / "rehaul"
    inside = (source / package).rglob("*.py") if (source / package).is_dir() else [source / f"{package}.py"]
    paths = [path for path in sorted(inside) if path.name not in NOT_BROKEN]
    chance.shuffle(paths)
    found: list[Change] = []
    for path in paths:
        parsed = ast.parse(path.read_text(encoding="utf-8"))
        possible, wanted = places(parsed), per_file
        files -= bool(possible)
        while possible and wanted:
            kind = chance.choice(sorted({one.kind for one in possible}))
            place = chance.choice([one for one in possible if one.kind == kind])
            found.append(change_at(place, parsed, path, tree))
            possible, wanted = [one for one in possible if one.line != place.line], wanted - 1
        if not files:
            break
    return found


class Trials:
    """As a plugin of pytest: when all is collected, tries each change in a fork of this warm process."""

    def __init__(
        self,
        tree: Path,
        changes: dict[str, list[Change]],
        asked: argparse.Namespace,
        say: Callable[[str], object],
    ) -> None:
        self.tree, self.changes, self.asked, self.say = tree, changes, asked, say
        self.tests = [str(one.relative_to(tree)) for one in sorted(tree.glob("tests/*/**/test_*.py"))]
        texts = {one: (tree / one).read_text(encoding="utf-8") for one in self.tests}
        self.starting = {one for one, text in texts.items() if any(word in text for word in STARTS)}
        self.called: dict[int, CodeType] = {}

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.session = session
        gc.unfreeze()  # what the tests' set-up froze, or no function of ours would be found
        self.items = {i.nodeid: i for i in session.items if not any(map(i.get_closest_marker, LEFT_OUT))}
        self.calls: dict[str, Any] = {}
        begun = time.monotonic()
        for number, file in enumerate(self.tests, 1):
            memory = self._memory(file)
            if self.asked.afresh or not memory.exists():
                if time.monotonic() - begun > self.asked.looking:
                    continue
                print(f"{number} of {len(self.tests)}: {file}", file=sys.stderr, flush=True)
                self._look(file, memory)
            known = dict(json.loads(memory.read_text(encoding="utf-8")))
            self.calls |= {name: seen for name, seen in known.items() if name in self.items}
        for package, changes in self.changes.items():
            self.order = {file: number for number, file in enumerate(tests_of(package, self.tree))}
            for change in changes:
                self.say(json.dumps(self._tried(change)))
        return True

    def _memory(self, file: str) -> Path:
        """Where it is kept what the tests of a file call: known until the file changes."""
        state = hashlib.sha256((self.tree / file).read_bytes()).hexdigest()[:16]
        return Path(tempfile.gettempdir(), "breakages-calls", f"{Path(file).stem}-{state}.json")

    def _look(self, file: str, memory: Path) -> None:
        """Keep of each test its seconds, and the functions of ours that it calls; none of those that fail.

        Each file by itself: what it remembers, it must first have made.
        """
        names = [name for name in self.items if name.split("::")[0] == file]
        said = forked(lambda: json.dumps(dict(self._traced(names))), FILE_S) if names else ""
        memory.parent.mkdir(exist_ok=True)
        memory.write_text(said if said and said[0] == "{" else "{}", encoding="utf-8")

    def _traced(self, names: list[str]) -> Iterator[tuple[str, Any]]:
        ours = f"{self.tree}/"
        threading.settrace(self._trace)
        for name, following in zip(names, [*names[1:], None], strict=True):
            self.called, begun, failed = {}, time.monotonic(), self.session.testsfailed
            sys.settrace(self._trace)
            self._run(name, following)
            sys.settrace(None)
            codes = {
                f"{c.co_filename.removeprefix(ours)}:{c.co_qualname}"
                for c in self.called.values()
                if c.co_filename.startswith(f"{ours}src/")
            }
            if self.session.testsfailed == failed:
                yield name, {"s": time.monotonic() - begun, "calls": sorted(codes)}

    def _trace(self, frame: Any, event: str, what: Any) -> None:
        self.called[id(frame.f_code)] = frame.f_code

    def _run(self, name: str, following: str | None) -> None:
        after = self.items[following] if following else None
        self.session.config.hook.pytest_runtest_protocol(item=self.items[name], nextitem=after)

    def _picked(self, change: Change) -> list[str]:
        """Tests that may see it, the likeliest first."""
        module = f"{change.file}:"
        names = {code.co_firstlineno: code.co_qualname for code in inner(change.code)}
        function = f"{module}{names.get(change.function, '')}"
        ranks: dict[str, int] = {}
        for name, seen in self.calls.items():
            if function in seen["calls"]:
                ranks[name] = 0
            elif not change.function or change.compiled:  # compiled code calls without being seen
                ranks[name] = 0 if any(code.startswith(module) for code in seen["calls"]) else 3
        files = {name.split("::")[0] for name, rank in ranks.items() if rank == 0}
        for name in self.calls:
            file = name.split("::")[0]
            if name not in ranks and (file in files or file in self.starting):
                ranks[name] = 1 if file in files else 2  # what one test of a file makes, another may look at
        seconds: dict[str, float] = {}
        for name in ranks:
            file = name.split("::")[0]
            seconds[file] = seconds.get(file, 0.0) + self.calls[name]["s"]

        def turn(name: str) -> tuple[float, ...]:
            file = name.split("::")[0]
            return ranks[name], self.order.get(file, len(self.order)), seconds[file], self.calls[name]["s"]

        return sorted(ranks, key=lambda name: (*turn(name), name))

    def _tried(self, change: Change) -> dict[str, Any]:
        picked = self._picked(change)
        names, seconds = picked[:1], sum(self.calls[name]["s"] for name in picked[:1])
        for name in picked[1:]:
            if seconds + self.calls[name]["s"] <= self.asked.budget:
                names.append(name)
                seconds += self.calls[name]["s"]
        limit_s, by = 60 + 6 * seconds + 300 * change.compiled, ""
        if names:
            here = change.function and not change.compiled
            with broken(self.tree / change.file, change.text):
                by = forked(lambda: self._fails(change, names), limit_s) if here else NOT_PUT_IN
                if by == NOT_PUT_IN:
                    by = self._afresh(names, limit_s)
            if by in self.calls and forked(lambda: self._fails(None, [by or ""]), limit_s):
                del self.calls[by]  # it fails of itself, now and then: that proves nothing
                return self._tried(change)
        return {"by": by, "tried": len(names), "left": len(picked) - len(names)}

    def _fails(self, change: Change | None, names: list[str]) -> str:
        """The test that fails in this process, whose functions are changed where they stand; "" if none."""
        if change:
            if not put_in(change, str(self.tree / change.file)):
                return NOT_PUT_IN
            forget()
        for name, following in zip(names, [*names[1:], None], strict=True):
            self._run(name, following)
            if self.session.testsfailed:
                return name
        return ""

    def _afresh(self, names: list[str], limit_s: float) -> str | None:
        """The same in a process of its own, for what happens when a module is loaded or compiled."""
        with tempfile.TemporaryDirectory(dir=self.tree.parent) as kernels:
            shutil.copytree(os.environ["NUMBA_CACHE_DIR"], kernels, dirs_exist_ok=True)
            command = [sys.executable, "-m", "pytest", *OPTIONS, "-x", *names]
            environment = os.environ | {"NUMBA_CACHE_DIR": kernels}
            child = subprocess.Popen(
                command, env=environment, stdout=-1, stderr=-2, text=True, start_new_session=True
            )
            try:
                said = child.communicate(timeout=limit_s)[0]
            except subprocess.TimeoutExpired:
                os.killpg(child.pid, signal.SIGKILL)
                child.communicate()
                return None
        failed = [line for line in said.splitlines() if line.startswith(("FAILED", "ERROR"))]
        return (failed or ["it does not load"])[0] if child.returncode else ""


NOT_PUT_IN = "the change could not be put in here"
OPTIONS = ("-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-o", "addopts=", "-rfE", "--hypothesis-seed=0")


def put_in(change: Change, path: str) -> bool:
    """Give the functions of a loaded module the code they have with the change; whether there was one.

    A method that calls the one above it holds its class, which code that is compiled anew does not have.
    """
    found, codes = False, {(code.co_qualname, code.co_firstlineno): code for code in inner(change.code)}
    for one in gc.get_objects():
        if isinstance(one, FunctionType) and one.__code__.co_filename == path:
            code = codes.get((one.__code__.co_qualname, one.__code__.co_firstlineno))
            if code is not None and code.co_freevars == one.__code__.co_freevars:
                found |= code.co_firstlineno == change.function
                one.__code__ = code
    return found


def forget() -> None:
    """Let functions of ours forget what they keep: it was made without the change."""
    for one in gc.get_objects():
        if isinstance(one, _lru_cache_wrapper) and (one.__module__ or "").startswith("rehaul"):
            one.cache_clear()


def inner(code: CodeType) -> Iterator[CodeType]:
    yield code
    for one in code.co_consts:
        if isinstance(one, CodeType):
            yield from inner(one)


@contextmanager
def broken(path: Path, text: str) -> Iterator[None]:
    """The file with another text, and afterwards as it was, its time too."""
    was, stat = path.read_bytes(), path.stat()
    try:
        path.write_text(text, encoding="utf-8")
        yield
    finally:
        path.write_bytes(was)
        os.utime(path, ns=(stat.st_atime_ns, stat.st_mtime_ns))


def forked(work: Callable[[], str], limit_s: float) -> str | None:
    """What the work says in a copy of this process; None where it takes too long, a word where it dies."""
    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        with suppress(BaseException), open(theirs, "w", encoding="utf-8") as pipe:  # noqa: PTH123
            os.setsid()
            pipe.write(f"said {work()}")
        os._exit(0)
    os.close(theirs)
    ended = threading.Timer(limit_s, os.killpg, (child, signal.SIGKILL))
    ended.start()
    with open(ours, encoding="utf-8") as pipe:  # noqa: PTH123
        said = pipe.read()
    in_time = ended.is_alive()
    ended.cancel()
    with suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return said.removeprefix("said ") if said else ("the process dies" if in_time else None)


def copied(tree: Path) -> Path:
    """A copy of the tree, always at one place, so that machine code which did not change is used again."""
    place = Path(tempfile.gettempdir()) / f"breakages-{hashlib.sha256(str(tree).encode()).hexdigest()[:8]}"
    place.mkdir(exist_ok=True)
    shutil.rmtree(place / "tree", ignore_errors=True)
    shutil.copytree(tree, place / "tree", ignore=shutil.ignore_patterns(*NOT_COPIED), symlinks=True)
    if (tree.parent / "shared").is_dir() and not (place / "shared").exists():
        (place / "shared").symlink_to(tree.parent / "shared")
    return place / "tree"


def tried(
    tree: Path, changes: dict[str, list[Change]], asked: argparse.Namespace, say: Callable[[str], object]
) -> None:
    """In a process of its own: try the changes of each package, and say what came of each."""
    os.chdir(tree)
    sys.path[:0] = [str(tree / "src"), str(tree / "tests"), str(tree)]
    sys.dont_write_bytecode = True
    trials = Trials(tree, changes, asked, say)
    with open(tree.parent / "log", "w", encoding="utf-8") as log:  # noqa: PTH123
        os.dup2(log.fileno(), 1)
        os.dup2(log.fileno(), 2)
    pytest.main([*OPTIONS, *trials.tests], plugins=[trials])


def main() -> None:
    said = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    said.add_argument("--package", action="append", help="may be given more than once; else all in `TESTS`")
    said.add_argument("--seed", type=int, default=1)
    said.add_argument("--files", type=int, default=10, help="files of a package")
    said.add_argument("--per-file", type=int, default=2, help="changes of a file")
    said.add_argument("--count", type=int, help="changes of a package, at most")
    said.add_argument("--budget", type=float, default=30, help="seconds of tests that a change is tried on")
    said.add_argument("--looking", type=float, default=7200, help="seconds to see which test calls what")
    said.add_argument("--afresh", action="store_true", help="see again which test calls what")
    said.add_argument("--tree", type=Path, default=ROOT)
    said.add_argument("--show-caught", action="store_true")
    asked = said.parse_args()
    tree = copied(asked.tree.resolve())
    os.environ |= {
        "PYTHONPATH": f"{tree / 'src'}:{tree / 'tests'}",
        "PYTHONDONTWRITEBYTECODE": "1",
        "NUMBA_CACHE_DIR": str(tree.parent / "kernels"),
    }
    (tree.parent / "kernels").mkdir(exist_ok=True)
    compileall.compile_dir(tree / "src", quiet=2)
    if (tree / "src/rehaul/kernels").is_dir():
        subprocess.run([sys.executable, "-m", "rehaul.kernels"], check=True)
    changes = {
        package: drawn(tree, package, asked.files, asked.per_file, random.Random(f"{asked.seed} {package}"))
        for package in asked.package or TESTS
    }
    changes = {package: these[: asked.count] for package, these in changes.items()}
    table = outcomes(tree, changes, asked)
    for package, caught in [*table.items(), ("all", [one for each in table.values() for one in each])]:
        share = 100 * sum(caught) / max(len(caught), 1)
        print(f"{package:10} {sum(caught):4} of {len(caught):4} caught, {share:3.0f} %")


def outcomes(
    tree: Path, changes: dict[str, list[Change]], asked: argparse.Namespace
) -> dict[str, list[bool]]:
    """Of each package, whether each change was caught; what was not is printed."""
    context = multiprocessing.get_context("fork")
    ours, theirs = context.Pipe()
    child = context.Process(target=tried, args=(tree, changes, asked, theirs.send))
    child.start()
    theirs.close()
    table: dict[str, list[bool]] = {package: [] for package in changes}
    for package, change in ((package, one) for package, these in changes.items() for one in these):
        try:
            came = json.loads(ours.recv())
        except EOFError:
            raise SystemExit(f"The tests did not run; see {tree.parent / 'log'}.") from None
        by = "time" if came["by"] is None else came["by"]
        if not by:
            left = f", {came['left']} more not tried" if came["left"] else ""
            tests = f"{came['tried']} tests{left}" if came["tried"] else "no test reaches it"
            print(f"survives  {change}  ({tests})", flush=True)
        elif asked.show_caught:
            print(f"caught    {change}  by {by}", flush=True)
        table[package].append(bool(by))
    child.join()
    return table


if __name__ == "__main__":
    main()
