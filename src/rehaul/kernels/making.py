"""Machine code made: numba compiles the loops, and what it made is written down as one object file."""

from __future__ import annotations

import hashlib
import importlib
import json
import pickle
import re
import sys
import threading
from pathlib import Path
from typing import Any

import llvmlite.binding as llvm
import numba

from rehaul.kernels.calls import CALLS, Heard
from rehaul.kernels.loop import Function, Loop
from rehaul.kernels.machine import CODE, INDEX, RETURNS, target_machine, this_machine
from rehaul.kernels.places import place_for

_LOADED_AS = {"ptr": 8, "i64": 8, "double": 8, "float": 4, "i32": 4, "i8": 1}  # type in LLVM, bytes
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
    """Compile what a package's `warm_up` calls, and write it into a folder for `trial`.

    Nothing is taken from what numba has kept, which has lost the text that this is made of.
    """
    Loop.listener = heard = Heard()
    importlib.import_module(f"rehaul.{package}.warm").warm_up()
    write(heard, Path(place))


def write(heard: Heard, place: Path) -> None:
    """The loops heard as one object file, its index, and the calls."""
    if sys.byteorder != "little":
        raise ValueError("words are read as the little end comes first")
    place.mkdir(parents=True, exist_ok=True)
    code, index = _object_of(heard)
    (place / CODE).write_bytes(code)
    (place / CALLS).write_bytes(pickle.dumps(heard.calls))
    index |= {"machine": this_machine(), "digest": hashlib.sha256(code).hexdigest()}
    (place / INDEX).write_text(json.dumps(index), encoding="utf-8")


def _object_of(heard: Heard) -> tuple[bytes, dict[str, Any]]:
    whole: Any = None
    loops: dict[str, dict[str, tuple[str, str]]] = {}
    ways_in = []
    for at, ((name, kind), (loop, given)) in enumerate(heard.loops.items()):
        types = tuple(map(_TYPE_OF, given))
        overload = loop.in_numba.overloads[types]
        returns = str(overload.signature.return_type)
        if returns not in RETURNS:
            continue
        made = llvm.parse_assembly(loop.in_numba.inspect_llvm(types))
        symbol, native = f"rehaul_{at}", overload.fndesc.llvm_func_name
        ways_in.append(
            _way_in(symbol, native, [str(one.type) for one in made.get_function(native).arguments])
        )
        loops.setdefault(name, {})[kind] = symbol, returns
        if whole is None:
            whole = made
        else:
            whole.link_in(made)
    whole.link_in(llvm.parse_assembly("\n".join(ways_in)))
    machine = target_machine()
    _drop_unused(whole, machine)
    return machine.emit_object(whole), {"loops": loops, "outside": _outside(whole)}


def _way_in(symbol: str, native: str, types: list[str]) -> str:
    """A function that takes a block of words and calls one of numba's, which takes each by itself.

    Numba's first two arguments are where the answer goes, and where the error.
    """
    lines, words = [], []
    for at, word in enumerate(types[2:]):
        if word not in _LOADED_AS:
            raise ValueError(f"{native} takes a {word}")
        lines.append(f"  %p{at} = getelementptr i8, ptr %block, i64 {8 * at}")
        lines.append(f"  %a{at} = load {word}, ptr %p{at}, align {_LOADED_AS[word]}")
        words.append(f"{word} %a{at}")
    passed = ", ".join(["ptr %answer", "ptr %error", *words])
    return "\n".join(
        [
            f'declare i32 @"{native}"({", ".join(types)})',
            f"define i32 @{symbol}(ptr %block, ptr %answer) {{",
            "  %error = getelementptr i8, ptr %answer, i64 8",
            *lines,
            f'  %status = call i32 @"{native}"({passed})',
            "  ret i32 %status",
            "}",
        ]
    )


def _drop_unused(whole: Any, machine: Any) -> None:
    """Leave what the ways in reach: numba makes others, which Python's own calls go through."""
    for one in [*whole.functions, *whole.global_variables]:
        if not one.is_declaration and not re.fullmatch(r"rehaul_\d+", one.name):
            one.linkage = "internal"
    passes = llvm.create_new_module_pass_manager()
    passes.add_global_dead_code_eliminate_pass()
    passes.run(whole, llvm.create_pass_builder(machine, llvm.create_pipeline_tuning_options()))


def _outside(whole: Any) -> list[str]:
    """What is called that is not there."""
    named = [one.name for one in [*whole.functions, *whole.global_variables] if one.is_declaration]
    return sorted(name for name in named if not name.startswith("llvm."))
