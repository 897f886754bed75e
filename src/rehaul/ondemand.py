"""Names of a package that come from its modules when they are first asked for, and not before."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any


def named(package: str, homes: Mapping[str, tuple[str, ...]]) -> Callable[[str], Any]:
    """A `__getattr__` for a package: `homes` says which names each of its modules gives.

    So a verb loads what it uses of a package and not what others use. A module of another package is named
    in full, with `rehaul.` in front.
    """
    home_of = {name: home for home, names in homes.items() for name in names}

    def get(name: str) -> Any:
        home = home_of.get(name)
        if home is None:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        value = getattr(import_module(home if home.startswith("rehaul.") else f"{package}.{home}"), name)
        setattr(sys.modules[package], name, value)
        return value

    return get
