"""Compile ahead of the first use: said in a line, done once, in processes that give the memory back."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from rehaul.kernels.places import bases, place_for
from rehaul.kernels.sources import PACKAGE

MAKE = "from rehaul.kernels.making import make; make(*sys.argv[1:])"
LINK = "from rehaul.kernels.linking import link; link(*sys.argv[1:])"
TRY = "from rehaul.kernels.trial import try_out; try_out(*sys.argv[1:])"
DONE = "done"  # begin of the name of the file that says that all loops of the folder were compiled
ONCE = "Compiling what has to be fast: one or two minutes, this once."
EVERY_TIME = (
    "Compiling what has to be fast: one or two minutes, and again every time, since it cannot be kept in {}. "
    "Set NUMBA_CACHE_DIR to a folder that can be written."
)


def to_stderr(sentence: str) -> None:
    """Say a sentence on standard error at once: how `prepare` speaks where nobody gives it another way.

    Standard output is left to what a command prints.
    """
    print(sentence, file=sys.stderr, flush=True)


def prepare(say: Callable[[str], None] = to_stderr) -> None:
    """Compile all loops that are not kept yet, one package after the other; nothing where all are.

    Where nothing can be kept they are left to be compiled when they are first called. **Source**:
    docs/decisions.md, "Compiled once".
    """
    waiting = [package for package in packages() if not is_done(package)]
    if not waiting:
        return
    if any(place_for(package) is None for package in waiting):
        say(EVERY_TIME.format(" or ".join(map(str, bases()))))
        return
    say(ONCE)
    for package in waiting:
        compile_apart(package)


def packages() -> list[str]:
    """Packages below `rehaul` with compiled loops, by alphabet.

    Each has a module `warm`, whose `warm_up` calls every loop once.
    """
    return sorted(file.parent.name for file in PACKAGE.glob("*/warm.py"))


def is_done(package: str) -> bool:
    """Whether all loops of a package were compiled and kept, in its present state.

    False also where nothing can be kept, so that compiling begins anew with each process. **Source**:
    docs/decisions.md, "Compiled once".
    """
    place = place_for(package)
    return place is not None and _done(place).exists()


def _done(place: Path) -> Path:
    """The file that says so for this machine: others may share the folder."""
    from rehaul.kernels.machine import tag  # what is prepared is about to be used, and needs LLVM as well

    return place / f"{DONE}-{tag()}"


def compile_apart(package: str) -> None:
    """Compile a package's loops in processes of their own, which take the compiler's memory with them.

    One compiles them, one makes machine code of it that needs no numba, and one tries that. Where that is
    not to be had, what numba keeps for itself is made; where that fails too, they are left to be compiled
    when they are called.
    **Source**: docs/decisions.md, "Compiled once".
    """
    place = place_for(package)
    if place is None:
        return
    with tempfile.TemporaryDirectory(dir=place) as made:
        if _runs(MAKE, package, made) and _runs(LINK, made) and _runs(TRY, made, str(place)):
            _done(place).touch()
            return
    if _runs(f"from rehaul.{package}.warm import warm_up; warm_up()", aloud=True) and any(
        place.rglob("*.nbi")
    ):
        _done(place).touch()


def _runs(code: str, *words: str, aloud: bool = False) -> bool:
    """Whether it comes to its end in a process of its own; its complaints are heard where it must."""
    done = subprocess.run(
        [sys.executable, "-P", "-c", f"import sys; sys.path.append({str(PACKAGE.parent)!r}); {code}", *words],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=None if aloud else subprocess.DEVNULL,
        start_new_session=True,  # Ctrl+C is for us, who end it
        check=False,
    )
    return done.returncode == 0
