"""What a package's compiled loops are made of, as one key.

Numba looks at the file of a function alone, not at those it calls into: machine code of an older
state would go on being used. So every state of the sources has a folder of its own.
"""

from __future__ import annotations

import hashlib
import importlib.util
import re
import sys
from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[1]
HERE = Path(__file__).parent
MADE_BY = [
    HERE / name for name in ("blocks.py", "linking.py", "loop.py", "loops.py", "machine.py", "making.py")
]
_HAS_LOOPS = re.compile(r"^from rehaul\.kernels\.loops import ", re.MULTILINE)
_TAKES_FROM = re.compile(r"^from rehaul\.(\w+)\.([\w.]+) import ", re.MULTILINE)


def key_of(package: str) -> str:
    """The state of a package's sources, of Python and of numba: equal keys may share machine code.

    A text such as `cpython-312-` and 16 hexadecimal digits. Modules without loops, and which no loop takes
    a name from, do not count. **Source**: docs/decisions.md, "Compiled once": other sources find no folder.
    """
    total = hashlib.sha256(numba_version())
    warm = PACKAGE / package / "warm.py"  # which kinds of arguments there is code for
    for file in [*MADE_BY, *([warm] if warm.exists() else []), *files_of(package)]:
        total.update(file.name.encode() + hashlib.sha256(file.read_bytes()).digest())
    return f"{sys.implementation.cache_tag}-{total.hexdigest()[:16]}"


def numba_version() -> bytes:
    """What tells one version of numba from another; nothing where it is not installed.

    Its own file, since asking the installed packages takes a hundredth of a second of every start.
    **Source**: docs/decisions.md, "Compiled once".
    """
    package = importlib.util.find_spec("numba")
    if package is None or package.origin is None:
        return b""
    file = Path(package.origin).with_name("_version.py")
    if file.exists():
        return file.read_bytes()
    from importlib.metadata import version

    return version("numba").encode()


def files_of(package: str) -> list[Path]:
    """Modules of a package that hold loops, and those of it that these take names from, and so on; by name.

    Only imports of the form `from rehaul.<package>.<module> import` at the start of a line are seen.
    **Source**: docs/decisions.md, "Compiled once": other sources find no folder.
    """
    root = PACKAGE / package
    files = {".".join(file.relative_to(root).with_suffix("").parts): file for file in root.rglob("*.py")}
    texts = {name: file.read_text(encoding="utf-8") for name, file in sorted(files.items())}
    reached = [name for name, text in texts.items() if _HAS_LOOPS.search(text)]
    for name in reached:  # grows while it is walked
        taken = (module for home, module in _TAKES_FROM.findall(texts[name]) if home == package)
        reached += [module for module in dict.fromkeys(taken) if module in texts and module not in reached]
    return [files[name] for name in texts if name in reached]
