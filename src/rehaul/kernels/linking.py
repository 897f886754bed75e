"""Compiled loops of a package put together as one object file, in a process without numba."""

from __future__ import annotations

import hashlib
import json
import pickle
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import llvmlite.binding as llvm

from rehaul.kernels.machine import code_of, index_of, target_machine

PARTS = "parts"  # file of them, one after the other
_BYTES = {"ptr": 8, "i64": 8, "double": 8, "float": 4, "i32": 4, "i8": 1}  # of what LLVM calls so


@dataclass(frozen=True)
class Part:
    """One loop for one kind of arguments."""

    loop: str
    kind: str
    native: str  # numba's name of it
    returns: str
    text: str  # of all that it is made of, for LLVM


def link(folder: str) -> None:
    """Make the object file and its index of the parts in a folder, for `trial`.

    Raises
    ------
    ValueError : a loop takes what has no place in a block of words, or the machine has the big end first

    **Source**: docs/decisions.md, "Compiled once".
    """
    if sys.byteorder != "little":
        raise ValueError("words are read as the little end comes first")
    place, machine = Path(folder), target_machine()
    whole, ways_in = llvm.parse_assembly(""), []
    loops: dict[str, dict[str, tuple[str, str]]] = {}
    for at, part in enumerate(_parts(place)):
        made = llvm.parse_assembly(part.text)
        symbol = f"rehaul_{at}"
        types = [str(one.type) for one in made.get_function(part.native).arguments]
        ways_in.append(_way_in(symbol, part.native, types))
        loops.setdefault(part.loop, {})[part.kind] = symbol, part.returns
        whole.link_in(made)
    whole.link_in(llvm.parse_assembly("\n".join(ways_in)))
    _drop_unused(whole, machine)
    code: bytes = machine.emit_object(whole)
    code_of(place).write_bytes(code)
    digest = hashlib.sha256(code).hexdigest()
    text = json.dumps({"digest": digest, "outside": _outside(whole), "loops": loops})
    index_of(place).write_text(text, encoding="utf-8")


def _parts(place: Path) -> Iterator[Part]:
    with (place / PARTS).open("rb") as file:
        while file.peek(1):
            yield pickle.load(file)


def _way_in(symbol: str, native: str, types: list[str]) -> str:
    """A function that takes a block of words and calls one of numba's, which takes each by itself.

    Numba's first two arguments are where the answer goes, and where the error.
    """
    lines, words = [], []
    for at, word in enumerate(types[2:]):
        if word not in _BYTES:
            raise ValueError(f"{native} takes a {word}")
        lines.append(f"  %p{at} = getelementptr i8, ptr %block, i64 {8 * at}")
        lines.append(f"  %a{at} = load {word}, ptr %p{at}, align {_BYTES[word]}")
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
