"""Loops compiled by numba: for itself, or as text of which `linking` makes machine code."""

from __future__ import annotations

import importlib
import pickle
import threading
from pathlib import Path
from typing import Any

import numba

from rehaul.kernels.calls import CALLS, Heard
from rehaul.kernels.linking import PARTS, Part
from rehaul.kernels.loop import Function, Loop
from rehaul.kernels.machine import RETURNS
from rehaul.kernels.places import place_for

_PLACING = threading.Lock()
_SETTINGS: Any = numba.config
_TYPE_OF: Any = numba.typeof


def dispatcher_of(function: Function, options: dict[str, Any], package: str) -> Any:
    """A function of numba's, whose machine code lies where the package of the function keeps it."""
    place = place_for(package) if package and Loop.listener is None else None
    if place is None:
        return numba.njit(**options)(function)
    with _PLACING:  # numba asks for the folder once, while it decorates
        others, _SETTINGS.CACHE_DIR = _SETTINGS.CACHE_DIR, str(place)
        try:
            return numba.njit(cache=True, **options)(function)
        finally:
            _SETTINGS.CACHE_DIR = others


def make(package: str, place: str) -> None:
    """Compile what a package's `warm_up` calls, and write text and calls into a folder for `linking`.

    Nothing is taken from what numba has kept, which has lost the text. **Source**: docs/decisions.md,
    "Compiled once".
    """
    Loop.listener = heard = Heard()
    importlib.import_module(f"rehaul.{package}.warm").warm_up()
    write(heard, Path(place))


def write(heard: Heard, place: Path) -> None:
    """The loops heard as text, one after the other, and the calls; those that return arrays stay numba's."""
    place.mkdir(parents=True, exist_ok=True)
    written = set()
    with (place / PARTS).open("wb") as file:
        for (name, kind), (loop, given) in heard.loops.items():
            types = tuple(map(_TYPE_OF, given))
            overload = loop.in_numba.overloads[types]
            returns = str(overload.signature.return_type)
            if returns in RETURNS:
                text = loop.in_numba.inspect_llvm(types)
                pickle.dump(Part(name, kind, overload.fndesc.llvm_func_name, returns, text), file)
                written.add((name, kind))
    calls = [call for call in heard.calls if (call.loop, call.kind) in written]
    (place / CALLS).write_bytes(pickle.dumps(calls))
