"""Machine code that is ready: a package's loops in one object file, called without numba.

Numba takes half a second and 65 MB to load before it finds what it has kept. LLVM's own loader, which numba
too hands its code to in the end, needs a tenth of it. `linking` writes the file, `trial` sees whether it does
what numba does; where it is missing, or of another machine, numba is asked as ever.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import pickle
import sys
import threading
from ctypes import CFUNCTYPE, c_char_p, c_double, c_int32, c_int64, c_void_p, string_at
from functools import cache
from importlib.machinery import EXTENSION_SUFFIXES, ExtensionFileLoader
from pathlib import Path
from typing import Any

from rehaul.kernels.places import place_for

# What numba's code calls that is not in it, by the first letters of the names: who has the addresses.
HELPERS = {"NRT_": "numba.core.runtime._nrt_python", "numba_": "numba._helperlib"}
RETURNS = ("none", "int64", "bool", "float64")

_LOADING = threading.Lock()
_LOADED: dict[str, dict[str, dict[str, Entry]]] = {}
_ENGINES: list[Any] = []  # they own the code
_FUNCTION = CFUNCTYPE(c_int32, c_char_p, c_void_p)


class Entry:
    """One loop for one kind of arguments."""

    def __init__(self, address: int, returns: str) -> None:
        if returns not in RETURNS:
            raise ValueError(returns)
        self._call, self._returns = _FUNCTION(address), returns

    def __call__(self, block: bytes) -> Any:
        """Call it with words as `blocks` makes them, the interpreter's lock let go; what it returns."""
        answer = (c_int64 * 2)()  # the value, and where the error lies
        status = self._call(block, answer)
        if status:
            raise _error(status, answer[1])
        if self._returns == "none":
            return None
        if self._returns == "float64":
            return c_double.from_buffer(answer).value
        return answer[0] if self._returns == "int64" else bool(answer[0] & 1)


def entries_of(package: str) -> dict[str, dict[str, Entry]]:
    """What is ready of a package: entries by loop and by kind of arguments; none where nothing is.

    Loaded once in a process. **Source**: docs/decisions.md, "Compiled once".
    """
    with _LOADING:
        if package not in _LOADED:
            place = place_for(package) if package else None
            try:
                _LOADED[package] = load(place) if place and index_of(place).exists() else {}
            except (OSError, ValueError, KeyError, TypeError, AttributeError, ImportError, RuntimeError):
                _LOADED[package] = {}  # another machine's, not whole, or another numba's: numba knows
        return _LOADED[package]


def this_machine() -> list[str]:
    """What the machine code of one processor and system is told from another's by."""
    import llvmlite.binding as llvm

    features = llvm.get_host_cpu_features()
    return [llvm.get_process_triple(), llvm.get_host_cpu_name(), features.flatten()]


@cache
def tag() -> str:
    """This machine in twelve letters: in a folder that several share each has files of its own."""
    return hashlib.sha256("\n".join(this_machine()).encode()).hexdigest()[:12]


def code_of(place: Path) -> Path:
    """The object file for this machine in a folder."""
    return place / f"machine-{tag()}.o"


def index_of(place: Path) -> Path:
    """What is in the object file, by loop and by kind of arguments, and its digest."""
    return place / f"machine-{tag()}.json"


def load(place: Path) -> dict[str, dict[str, Entry]]:
    """Entries of the machine code in a folder.

    Raises
    ------
    ValueError : damaged, or it calls what is not there
    """
    import llvmlite.binding as llvm

    index = json.loads(index_of(place).read_text(encoding="utf-8"))
    code = code_of(place).read_bytes()
    if index["digest"] != hashlib.sha256(code).hexdigest():
        raise ValueError(str(place))
    engine = llvm.create_mcjit_compiler(llvm.parse_assembly(""), target_machine())
    for name in index["outside"]:  # LLVM ends the process where one is missing
        address = _helper(name)
        if address:
            llvm.add_symbol(name, address)
        elif not llvm.address_of_symbol(name):
            raise ValueError(name)
    engine.add_object_file(llvm.ObjectFileRef.from_data(code))
    engine.finalize_object()
    _ENGINES.append(engine)
    return {
        loop: {
            kind: Entry(engine.get_function_address(symbol), returns)
            for kind, (symbol, returns) in kinds.items()
        }
        for loop, kinds in index["loops"].items()
    }


def target_machine() -> Any:
    """This machine as LLVM sees it, for code that stays in the process."""
    import llvmlite.binding as llvm

    llvm.initialize_native_target()
    llvm.initialize_native_asmprinter()
    triple, cpu, features = this_machine()
    target = llvm.Target.from_triple(triple)
    return target.create_target_machine(
        cpu=cpu, features=features, opt=3, reloc="default", codemodel="jitdefault", jit=True
    )


def _helper(name: str) -> int | None:
    """The address of one of numba's own helpers, from the module that has it, which needs nothing else."""
    for start, home in HELPERS.items():
        if name.startswith(start):
            if home not in sys.modules and home not in _HOMES:
                _HOMES[home] = _extension(home)
            addresses: dict[str, int] = (sys.modules.get(home) or _HOMES[home]).c_helpers
            return addresses[name.removeprefix(start)]
    return None


_HOMES: dict[str, Any] = {}


def _extension(name: str) -> Any:
    """A module in C from within a package that is not imported for it."""
    top, *parts = name.split(".")
    package = importlib.util.find_spec(top)
    folders = package.submodule_search_locations if package else None
    for folder in folders or ():
        for suffix in EXTENSION_SUFFIXES:
            file = Path(folder, *parts[:-1], parts[-1] + suffix)
            if file.exists():
                loader = ExtensionFileLoader(parts[-1], str(file))
                spec = importlib.util.spec_from_loader(parts[-1], loader)
                assert spec is not None
                module = importlib.util.module_from_spec(spec)
                loader.exec_module(module)
                return module
    raise ImportError(name)


def _error(status: int, place: int) -> BaseException:
    """What a loop raised, as numba writes it down: address and length of a pickle of its class and words."""
    if status > 0 and place:
        address, length = c_int64.from_address(place).value, c_int32.from_address(place + 8).value
        kind, words, *_ = pickle.loads(string_at(address, length))
        error = kind(*(words or ()))
        if isinstance(error, BaseException):
            return error
    return RuntimeError(f"a compiled loop ended with {status}")
