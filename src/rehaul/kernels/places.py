"""Where machine code is kept: with the package where one may write there, else in the user's own cache."""

from __future__ import annotations

import hashlib
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from rehaul.kernels.sources import PACKAGE, key_of

OWNER = "of"  # file that names the package whose code lies in a shared folder


@cache
def place_for(package: str) -> Path | None:
    """The folder for a package's machine code in its present state; None where nothing can be written.

    It is made if need be, and folders of older states of that package are then removed. `package` is a name
    below `rehaul`, such as `radio`. The answer is kept: what is changed on the disk later is not seen.
    **Source**: docs/decisions.md, "Compiled once".
    """
    key = key_of(package)
    return next((place for base in bases() if (place := _ready(base, package, key))), None)


def bases() -> Iterator[Path]:
    """Folders to keep machine code in, the best first; whether they can be written is not looked at.

    First what NUMBA_CACHE_DIR names, then beside the package, then the user's own cache. The first and the
    last hold a folder for each place where rehaul is installed. **Source**: docs/decisions.md, "Compiled
    once".
    """
    ours = f"rehaul-{hashlib.sha256(str(PACKAGE).encode()).hexdigest()[:12]}"
    if chosen := os.environ.get("NUMBA_CACHE_DIR"):
        yield Path(chosen) / ours
    yield PACKAGE / "__pycache__" / "kernels"
    if shared := user_cache():
        yield shared / ours


def user_cache() -> Path | None:
    """Where this system keeps what a user's programs can make again; None for a user without a home.

    Windows: LOCALAPPDATA; macOS: Library/Caches; elsewhere XDG_CACHE_HOME if it is an absolute path, else
    `~/.cache`. The folder need not be there. **Source**: docs/decisions.md, "Compiled once".
    """
    try:
        home = Path.home()
    except RuntimeError:
        return None
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local")
    if sys.platform == "darwin":
        return home / "Library" / "Caches"
    chosen = Path(os.environ.get("XDG_CACHE_HOME", ""))
    return chosen if chosen.is_absolute() else home / ".cache"


def _ready(base: Path, package: str, key: str) -> Path | None:
    """The folder of this key, if it can be written; folders of older keys are removed when it is new."""
    place = base / f"{package}-{key}"
    is_new = not place.is_dir()
    try:
        place.mkdir(parents=True, exist_ok=True)
        tempfile.TemporaryFile(dir=place).close()
        if is_new:
            (base / OWNER).write_text(str(PACKAGE), encoding="utf-8")
    except OSError:
        return None
    if is_new:
        _remove_old(place, f"{package}-{sys.implementation.cache_tag}-*")
    return place


def _remove_old(place: Path, alike: str) -> None:
    """Remove code of older sources, and beside it that of packages that are gone."""
    base = place.parent
    old = [other for other in base.glob(alike) if other != place]
    for owner in base.parent.glob(f"rehaul-*/{OWNER}"):
        if not Path(owner.read_text(encoding="utf-8")).is_dir():
            old.append(owner.parent)
    for folder in old:
        shutil.rmtree(folder, ignore_errors=True)
